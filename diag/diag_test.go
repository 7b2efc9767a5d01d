package diag

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// at returns the range of the first word in text.
func at(text, word string) Range {
	i := strings.Index(text, word)
	return Range{i, i + len(word)}
}

func TestShow(t *testing.T) {
	for _, c := range []struct {
		name, text, mark, want string
	}{
		{"plain", "H1 lamp\n1: K7.no -> H1\n", "K7", `
x.tarry:2:4: error some-code: nothing is called K7
    1: K7.no -> H1
       ^~
`},
		{"tab before", "\tK7\t# why\n", "K7", `
x.tarry:1:2: error some-code: nothing is called K7
        K7  # why
        ^~
`},
		{"tab inside", "a\tb c", "a\tb", `
x.tarry:1:1: error some-code: nothing is called K7
    a   b c
    ^~~~~
`},
		{"crlf", "one\r\nK7\r\n", "K7", `
x.tarry:2:1: error some-code: nothing is called K7
    K7
    ^~
`},
		{"wide runes", "say \"时间\" K7", "K7", `
x.tarry:1:10: error some-code: nothing is called K7
    say "时间" K7
               ^~
`},
		{"combining mark", "e\u0301 K7", "K7", `
x.tarry:1:4: error some-code: nothing is called K7
    ` + "e\u0301" + ` K7
      ^~
`},
		{"order mark", "\ufeffK7", "K7", `
x.tarry:1:1: error some-code: nothing is called K7
    K7
    ^~
`},
		{"control", "a\x00b K7", "K7", `
x.tarry:1:5: error some-code: nothing is called K7
    a` + "\ufffd" + `b K7
        ^~
`},
		{"end of text", "K7", "", `
x.tarry:1:1: error some-code: nothing is called K7
    K7
    ^
`},
		{"long line", strings.Repeat("a", 100) + "K7" + strings.Repeat("b", 100), "K7", `
x.tarry:1:101: error some-code: nothing is called K7
    …` + strings.Repeat("a", 60) + "K7" + strings.Repeat("b", 12) + `…
     ` + strings.Repeat(" ", 60) + `^~
`},
	} {
		d := Diagnostic{Code: "some-code", Summary: "nothing is called K7", At: at(c.text, c.mark)}
		if got := "\n" + Show("x.tarry", []byte(c.text), []Diagnostic{d}); got != c.want {
			t.Errorf("%s: got%s\nwant%s", c.name, got, c.want)
		}
	}
}

func TestShowAll(t *testing.T) {
	text := "K1 relay\nK1 lamp\n"
	d := Diagnostic{Code: "duplicate-tag", Grade: Warning, Summary: "K1 is there already", At: Range{9, 11}}
	d.Explain("Every device has a tag of its own, and this sentence goes on until it must be folded at %s.", "some place").
		Also(Range{0, 2}, "K1").Offer(Range{9, 11}, "K2", "did you mean K2?")
	want := `x.tarry:2:1: warning duplicate-tag: K1 is there already
    K1 lamp
    ^~
    Every device has a tag of its own, and this sentence goes on until it must
    be folded at some place.
    line 1: K1
    fix: did you mean K2?
`
	if got := Show("x.tarry", []byte(text), []Diagnostic{d}); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	many := make([]Diagnostic, 23)
	if got := Show("x", nil, many); !strings.HasSuffix(got, "and 3 more\n") || strings.Count(got, "\n") != 3*20+1 {
		t.Errorf("23 diagnostics are shown as\n%s", got)
	}
}

func TestPositions(t *testing.T) {
	text := "ab\r\n\u00e9\U0001f514x\n"
	lines := NewLines(text)
	for _, c := range []struct {
		offset       int
		runes, utf16 Position
	}{
		{0, Position{1, 1}, Position{1, 1}},
		{2, Position{1, 3}, Position{1, 3}},
		{4, Position{2, 1}, Position{2, 1}},
		{strings.Index(text, "x"), Position{2, 3}, Position{2, 4}},
		{len(text), Position{3, 1}, Position{3, 1}},
		{len(text) + 9, Position{3, 1}, Position{3, 1}},
		{-1, Position{1, 1}, Position{1, 1}},
	} {
		if got := lines.Position(c.offset); got != c.runes {
			t.Errorf("Position(%d) = %v, want %v", c.offset, got, c.runes)
		}
		if got := lines.UTF16(c.offset); got != c.utf16 {
			t.Errorf("UTF16(%d) = %v, want %v", c.offset, got, c.utf16)
		}
	}
}

