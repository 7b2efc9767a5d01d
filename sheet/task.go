package sheet

import (
	"fmt"
	"slices"
	"strings"

	"tarry/chart"
	"tarry/circuit"
	"tarry/page"
	"tarry/trace"
)

// The paper of exercises: for each task a sheet with what is asked, the drawing,
// and the chart to draw on; and keys, as many to a sheet as it holds.

// Task is an exercise on paper: one script of a circuit, and what is asked of it.
type Task struct {
	// Name is the sheet's, "Exercise 3"; About stands below it.
	Name, About string
	// Number and Variant stand in the title block.
	Number, Variant string
	// Words say what to do, a paragraph each.
	Words []string
	Trace *trace.Trace
	// Chart says which rows are shown and which of them are blank.
	Chart chart.Options
}

// TaskKey is the right answer to a task.
type TaskKey struct {
	Name  string
	Words string
	Trace *trace.Trace
	Chart chart.Options
}

// Tasks makes the sheets of tasks, a part for each, and a last part with the
// keys. The title stands on the keys; opt.Parts and opt.Scripts mean nothing here.
// The only errors are rows in a chart's options that its trace has none for.
func Tasks(title string, tasks []Task, keys []TaskKey, opt Options) ([]Part, error) {
	var set []Part
	for _, t := range tasks {
		opt.Exercise, opt.Variant = t.Number, t.Variant
		if plant := plantAnswers(t.Trace.Circuit); plant != "" {
			t.Words = append(slices.Clone(t.Words), plant)
		}
		s, err := newSetter(t.Trace.Circuit, []*trace.Trace{t.Trace}, opt)
		if err != nil {
			return nil, err
		}
		pages, err := s.taskPages(t)
		if err != nil {
			return nil, err
		}
		set = append(set, Part{Name: "task", Title: t.Name, Pages: pages})
	}
	opt.Exercise = ""
	pages, err := taskKeyPages(title, keys, opt)
	if err != nil {
		return nil, err
	}
	set = append(set, Part{Name: "key", Title: "Key", Pages: pages})
	numberAll(set)
	return set, nil
}

// leastTask is the size in percent below which a task's drawing and chart get
// sheets of their own: the smallest words are then about 1.6 mm high.
const leastTask = 70

// taskPages lays a task out on one upright sheet if all of it can be read there,
// else the drawing on its own sheets and the chart with the words on more.
func (s *setter) taskPages(t Task) ([]*page.Page, error) {
	t.Chart.Bare, t.Chart.NoLegend = true, true
	if _, err := chart.Draw(t.Trace, t.Chart); err != nil {
		return nil, err
	}
	if p := s.taskSheet(t); p != nil {
		return []*page.Page{p}, nil
	}
	var pages []*page.Page
	for _, p := range s.drawingPagesOf(t.Name) {
		p.Title = s.circuit.Title + ": " + t.Name
		pages = append(pages, p)
	}
	return append(pages, s.chartsOf(t.Trace, look{name: t.Name, about: t.About, audience: forLearner}, note{"To do", t.Words}, t.Chart)...), nil
}

// taskSheet is the task on one sheet, nil if something on it would be too small.
func (s *setter) taskSheet(t Task) *page.Page {
	f := s.newSheet(look{name: t.Name, about: t.About, audience: forLearner, assumptions: true, cautions: true})
	at := f.room.Min
	for _, words := range t.Words {
		at = f.lines(at, page.Fold(words, bodySize, false, f.room.Width(), 0), bodySize, false, "task")
		at.Y += 80
	}
	f.room.Min.Y = at.Y + 200
	drawing, blank, percent, k := s.shared(f.room, t)
	if k < leastTask {
		return nil
	}
	room, box := f.room, drawing.Ink()
	f.placeDrawing(drawing, page.Point{
		X: room.Min.X + (room.Width()-box.Width()*k/100)/2 - box.Min.X*k/100,
		Y: room.Min.Y - box.Min.Y*k/100,
	}, int(k))
	under := room.Min.Y + box.Height()*k/100 + air
	f.place(blank, page.Point{X: f.room.Min.X, Y: max(under, min(under+air, f.room.Max.Y-blank.Height*percent/100))}, int(percent))
	f.page.Description += " " + strings.Join(t.Words, " ") + " " + drawing.Description + " " + blank.Description
	return f.page
}

