package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"tarry"
)

// ask does a call as the page does and reads the answer.
func ask(t *testing.T, d *tarry.Desk, name string, request any, reply any) {
	t.Helper()
	text, err := json.Marshal(request)
	if err != nil {
		t.Fatal(err)
	}
	got := answer(d, name, text)
	if bytes.Contains(got, []byte(`{"error":`)) {
		t.Fatalf("%s: %s", name, got)
	}
	if reply != nil {
		if err := json.Unmarshal(got, reply); err != nil {
			t.Fatalf("%s: %v\n%s", name, err, got)
		}
	}
}

func opened(t *testing.T, number int) (*tarry.Desk, tarry.DeskOpened) {
	t.Helper()
	e, err := tarry.LibraryFind(fmt.Sprint(number))
	if err != nil {
		t.Fatal(err)
	}
	d := tarry.NewDesk()
	var out tarry.DeskOpened
	ask(t, d, "open", opening{Name: e.Name, Text: string(e.Text)}, &out)
	return d, out
}

// TestLibraryOnTheDesk plays every script of the library in a session, in
// uneven pieces, and holds its record against the whole run.
func TestLibraryOnTheDesk(t *testing.T) {
	list, err := tarry.Library()
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range list {
		d, out := opened(t, e.Number)
		for i, s := range out.Sheet.Scripts {
			var f tarry.DeskFrame
			ask(t, d, "start", scripting{i}, &f)
			for f.Now < s.End && f.Ended == "" {
				ask(t, d, "move", moving{min(f.Now+s.End/7+1, s.End)}, &f)
			}
			var run tarry.DeskRun
			ask(t, d, "run", scripting{i}, &run)
			var record tarry.DeskFile
			ask(t, d, "record", formed{"csv"}, &record)
			if got, want := unnamed(string(record.Data)), unnamed(run.CSV); got != want {
				t.Errorf("%s, script %q: the session's record is not the script's run\ngot\n%s\nwant\n%s", e.Name, s.Name, got, want)
			}
		}
	}
}

// unnamed takes the script's name off each line of a table.
func unnamed(csv string) string {
	var b strings.Builder
	for _, line := range strings.Split(csv, "\n") {
		if i := strings.LastIndex(line, `",`); i >= 0 {
			line = line[i+1:]
		} else if _, rest, ok := strings.Cut(line, ","); ok {
			line = "," + rest
		}
		b.WriteString(line + "\n")
	}
	return b.String()
}

func TestHandsOnTheDesk(t *testing.T) {
	d, out := opened(t, 8)
	s1 := -1
	for i, dev := range out.Sheet.Devices {
		if dev.Tag == "S1" {
			s1 = i
		}
	}
	var f tarry.DeskFrame
	act := func(at int, verb string) {
		ask(t, d, "act", acting{At: time.Duration(at) * time.Second, Actions: []tarry.DeskAction{{Verb: verb, Device: s1}}}, &f)
	}
	act(1, "press")
	if !strings.Contains(f.Happened[len(f.Happened)-1].Sentences[0], "S1 (Start) is pressed") || len(f.Log) != 1 || f.Hands[s1] != 1 {
		t.Errorf("pressed: %+v", f)
	}
	act(2, "release")
	ask(t, d, "move", moving{6e9}, &f)
	if f.Now != 6e9 || len(f.Marks) == 0 {
		t.Errorf("at 6 s: %+v", f)
	}
	f = tarry.DeskFrame{}
	ask(t, d, "move", moving{6.2e9}, &f)
	if len(f.Marks) != 0 || len(f.Happened) != 0 {
		t.Errorf("nothing happens between 6 and 6.2 s, but the frame says %v", f.Happened)
	}
	ask(t, d, "move", moving{3e9}, &f)
	if f.Now != 3e9 || f.Known != 6.2e9 || f.Next != 5e9 || f.Back != 2e9 {
		t.Errorf("back at 3 s: now %v known %v next %v back %v", f.Now, f.Known, f.Next, f.Back)
	}
	var rec tarry.DeskScripted
	ask(t, d, "recording", named{"Mine"}, &rec)
	if !strings.Contains(rec.Script, `script "Mine"`) || !strings.Contains(rec.Script, "press S1 for 1 s") {
		t.Errorf("recorded:\n%s", rec.Script)
	}
}