// TestShowAnything shows diagnostics at any place of any text.
func TestShowAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SliceOf(rapid.Byte()).Draw(t, "text")
		d := Diagnostic{At: Range{rapid.IntRange(-1, 300).Draw(t, "start"), rapid.IntRange(-1, 300).Draw(t, "end")}}
		if !strings.Contains(Show("x", text, []Diagnostic{d}), "^") {
			t.Fatal("no mark")
		}
	})
}

func TestTidy(t *testing.T) {
	ds := []Diagnostic{
		{Code: "late", At: Range{9, 12}},
		{Code: "cause", At: Range{3, 5}},
		{Code: "follow-on", At: Range{3, 5}},
		{Code: "tight", At: Range{3, 4}},
		{Code: "mild", Grade: Notice, At: Range{1, 2}},
		{Code: "grave", At: Range{1, 2}},
	}
	var codes []string
	for _, d := range Tidy(ds) {
		codes = append(codes, d.Code)
	}
	if want := []string{"grave", "tight", "cause", "late"}; !reflect.DeepEqual(codes, want) {
		t.Errorf("got %v, want %v", codes, want)
	}
	if ds[0].Code != "late" || Tidy(nil) != nil {
		t.Error("Tidy touched its argument")
	}
}

func TestNearest(t *testing.T) {
	words := []string{"relay", "release", "K1", "K12", "on-delay", "off-delay"}
	for word, want := range map[string]string{
		"realy": "relay", "RELAY": "relay", "K7": "K1", "K": "", "on-deley": "on-delay", "of-delay": "off-delay",
		"wombat": "", "": "", "relase": "release", "ondelay": "on-delay", strings.Repeat("x", 500): "",
	} {
		if got := Nearest(word, words); got != want {
			t.Errorf("Nearest(%q) = %q, want %q", word, got, want)
		}
	}
}

// TestDistance holds the distance to what a distance is.
func TestDistance(t *testing.T) {
	word := rapid.StringMatching(`[abc]{0,6}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		d := distance(a, b, 9)
		if d != distance(b, a, 9) || (d == 0) != (a == b) || d > max(len(a), len(b)) {
			t.Fatalf("distance(%q, %q) = %d", a, b, d)
		}
		if e := distance(a, a+"x", 9); e != 1 {
			t.Fatalf("distance(%q, %q) = %d", a, a+"x", e)
		}
	})
}

func TestJSON(t *testing.T) {
	d := Diagnostic{Code: "c", Grade: Warning, Summary: "s", At: Range{1, 2}, Within: Range{0, 3}}
	text, err := json.Marshal(d)
	want := `{"code":"c","grade":"warning","summary":"s","at":{"start":1,"end":2},"within":{"start":0,"end":3}}`
	if err != nil || string(text) != want {
		t.Errorf("got %s, %v", text, err)
	}
	var back Diagnostic
	if err := json.Unmarshal(text, &back); err != nil || !reflect.DeepEqual(back, d) {
		t.Errorf("came back as %+v, %v", back, err)
	}
	if json.Unmarshal([]byte(`{"grade":"fatal"}`), &back) == nil {
		t.Error("a grade that is none was read")
	}
}

func TestNilBuilds(t *testing.T) {
	var d *Diagnostic
	if d.Explain("x").Also(Range{}, "x").Offer(Range{}, "", "") != nil {
		t.Error("a nil diagnostic turned into one")
	}
	if HasErrors([]Diagnostic{{Grade: Notice}}) || !HasErrors([]Diagnostic{{Grade: Notice}, {}}) {
		t.Error("HasErrors")
	}
}

func TestManual(t *testing.T) {
	got := Manual("tarry", []Entry{{Code: "a-b", Grade: Notice, Explanation: "Why.", Example: "x\n"}, {Code: "c"}})
	for _, part := range []string{"\n## a-b\n\n*notice*\n\nWhy.\n\n```tarry\nx\n```\n\n## c\n\n*error*\n"} {
		if !strings.Contains(got, part) {
			t.Errorf("the manual lacks %q:\n%s", part, got)
		}
	}
}