// shared shares a room between the drawing and the chart below it, and returns both
// with their sizes in percent. The drawing is in one piece, unless more pieces
// make it, or the chart with it, a good deal larger.
func (s *setter) shared(room page.Box, t Task) (drawing, blank *page.Page, percent, k page.Unit) {
	charts := chartsIn(room, t)
	for _, p := range s.arrangements() {
		chart, size, fits := beside(room, p, charts)
		if fits >= k && fits*size*100 >= k*percent*worthPieces {
			drawing, blank, percent, k = p, chart, size, fits
		}
		if k >= 100 {
			break
		}
	}
	return drawing, blank, percent, k
}

// sizedChart is a chart and the size in percent at which it is as wide as its room.
type sizedChart struct {
	page    *page.Page
	percent page.Unit
}

// chartsIn draws the chart over the whole width of a room, the largest first.
func chartsIn(room page.Box, t Task) []sizedChart {
	var list []sizedChart
	for percent := page.Unit(100); percent >= leastTask; percent -= 4 {
		t.Chart.Width = room.Width() * 100 / percent
		p, err := chart.Draw(t.Trace, t.Chart)
		if err != nil {
			panic(err) // the rows have been drawn before
		}
		list = append(list, sizedChart{p, percent})
	}
	return list
}

// beside picks the largest chart that leaves room for the drawing at a good size,
// or the chart that leaves the most. It returns the sizes of both in percent.
func beside(room page.Box, drawing *page.Page, charts []sizedChart) (best *page.Page, percent, k page.Unit) {
	for _, c := range charts {
		height := room.Height() - c.page.Height*c.percent/100 - air
		if fits := page.Unit(min(fitting([]*page.Page{drawing}, room.Width(), height), 100)); fits > k {
			best, percent, k = c.page, c.percent, fits
		}
		if k >= leastPercent {
			break
		}
	}
	return best, percent, k
}

// keyChart is the size in percent at which the charts of keys are drawn.
const keyChart = 75

// taskKeyPages puts keys below each other, and goes on over as many sheets as
// they take.
func taskKeyPages(title string, keys []TaskKey, opt Options) ([]*page.Page, error) {
	s := &setter{circuit: &circuit.Circuit{Title: title}, opt: opt}
	if len(keys) > 0 && !slices.ContainsFunc(keys, func(k TaskKey) bool { return k.Trace.Circuit.Station != keys[0].Trace.Circuit.Station }) {
		s.circuit.Station = keys[0].Trace.Circuit.Station
	}
	var pages []*page.Page
	var f *frame
	for _, k := range keys {
		k.Chart.Bare, k.Chart.NoLegend = true, true
		if _, err := chart.Draw(k.Trace, k.Chart); err != nil {
			return nil, err
		}
		for {
			if f == nil {
				f = s.newSheet(look{name: "Key", about: fmt.Sprintf("%s, to be kept by the instructor", title), audience: forKey})
				pages = append(pages, f.page)
				f.key(k, true)
				break
			}
			if f.key(k, false) {
				break
			}
			f = nil
		}
	}
	return pages, nil
}

// key puts a key at the top of what room is left; false, with nothing drawn, if
// it is too high for it. On an empty sheet it is made small enough.
func (f *frame) key(k TaskKey, empty bool) bool {
	words := page.Fold(k.Words, bodySize, false, f.room.Width(), 0)
	head := lineOf(bodySize)*page.Unit(1+len(words)) + 250
	percent := page.Unit(keyChart)
	k.Chart.Width = f.room.Width() * 100 / percent
	drawn, err := chart.Draw(k.Trace, k.Chart)
	if err != nil {
		panic(err) // it has been drawn before
	}
	if left := f.room.Height() - head; drawn.Height*percent/100 > left {
		if !empty {
			return false
		}
		percent = max(left*100/drawn.Height, 1)
	}
	at := f.lines(f.room.Min, []string{page.Fit(k.Name, bodySize, true, f.room.Width())}, bodySize, true, "key-name")
	at = f.lines(at, words, bodySize, false, "key-words")
	f.place(drawn, page.Point{X: f.room.Min.X, Y: at.Y + 100}, int(percent))
	f.page.Description += " " + k.Name + ". " + k.Words
	f.room.Min.Y = at.Y + 100 + drawn.Height*percent/100 + air
	return true
}
