package schematic_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"tarry/circuit"
	"tarry/engine"
	"tarry/internal/oracle"
	"tarry/page"
	"tarry/schematic"
	"tarry/sheet"
	"tarry/trace"
)

// The marks of a moment: they tell what is closed, energised and live, and leave
// every stroke of every symbol as it was.

// moment is a circuit at a time of a run.
type moment struct {
	name    string
	circuit *circuit.Circuit
	wiring  *circuit.Wiring
	state   *schematic.State
}

func momentOf(name string, tr *trace.Trace, at time.Duration) moment {
	return moment{fmt.Sprintf("%s at %v", name, at), tr.Circuit, tr.Wiring, sheet.StateAt(tr, trace.Settled(at))}
}

// moments takes some times of the first run of each circuit of the library, and
// of random runs.
func moments(t *testing.T) (list []moment) {
	for _, e := range libraryCircuits(t) {
		if len(e.circuit.Scripts) == 0 {
			continue
		}
		tr := engine.Run(e.circuit, &e.circuit.Scripts[0], engine.Options{})
		for i := range 4 {
			list = append(list, momentOf(e.name, tr, tr.End*time.Duration(i)/4+time.Second/3))
		}
	}
	seed, runs := randomRuns(t, 150)
	for i := range runs {
		rng := rand.New(rand.NewPCG(seed, uint64(i)))
		c, s := oracle.Random(rng)
		tr := engine.Run(c, s, engine.Options{})
		list = append(list, momentOf(fmt.Sprintf("seed %d, circuit %d", seed, i), tr, time.Duration(rng.Int64N(int64(tr.End)+1))))
	}
	return list
}

// TestStateMarks draws each moment in one of the ways.
func TestStateMarks(t *testing.T) {
	ways := waysToDraw()
	for i, m := range moments(t) {
		opt := ways[i%len(ways)]
		rest := schematic.Draw(m.circuit, opt)
		opt.State = m.state
		pages := schematic.Draw(m.circuit, opt)
		var faults []string
		for _, p := range pages {
			faults = append(faults, page.Faults(p)...)
		}
		faults = append(faults, readBack(pages, opt.Layout).compare(m.circuit)...)
		faults = append(faults, sameSymbols(rest, pages, opt.Layout)...)
		faults = append(faults, m.contactFaults(pages)...)
		faults = append(faults, m.liveFaults(pages)...)
		faults = append(faults, m.timerFaults(pages)...)
		report(t, m.name, m.circuit, faults)
	}
}

// symbolStrokes lists the strokes of each symbol as seen from its first end, by
// id; several loads of one name are numbered.
func symbolStrokes(pages []*page.Page, layout schematic.Layout) map[string]string {
	r := readBack(pages, layout)
	strokes, times := map[string]string{}, map[string]int{}
	n := 0
	for _, p := range pages {
		last := page.Shows{}
		key := ""
		for _, e := range p.Elements {
			if c := e.Shows.Class; c == "contact" || c == "timed-contact" || c == "load" {
				if e.Shows != last {
					key = fmt.Sprint(e.Shows.ID, " ", times[e.Shows.ID])
					times[e.Shows.ID]++
					n++
				}
				from := r.symbols[n-1].ends[0]
				one := page.Page{Elements: []page.Element{{Shape: moved(e.Shape, -from.X, -from.Y), Style: e.Style}}}
				strokes[key] += strings.SplitN(page.List(&one), "\n", 3)[2]
			}
			last = e.Shows
		}
	}
	return strokes
}

func moved(s page.Shape, x, y page.Unit) page.Shape {
	switch s := s.(type) {
	case page.Poly:
		points := make([]page.Point, len(s.Points))
		for i, q := range s.Points {
			points[i] = q.Add(x, y)
		}
		return page.Poly{Points: points, Closed: s.Closed}
	case page.Arc:
		s.Centre = s.Centre.Add(x, y)
		return s
	case page.Text:
		s.At = s.At.Add(x, y)
		return s
	}
	panic(fmt.Sprintf("a symbol with a %T", s))
}

