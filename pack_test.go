package tarry_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"tarry"
)

const emptyDesk = `<html><script type="application/json" id="lesson">null</script><script>ours()</script></html>`

func TestPack(t *testing.T) {
	out, err := tarry.Pack(tarry.LessonRequest{Page: []byte(emptyDesk), Predict: []string{"all"},
		Circuits: []tarry.Source{{Name: "dir/x.tarry", Text: []byte(hostile)}}})
	if err != nil {
		t.Fatal(err)
	}
	html := string(out.HTML)
	if strings.Count(html, "<script") != 2 || strings.Count(html, "</script>") != 2 {
		t.Errorf("the circuit's text made elements:\n%s", html)
	}
	_, rest, _ := strings.Cut(html, `id="lesson">`)
	data, _, _ := strings.Cut(rest, "</script>")
	var lesson struct {
		Format   string
		Circuits []struct {
			Name, Text string
			Predict    []string
			Script     int
		}
	}
	if err := json.Unmarshal([]byte(data), &lesson); err != nil {
		t.Fatal(err)
	}
	c := lesson.Circuits[0]
	if lesson.Format != "tarry lesson" || c.Name != "x" || c.Text != hostile || c.Script != 0 {
		t.Errorf("packed %+v", lesson)
	}
	if got := strings.Join(c.Predict, " "); got != "KT1.notc H1" {
		t.Errorf("to predict: %s", got)
	}
}

func TestPackRefuses(t *testing.T) {
	one := []tarry.Source{{Name: "x", Text: []byte(hostile)}}
	for _, r := range []tarry.LessonRequest{
		{Page: []byte(emptyDesk)},
		{Page: []byte("<html></html>"), Circuits: one},
		{Page: []byte(emptyDesk), Circuits: one, Predict: []string{"H9"}},
		{Page: []byte(emptyDesk), Circuits: one, Script: "no such"},
	} {
		if out, err := tarry.Pack(r); !errors.Is(err, tarry.ErrInput) || out.HTML != nil {
			t.Errorf("%v, %d bytes", err, len(out.HTML))
		}
	}
}
