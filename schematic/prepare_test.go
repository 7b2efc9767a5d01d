package schematic_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"tarry/circuit"
	"tarry/engine"
	"tarry/notation"
	"tarry/page"
	"tarry/page/svg"
	"tarry/schematic"
)

// The drawing that is laid out once: it and its marks are what Draw draws of a
// state, and its parts are all that the drawing shows.

// tally counts what elements paint, page by page, whatever they are called.
func tally(n int, list []page.Element, count map[string]int, step int) {
	for _, e := range list {
		if e.Shows.Class != "timer-ring" {
			count[fmt.Sprint(n, e.Shape, e.Style)] += step
		}
	}
}

// TestMarksAreThoseOfDraw takes the drawing at rest, and its marks without what
// is only painted again, away from what Draw makes of the state.
func TestMarksAreThoseOfDraw(t *testing.T) {
	ways := waysToDraw()
	for i, m := range moments(t) {
		opt := ways[i%len(ways)]
		opt.Bare = true   // the foot of a state says more
		m.state.Set = nil // Draw lays its words out for another setting, marks write over them
		d := schematic.Prepare(m.circuit, opt)
		rest, marks := d.Pages(), d.Marks(m.state)
		opt.State = m.state
		count := map[string]int{}
		for n, p := range schematic.Draw(m.circuit, opt) {
			tally(n, p.Elements, count, 1)
		}
		for n, p := range rest {
			own := map[string]int{}
			tally(n, p.Elements, own, 1)
			tally(n, p.Elements, count, -1)
			for _, e := range marks[n] {
				if again := e.Shows.Class == "joint" || e.Shows.Class == "lit"; !again || own[fmt.Sprint(n, e.Shape, e.Style)] == 0 {
					tally(n, []page.Element{e}, count, -1)
				}
			}
		}
		var faults []string
		for what, n := range count {
			if n != 0 {
				faults = append(faults, fmt.Sprintf("%+d of %s", n, what))
			}
		}
		slices.Sort(faults)
		report(t, m.name, m.circuit, faults)
	}
}

// TestPreparedAtRest asks for the same bytes as of the drawing at rest with
// room for marks, and for the same places in the drawing of a state.
func TestPreparedAtRest(t *testing.T) {
	for _, e := range libraryCircuits(t) {
		for _, opt := range waysToDraw()[:6] {
			prepared := schematic.Prepare(e.circuit, opt).Pages()
			opt.MarkRoom = true
			for n, p := range schematic.Draw(e.circuit, opt) {
				if page.List(p) != page.List(prepared[n]) {
					t.Errorf("%s: page %d differs", e.name, n+1)
				}
			}
		}
	}
}

// TestMarksLookTheSame follows runs: what has one Shows is painted alike in
// every state, and in none twice.
func TestMarksLookTheSame(t *testing.T) {
	for _, e := range libraryCircuits(t) {
		d := schematic.Prepare(e.circuit, schematic.Options{Bare: true})
		tr := engine.Run(e.circuit, &e.circuit.Scripts[0], engine.Options{})
		bodies := map[string]string{}
		for i := range 20 {
			m := momentOf(e.name, tr, tr.End*time.Duration(i)/20)
			for _, g := range svg.Groups(d.Marks(m.state)[0], svg.Options{}) {
				if old, ok := bodies[g.ID]; ok && old != g.Body {
					t.Fatalf("%s: %s is\n%s before\n%s", m.name, g.ID, g.Body, old)
				}
				bodies[g.ID] = g.Body
			}
		}
		if len(bodies) < 2 {
			t.Errorf("%s: only %d marks in a run", e.name, len(bodies))
		}
	}
}

// TestParts asks for every contact, load and rung as one part, in every way of
// drawing the library, narrow ones among them.
func TestParts(t *testing.T) {
	ways := append(waysToDraw(), narrowWays()...)
	for _, e := range libraryCircuits(t) {
		for _, opt := range ways {
			d := schematic.Prepare(e.circuit, opt)
			faults := append(partFaults(e.circuit, d), boxFaults(d)...)
			report(t, fmt.Sprintf("%s, layout %d, %v wide", e.name, opt.Layout, opt.Width), e.circuit, faults)
		}
	}
}