func sameSymbols(rest, now []*page.Page, layout schematic.Layout) (faults []string) {
	a, b := symbolStrokes(rest, layout), symbolStrokes(now, layout)
	for id := range a {
		if a[id] != b[id] {
			faults = append(faults, fmt.Sprintf("%s is drawn otherwise:\n%s%s", id, a[id], b[id]))
		}
	}
	if len(a) != len(b) {
		faults = append(faults, fmt.Sprintf("%d symbols at rest, %d in the state", len(a), len(b)))
	}
	return faults
}

// classes counts the elements of a class by id.
func classes(pages []*page.Page, class string) map[string]int {
	count := map[string]int{}
	for _, p := range pages {
		for _, e := range p.Elements {
			if e.Shows.Class == class {
				count[e.Shows.ID]++
			}
		}
	}
	return count
}

// contactFaults asks for one dot or ring at each contact, and for the heavy ends
// of those that carry current.
func (m moment) contactFaults(pages []*page.Page) (faults []string) {
	closed, open, live := classes(pages, "mark-closed"), classes(pages, "mark-open"), classes(pages, "live")
	n := schematic.Number(m.circuit, m.wiring)
	for i := range m.wiring.Contacts {
		id := n.ContactID(m.circuit, m.wiring, i)
		if is := m.state.Closed[i]; closed[id] != count(is, 1) || open[id] != count(!is, 1) {
			faults = append(faults, fmt.Sprintf("%s, closed %t, has %d dots and %d rings", id, is, closed[id], open[id]))
		}
		if live[id] != count(m.state.LiveContacts[i], 2) {
			faults = append(faults, fmt.Sprintf("%s, live %t, has %d heavy ends", id, m.state.LiveContacts[i], live[id]))
		}
	}
	return faults
}

func count(is bool, n int) int {
	if is {
		return n
	}
	return 0
}

// liveFaults asks for heavy lines that lie on wires of live nets alone, that
// reach every contact and load which carries current, and that nowhere end
// free; and for marks at energised loads alone.
func (m moment) liveFaults(pages []*page.Page) (faults []string) {
	n := schematic.Number(m.circuit, m.wiring)
	isLive := map[string]bool{}
	for net, number := range n.Wires {
		isLive["wire "+number] = m.state.LiveNets[net]
	}
	heavyNets := map[string]bool{}
	for _, p := range pages {
		for _, e := range p.Elements {
			if e.Shows.Class != "live" || !strings.HasPrefix(e.Shows.ID, "wire ") {
				continue
			}
			heavyNets[e.Shows.ID] = true
			if e.Style.Weight != page.Heavy || !isLive[e.Shows.ID] {
				faults = append(faults, fmt.Sprintf("%s %v is heavy on a net that carries nothing", e.Shows.ID, e.Shape))
			}
		}
		faults = append(faults, freeEnds(p)...)
	}
	for id, live := range isLive {
		if live && !heavyNets[id] {
			faults = append(faults, id+" carries current and has no heavy line")
		}
	}
	live := classes(pages, "live")
	for i, l := range m.wiring.Loads {
		if id := m.circuit.LoadName(l.Load); m.state.Energised[i] != (live[id] > 0) {
			faults = append(faults, fmt.Sprintf("%s, energised %t, has %d marks", id, m.state.Energised[i], live[id]))
		}
	}
	return faults
}

// freeEnds looks for heavy wires with an end that no other heavy line, no live
// symbol and no reference holds.
func freeEnds(p *page.Page) (faults []string) {
	var wires []page.Poly
	var holders []page.Box
	for _, e := range p.Elements {
		heavyWire := e.Shows.Class == "live" && strings.HasPrefix(e.Shows.ID, "wire ")
		if line, ok := e.Shape.(page.Poly); ok && heavyWire {
			wires = append(wires, line)
		} else if e.Shows.Class == "live" || e.Shows.Class == "reference" {
			holders = append(holders, e.Shape.Bounds().Grow(260))
		}
	}
	held := func(at page.Point, own int) bool {
		point := page.Box{Min: at, Max: at}
		for i, w := range wires {
			if i != own && w.Bounds().Holds(point) {
				return true
			}
		}
		for _, b := range holders {
			if b.Holds(point) {
				return true
			}
		}
		return false
	}
	for i, w := range wires {
		for _, at := range w.Points {
			if !held(at, i) && !isRail(p, w) {
				faults = append(faults, fmt.Sprintf("a heavy line ends free at %v", at))
			}
		}
	}
	return faults
}

