package answer_test

import (
	"bytes"
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"tarry/answer"
)

// said writes answers as plain lines.
func said(list []answer.Answer) string {
	var b strings.Builder
	for _, a := range list {
		fmt.Fprintf(&b, "%s/%s:", a.Learner, a.Item)
		for _, l := range a.Lines {
			fmt.Fprintf(&b, " %s %v %v %v;", l.Signal, l.Start, l.At, l.Sure)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

func listed(list []answer.Problem) string {
	var b strings.Builder
	for _, p := range list {
		fmt.Fprintln(&b, p)
	}
	return b.String()
}

func compare(t *testing.T, what, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("%s:\n%s\nwant\n%s", what, got, want)
	}
}

func TestTypedAnswers(t *testing.T) {
	list, problems := answer.ReadText(strings.NewReader("\ufeff# Training Bay 7\r\n"+`learner Ada Miller
item 3
H1 on 5 s .. 12 s, 15 s .. end  certain
KT1.notc closed 0 s .. 300 ms
H2 never
H3 always guess
K1.nc open 5 .. 1 min 10 s
K2 on 1 s .. 2 s, 2 s .. 3 s
H4 | __## ##__ |
square 500 ms
H4 | __## ##__ |
H5|#_
learner Ben
H1 on 7 s .. 5 s
H1 on 7 s
H1 on 1 s .. 4 s, 3 s .. 5 s
H1 on 1 s .. end, 30 s .. 31 s
H1 lit 3 s .. 4 s
H1
H1 never 5 s
H1 on -5 s .. 3 s
H1 | __o
H1 on 1 s .. 2 s
H1 never
H6 on 7,5 s .. 12 s
`), answer.Form{})
	compare(t, "answers", said(list), `Ada Miller/3: H1 false [5s 12s 15s] certain; KT1.notc true [300ms] ; H2 false [] ; H3 true [] guess; K1.nc true [5s 1m10s] ; K2 false [1s 3s] ; H4 false [1s 3s] ; H5 true [500ms] ;
Ben/3: H1 false [1s 2s] ;
`)
	compare(t, "problems", listed(problems), `line 10: How wide is a square? Write it on a line above: square 1 s.
line 15, column 7: The stretch “7 s .. 5 s” ends before it has begun. Write the earlier time first.
line 16, column 7: “7 s” is no stretch of time. Write it like: 5 s .. 12 s.
line 17, column 19: The stretch “3 s .. 5 s” begins before the last one ends. Write them in order.
line 18, column 19: The stretch “30 s .. 31 s” begins before the last one ends. Write them in order.
line 19, column 4: “lit” is not understood. Write it like: H1 on 5 s .. 12 s, or H1 never.
line 20: Nothing is said of the signal. Write it like: H1 on 5 s .. 12 s, or H1 never.
line 21, column 10: “5 s” behind never is not understood. Write it like: H1 on 5 s .. 12 s, or H1 never.
line 22, column 7: “-5 s ”: a time cannot be negative.
line 23, column 8: “o” is no square. Write # for on and _ for off.
line 25: This is a second answer for “H1” by “Ben” in item “3”; the one of line 24 stays. Take one of them out.
line 26, column 7: Digits behind the decimal point are written with a point: “7.5”.
`)
}

func TestTables(t *testing.T) {
	list, problems := answer.ReadCSV(strings.NewReader(`Item,Learner,answer,signal,sure,again,remark
1,Ada,on 5 s .. 12 s,H1,certain,,"well, perhaps"
1,Ada,H2 never,H2,,,"a remark
over two lines"
1,Ben,"on 5 s .. 12 s, 15 s .. end",H1,,,
1,Ada,never,H1,,,
1,Ben,never,H1,,yes,
2,'=Cy,"closed 1 s .. 2 s",KT1.notc,surely,,
2,Di,gone,H1,,,

2,Di
2,Di,never,H1,,,"not closed
2,Ed,always,H1,,,
`))
	compare(t, "answers", said(list), `Ada/1: H1 false [5s 12s] certain; H2 false [] ;
Ben/1: H1 false [] ;
=Cy/2: KT1.notc false [1s 2s] ;
Ed/2: H1 true [] ;
`)
	compare(t, "problems", listed(problems), `line 1: The column “remark” is not known and was left out.
line 6: This is a second answer for “H1” by “Ada” in item “1”; the one of line 2 stays. Take one of them out.
line 8: “surely” is not understood under sure: write guess, fairly or certain.
line 9: “gone” is not understood. Write it like: H1 on 5 s .. 12 s, or H1 never.
line 11: The row has 2 cells, too few for an answer. Is the separator the same as in the first row?
line 12: A quoted cell is not closed. Put a second " behind it.
`)
	list, problems = answer.ReadCSV(strings.NewReader("learner;item;signal;answer\nAda;1;H1;on 5 s .. 6 s, 7 s .. 8 s\n"))
	compare(t, "semicolons", said(list)+listed(problems), "Ada/1: H1 false [5s 6s 7s 8s] ;\n")
	_, problems = answer.ReadCSV(strings.NewReader("Ada,1,H1,never\n"))
	if n := len(problems); !strings.Contains(problems[n-1].Reason, "The first row must name the columns") {
		t.Error(problems)
	}
	if _, problems = answer.ReadCSV(strings.NewReader("")); len(problems) != 1 {
		t.Error(problems)
	}
}

// fromTheDesk is a file as the desk writes it.
const fromTheDesk = `{
	"format": "tarry predictions",
	"version": 1,
	"circuit": "Sizer ready lamp",
	"text": "S1 switch\n",
	"script": "One long turn",
	"learner": "Ada",
	"tolerance": "0.5",
	"rows": [
		{"row": "H1", "start": false, "edges": ["7", "12.25"], "sure": "certain", "right": true, "firstWrong": null},
		{"row": "KT1", "start": true, "edges": ["5", "4"], "sure": "", "right": false, "firstWrong": "2"}
	],
	"at": "2026-03-01T10:00:00.000Z",
	"earlier": [
		{"circuit": "Sizer ready lamp", "text": "", "script": "A short turn", "learner": "Ada", "tolerance": "0", "rows": [
			{"row": "H1", "start": false, "edges": [], "sure": "guess", "right": true, "firstWrong": null}], "at": ""},
		{"circuit": 7},
		{"circuit": "Sizer ready lamp", "script": "A short turn", "learner": "Ada", "rows": []},
		{"circuit": "Fan", "learner": "Ben", "rows": [7, {"row": "H1", "edges": "5"}, {"row": "H1", "edges": ["-1"]}, {"row": "", "edges": []}, {"row": "H2", "edges": ["1"]}]}
	]
}`

func TestPredictionsOfTheDesk(t *testing.T) {
	list, problems := answer.ReadPredictions(strings.NewReader(fromTheDesk))
	compare(t, "answers", said(list), `Ada/Sizer ready lamp, A short turn: H1 false [] guess;
Ben/Fan: H2 false [1s] ;
Ada/Sizer ready lamp, One long turn: H1 false [7s 12.25s] certain;
`)
	compare(t, "problems", listed(problems), `Prediction 2 is damaged and was left out.
Prediction 3 is a second one by “Ada” in item “Sizer ready lamp, A short turn”; the first stays.
Prediction 4: its row 1 is damaged and was left out.
Prediction 4: its row 2 is damaged and was left out.
Prediction 4, row “H1”: “-1” is no time in seconds, and the row was left out.
Prediction 4, row “”: it names no signal, and was left out.
Prediction 5, row “KT1”: the edge at “4” s is not behind the one before it, and the row was left out.
`)
	if len(list) == 3 && (list[2].Text != "S1 switch\n" || list[2].Script != "One long turn" || list[2].Circuit != "Sizer ready lamp") {
		t.Errorf("%+v", list[2])
	}
	for text, want := range map[string]string{
		strings.Replace(fromTheDesk, `"version": 1`, `"version": 2`, 1):   "version “2”",
		strings.Replace(fromTheDesk, `"version": 1`, `"version": 1.5`, 1): "version “1.5”",
		strings.Replace(fromTheDesk, "predictions", "cakes", 1):           "no file of predictions",
		fromTheDesk[:300]:            "no file of predictions",
		"":                           "no file of predictions",
		strings.Repeat("[", 100_000): "no file of predictions",
	} {
		list, problems := answer.ReadPredictions(strings.NewReader(text))
		if len(list) > 0 || len(problems) != 1 || !strings.Contains(problems[0].Reason, want) {
			t.Errorf("%d bytes: %v %v", len(text), said(list), problems)
		}
	}
}

// endless gives out a text over and over.
type endless struct {
	text string
	at   int
}

func (e *endless) Read(p []byte) (int, error) {
	n := copy(p, e.text[e.at:])
	e.at = (e.at + n) % len(e.text)
	return n, nil
}

// A hundred megabytes of anything take little memory, and what was good stays.
func TestNonsenseOfAnySize(t *testing.T) {
	readers := map[string]func(io.Reader) ([]answer.Answer, []answer.Problem){
		"csv": answer.ReadCSV,
		"text": func(r io.Reader) ([]answer.Answer, []answer.Problem) {
			return answer.ReadText(r, answer.Form{Square: s})
		},
		"predictions": answer.ReadPredictions,
	}
	head := map[string]string{"csv": "learner,item,signal,answer\nAda,1,H1,never\n", "text": "learner Ada\nH1 never\n"}
	for name, read := range readers {
		for what, text := range map[string]string{
			"one line":  "x",
			"quotes":    "\"a,b\n",
			"lines":     "nonsense, of \"all\" kinds\n",
			"zeros":     "\x00",
			"good rows": "Ada,1,H1,never\nH1 never\n",
			"edges":     "Ada,1,H1,on 1 s .. 2 s\nH1 | #_#_#_#_#_#_#_\n",
			"brackets":  "[{\"",
		} {
			var before, after runtime.MemStats
			runtime.GC()
			runtime.ReadMemStats(&before)
			list, problems := read(io.MultiReader(strings.NewReader(head[name]), io.LimitReader(&endless{text: text}, 4<<20)))
			runtime.GC()
			runtime.ReadMemStats(&after)
			if kept := int64(after.HeapAlloc) - int64(before.HeapAlloc); kept > 4<<20 {
				t.Errorf("%s of %s: %d MiB are kept", name, what, kept>>20)
			}
			if len(problems) == 0 || len(problems) > 101 || head[name] != "" && (len(list) == 0 || list[0].Learner != "Ada") {
				t.Errorf("%s of %s: %d problems, %d answers", name, what, len(problems), len(list))
			}
			runtime.KeepAlive(list)
		}
	}
}

// A line without an end is not read for ever, and what stood before it is kept; a
// long one with an end is left out, and reading goes on.
func TestEndlessLine(t *testing.T) {
	head := "learner,item,signal,answer\nAda,1,H1,never\n"
	long := head + strings.Repeat("x", 500_000) + "\nBen,1,H1,never\n"
	list, problems := answer.ReadCSV(io.MultiReader(strings.NewReader(long), &endless{text: "\x00"}))
	compare(t, "answers", said(list), "Ada/1: H1 false [] ;\nBen/1: H1 false [] ;\n")
	compare(t, "problems", listed(problems), `line 3: The line is longer than 65536 bytes and was left out. Is this the right file?
line 5: The line is longer than 1048576 bytes; nothing from here on was read. Is this the right file?
`)
}

// Nor is a file without an end.
func TestEndlessFile(t *testing.T) {
	text := strings.Repeat("#"+strings.Repeat(" remark", 8000)+"\n", 20)
	list, problems := answer.ReadText(io.MultiReader(strings.NewReader("learner Ada\nH1 never\n"), &endless{text: text}), answer.Form{})
	if len(list) != 1 || len(problems) != 1 || !strings.Contains(problems[0].Reason, "larger than 256 MiB; nothing from here on was read") {
		t.Errorf("%s%s", said(list), listed(problems))
	}
}

// Each line knows where it stood, and so does its answer.
func TestNumbers(t *testing.T) {
	list, _ := answer.ReadCSV(strings.NewReader("learner,item,signal,answer,again\n\nAda,1,H1,never,\nBen,1,H1,never,\nAda,1,H2,never,\nAda,1,h1,always,yes\n"))
	a := list[0]
	if len(list) != 2 || len(a.Lines) != 2 || a.Lines[0].Number != 6 || !a.Lines[0].Start || a.Lines[1].Number != 5 || a.Number() != 5 || list[1].Number() != 4 {
		t.Errorf("%+v", list)
	}
	list, _ = answer.ReadText(strings.NewReader("learner Ada\nH1 never\n"), answer.Form{})
	if list[0].Number() != 2 {
		t.Errorf("%+v", list)
	}
	list, _ = answer.ReadPredictions(strings.NewReader(fromTheDesk))
	if list[0].Number() != 0 {
		t.Errorf("%+v", list)
	}
}

// Among names a row without one is nobody's; without any name all are one person's.
func TestRowsWithoutName(t *testing.T) {
	list, problems := answer.ReadCSV(strings.NewReader("learner,item,signal,answer\n,1,H1,never\nAda,1,H1,never\n,1,H1,always\nBen,1,H2,gone\n,1,H2,never\n"))
	compare(t, "answers", said(list), "Ada/1: H1 false [] ;\n")
	without := "The row has no learner's name and was not marked. Write the name under learner.\n"
	compare(t, "problems", listed(problems), "line 2: "+without+"line 4: "+without+
		"line 5: “gone” is not understood. Write it like: H1 on 5 s .. 12 s, or H1 never.\nline 6: "+without)
	list, problems = answer.ReadCSV(strings.NewReader("learner,item,signal,answer\n,1,H1,never\n,1,H1,always\n,1,H2,never\n"))
	compare(t, "one person", said(list)+listed(problems), "/1: H1 false [] ; H2 false [] ;\n"+
		"line 3: This is a second answer for “H1” in item “1”; the one of line 2 stays. Take one of them out.\n")
	list, problems = answer.ReadText(strings.NewReader("H1 never\nlearner Ada\nH1 never\n"), answer.Form{})
	compare(t, "typed", said(list)+listed(problems), "Ada/: H1 false [] ;\n"+
		"line 1: No learner is named for this line, and it was not marked. Write learner and the name on a line above.\n")
}

// A table with more rows than anybody has answers is cut off, once.
func TestTooManyRows(t *testing.T) {
	var b bytes.Buffer
	b.WriteString("learner,item,signal,answer\n")
	for i := range 100_100 {
		fmt.Fprintf(&b, "%d,1,H1,never\n", i)
	}
	list, problems := answer.ReadCSV(&b)
	if len(list) != 100_000 || len(problems) != 1 || problems[0].Line != 100_002 {
		t.Errorf("%d answers, %v", len(list), problems)
	}
}

// What can't be read further is said.
func TestBrokenReader(t *testing.T) {
	broken := io.MultiReader(strings.NewReader("H1 never\nH2 nev"), iotestErr{})
	list, problems := answer.ReadText(broken, answer.Form{})
	if len(list) != 1 || !strings.Contains(listed(problems), "could not be read further: the stick was pulled out.") {
		t.Errorf("%v\n%s", said(list), listed(problems))
	}
}

type iotestErr struct{}

func (iotestErr) Read([]byte) (int, error) { return 0, fmt.Errorf("the stick was pulled out") }

// No text makes a reader panic, lines rise, and what is kept can be marked.
func TestAnyText(t *testing.T) {
	piece := rapid.SampledFrom([]string{"H1", "KT1.notc", " ", " on ", "closed", "never", "5 s", "..", "end", ",", "\n", "\"", ";", "|", "#", "_",
		"learner", "item", "signal", "answer", "square 1 s\n", "certain", "é", "\x00", "9999999999 h", "learner,item,signal,answer\n", "'=", "\t"})
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(piece, 0, 60).Draw(t, "pieces"), "")
		a, _ := answer.ReadText(strings.NewReader(text), answer.Form{})
		b, _ := answer.ReadCSV(strings.NewReader("learner,item,signal,answer\n" + text))
		c, _ := answer.ReadPredictions(strings.NewReader(text))
		for _, one := range append(append(a, b...), c...) {
			for _, l := range one.Lines {
				last := time.Duration(0)
				for _, at := range l.At {
					if at <= last {
						t.Fatalf("%v in %q", l, text)
					}
					last = at
				}
			}
		}
	})
}