// TestPartsOfNasty asks the same of circuits made to be awkward and of random
// ones, an empty one among them.
func TestPartsOfNasty(t *testing.T) {
	list := []named{{"empty", read(t, "")}, {"sixty rungs", ladder(60)}}
	for name, text := range nasty {
		list = append(list, named{name, read(t, text)})
	}
	seed, runs := randomRuns(t, 100)
	for i := range runs {
		list = append(list, named{fmt.Sprintf("seed %d, circuit %d", seed, i), randomCircuit(rand.New(rand.NewPCG(seed, uint64(i))))})
	}
	ways := append(waysToDraw(), narrowWays()...)
	for i, e := range list {
		d := schematic.Prepare(e.circuit, ways[i%len(ways)])
		report(t, e.name, e.circuit, append(partFaults(e.circuit, d), boxFaults(d)...))
	}
}

// partFaults compares the parts with the circuit.
func partFaults(c *circuit.Circuit, d *schematic.Drawing) (faults []string) {
	w := circuit.Wire(c)
	n := schematic.Number(c, w)
	contacts, loads, rungs := make([]int, len(w.Contacts)), make([]int, len(w.Loads)), make([]int, len(c.Rungs))
	for _, p := range d.Parts() {
		is := false
		switch p.Kind {
		case schematic.ContactPart:
			contacts[p.Contact]++
			k := w.Contacts[p.Contact]
			is = p.ID == n.ContactID(c, w, p.Contact) && p.Device == k.Device && p.Rung == k.Rung && p.Load == -1 &&
				contactsOf(&c.Rungs[k.Rung])[p.Place] == k.Contact
		case schematic.LoadPart:
			loads[p.Load]++
			k := w.Loads[p.Load]
			is = p.ID == c.LoadName(k.Load) && p.Device == k.Device && p.Rung == k.Rung && p.Contact == -1 &&
				c.Rungs[k.Rung].Loads[p.Place] == k.Load
			timer := c.Devices[k.Device].Kind == circuit.Timer && k.Part == circuit.Main
			if holds := p.Box.Holds(p.Ring.Bounds()) && p.Box.Holds(p.Preset) && p.Box.Holds(p.Elapsed.Bounds()); timer != (p.Ring.Radius > 0) ||
				timer != (p.Preset.Height() > 0) || timer && !holds {
				faults = append(faults, fmt.Sprintf("%s: ring %v, preset %v in %v", p.ID, p.Ring, p.Preset, p.Box))
			}
		case schematic.RungPart:
			rungs[p.Rung]++
			is = p.Device == circuit.NoDevice && p.Contact == -1 && p.Load == -1 && p.Whole.Holds(p.Box)
		}
		if !is {
			faults = append(faults, fmt.Sprintf("not true of the circuit: %+v", p))
		}
	}
	for _, count := range [][]int{contacts, loads} {
		if slices.ContainsFunc(count, func(n int) bool { return n != 1 }) {
			faults = append(faults, fmt.Sprint("parts of the contacts ", contacts, ", of the loads ", loads))
		}
	}
	if slices.Contains(rungs, 0) {
		faults = append(faults, fmt.Sprint("parts of the rungs ", rungs))
	}
	return faults
}

func contactsOf(r *circuit.Rung) (list []circuit.Contact) {
	r.Path.Contacts(func(k circuit.Contact) { list = append(list, k) })
	r.Return.Contacts(func(k circuit.Contact) { list = append(list, k) })
	return list
}