// isRail reports whether a line is one of the rails.
func isRail(p *page.Page, line page.Poly) bool {
	for _, e := range p.Elements {
		if e.Shows.Class == "rail" && e.Shape.Bounds() == line.Bounds() {
			return true
		}
	}
	return false
}

// timerFaults asks for the ring of each timer whose time runs.
func (m moment) timerFaults(pages []*page.Page) (faults []string) {
	want := map[string]int{}
	for _, r := range m.state.Timers {
		for _, l := range m.wiring.Loads {
			if l.Device == r.Device && l.Part == circuit.Main {
				want[m.circuit.LoadName(l.Load)] = int(min(r.Elapsed, r.Preset) * 360 / r.Preset)
			}
		}
	}
	rings := classes(pages, "timer-ring")
	for _, p := range pages {
		for _, e := range p.Elements {
			a, ok := e.Shape.(page.Arc)
			if ok && e.Shows.Class == "timer-ring" && e.Style.Weight == page.Heavy && a.Sweep != want[e.Shows.ID] {
				faults = append(faults, fmt.Sprintf("%s: the ring is filled by %d, not %d degrees", e.Shows.ID, a.Sweep, want[e.Shows.ID]))
			}
		}
	}
	for id, sweep := range want {
		if rings[id] == 0 || rings[id] < 3 && sweep > 0 {
			faults = append(faults, fmt.Sprintf("%s: %d parts of a ring for %d degrees", id, rings[id], sweep))
		}
	}
	for id := range rings {
		if _, ok := want[id]; !ok {
			faults = append(faults, id+" has a ring and does not time")
		}
	}
	return faults
}

// TestStatesStandStill draws every moment of a run: only marks may change, so the
// symbols stay where they are.
func TestStatesStandStill(t *testing.T) {
	for _, e := range libraryCircuits(t) {
		for _, layout := range []schematic.Layout{schematic.Rungs, schematic.Paths} {
			tr := engine.Run(e.circuit, &e.circuit.Scripts[0], engine.Options{})
			first := ""
			for i := range 12 {
				m := momentOf(e.name, tr, tr.End*time.Duration(i)/12)
				at := ""
				pages := schematic.Draw(e.circuit, schematic.Options{Layout: layout, State: m.state})
				for _, s := range readBack(pages, layout).symbols {
					at += fmt.Sprint(s.id, s.ends, "\n")
				}
				if at += fmt.Sprint(pages[0].Width, pages[0].Height); first == "" {
					first = at
				}
				if at != first {
					t.Fatalf("%s: the drawing moves", m.name)
				}
			}
		}
	}
}

// TestElapsedWords asks for short and honest words beside the ring: cut, never
// rounded up to a time that is over.
func TestElapsedWords(t *testing.T) {
	c := read(t, fourContacts)
	for _, want := range []struct {
		elapsed, preset time.Duration
		words           string
	}{
		{2400 * time.Millisecond, 5 * time.Second, "2.4 of 5 s"},
		{4999 * time.Millisecond, 5 * time.Second, "4.9 of 5 s"},
		{250500 * time.Microsecond, 300 * time.Millisecond, "250 of 300 ms"},
		{90 * time.Second, 2 * time.Minute, "1 min 30 s of 2 min"},
		{300 * time.Millisecond, 90 * time.Second, "0 s of 1 min 30 s"},
		{300 * time.Millisecond, 5 * time.Second, "300 ms of 5 s"},
	} {
		w := circuit.Wire(c)
		st := &schematic.State{Closed: make([]bool, len(w.Contacts)), Energised: make([]bool, len(w.Loads)),
			LiveNets: make([]bool, len(w.Nets)), LiveContacts: make([]bool, len(w.Contacts)),
			Timers: []schematic.Timing{{Device: c.Find("KT1"), Elapsed: want.elapsed, Preset: want.preset}}}
		p := schematic.Draw(c, schematic.Options{State: st})[0]
		if got := textsOf(p, "timer-ring"); len(got) != 1 || got[0] != want.words {
			t.Errorf("%v of %v reads %q, want %q", want.elapsed, want.preset, got, want.words)
		}
	}
}

func textsOf(p *page.Page, class string) (list []string) {
	for _, e := range p.Elements {
		if s, ok := e.Shape.(page.Text); ok && e.Shows.Class == class {
			list = append(list, s.Words)
		}
	}
	return list
}