// boxFaults compares the parts' boxes with the pages: each holds all that its
// symbol and words paint, and no two symbols share room.
func boxFaults(d *schematic.Drawing) (faults []string) {
	pages, parts := d.Pages(), d.Parts()
	found := make([]int, len(parts))
	for n, p := range pages {
		sheet := page.Box{Max: page.Point{X: p.Width, Y: p.Height}}
		for i, a := range parts {
			if a.Page != n {
				continue
			}
			if !sheet.Holds(a.Box) || !sheet.Holds(a.Whole) {
				faults = append(faults, fmt.Sprintf("%s at %v is beyond page %d", a.ID, a.Box, n+1))
			}
			for _, b := range parts[:i] {
				if b.Page == n && b.Box.Overlaps(a.Box) && a.Box != a.Whole && b.Box != b.Whole {
					faults = append(faults, fmt.Sprintf("%s at %v and %s at %v", a.ID, a.Box, b.ID, b.Box))
				}
			}
		}
		for _, e := range p.Elements {
			held := func(a schematic.Part) bool { return a.Page == n && a.ID == e.Shows.ID && a.Box.Holds(e.Shape.Bounds()) }
			i := slices.IndexFunc(parts, held)
			if i >= 0 {
				found[i]++
			} else if c := e.Shows.Class; c == "contact" || c == "timed-contact" || c == "load" || c == "rung-number" {
				faults = append(faults, fmt.Sprintf("no part holds a stroke of %s at %v", e.Shows.ID, e.Shape.Bounds()))
			}
		}
	}
	for i, p := range parts {
		if found[i] == 0 && p.Box != p.Whole {
			faults = append(faults, "nothing in the box of "+p.ID)
		}
	}
	return faults
}

// narrowWays are ways of drawing for a telephone.
func narrowWays() (list []schematic.Options) {
	for _, layout := range []schematic.Layout{schematic.Rungs, schematic.Paths} {
		for _, width := range []page.Unit{9000, 11000} {
			list = append(list, schematic.Options{Layout: layout, Width: width, Bare: true})
		}
	}
	return list
}

// TestSettingMarks: a timer that is set to another time says so where its setting
// stands, on the drawing of a state and over the one at rest.
func TestSettingMarks(t *testing.T) {
	file, _ := notation.Read("t", []byte("S1 switch\nKT1 on-delay 5 s \"Start delay\"\nKT2 flasher 2 s, 3 s\nH1 lamp\n1: S1.no -> KT1, KT2\n2: KT1.notc -> H1\n"))
	c := file.Circuit
	w := circuit.Wire(c)
	state := func(set ...schematic.Setting) *schematic.State {
		return &schematic.State{Closed: make([]bool, len(w.Contacts)), Energised: make([]bool, len(w.Loads)),
			LiveContacts: make([]bool, len(w.Contacts)), LiveNets: make([]bool, len(w.Nets)), Set: set}
	}
	written := func(list []page.Element) (words []string) {
		for _, e := range list {
			if text, ok := e.Shape.(page.Text); ok && (e.Shows.Class == "setting" || e.Shows.Class == "words") {
				words = append(words, text.Words)
			}
		}
		return words
	}
	sets := []schematic.Setting{{Device: c.Find("KT1"), Presets: [2]time.Duration{9 * time.Second}},
		{Device: c.Find("KT2"), Presets: [2]time.Duration{2 * time.Second, 7 * time.Second}}}
	for _, opt := range waysToDraw()[:6] {
		d := schematic.Prepare(c, opt)
		if marks := written(d.Marks(state())[0]); len(marks) != 0 {
			t.Errorf("nothing is set, and yet %q", marks)
		}
		if marks := written(d.Marks(state(sets...))[0]); strings.Join(marks, "|") != "on-delay 9 s|flasher 2 s|off 7 s" {
			t.Errorf("%q", marks)
		}
		opt.State = state(sets...)
		drawn := strings.Join(written(schematic.Draw(c, opt)[0].Elements), "|")
		if !strings.Contains(drawn, "on-delay 9 s") || !strings.Contains(drawn, "off 7 s") || strings.Contains(drawn, "on-delay 5 s") {
			t.Errorf("%q", drawn)
		}
	}
}
