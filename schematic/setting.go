package schematic

import (
	"time"

	"tarry/circuit"
	"tarry/page"
)

// Setting is a timer that is set to other times than the drawing says.
type Setting struct {
	Device  circuit.DeviceID
	Presets [2]time.Duration
}

// setTo returns a timer with the times that it is set to in the state that is drawn.
func (l *layout) setTo(id circuit.DeviceID) *circuit.Device {
	d := l.circuit.Devices[id]
	if l.opt.State != nil {
		for _, s := range l.opt.State.Set {
			if s.Device == id {
				d.Presets = s.Presets
			}
		}
	}
	return &d
}

// settingMarks write the times that a timer is set to now over those of the
// drawing, underlined.
func (c *canvas) settingMarks(p *painted, st *State) (list []page.Element) {
	if p.contact >= 0 {
		return nil
	}
	k := c.wiring.Loads[p.load].Load
	if k.Part == circuit.ResetCoil {
		return nil
	}
	for _, s := range st.Set {
		if s.Device == k.Device {
			return c.rewritten(p, k.Device, s.Presets)
		}
	}
	return nil
}

func (c *canvas) rewritten(p *painted, id circuit.DeviceID, presets [2]time.Duration) (list []page.Element) {
	d := c.circuit.Devices[id]
	first := p.words + 1 + len(c.label(d.Label))
	old := c.page.Elements[min(first, p.words+1+len(p.block.lines)) : p.words+1+len(p.block.lines)]
	d.Presets = presets
	var lines []string
	for _, line := range functionLines(&d, c.wordFold) {
		for _, w := range c.label(line) {
			lines = append(lines, w.text)
		}
	}
	shows := page.Shows{ID: c.circuit.LoadName(circuit.Load{Device: id}), Class: "setting"}
	for i, e := range old {
		t, ok := e.Shape.(page.Text)
		if !ok {
			continue
		}
		list = append(list, page.Element{Shape: page.Rect{Box: t.Bounds().Grow(30)}, Style: page.Style{Fill: page.Knockout}, Shows: shows})
		if i >= len(lines) || t.Words == "" {
			continue
		}
		t.Words = lines[i]
		box := t.Bounds()
		under := page.Line(page.Point{X: box.Min.X, Y: t.At.Y + 45}, page.Point{X: box.Max.X, Y: t.At.Y + 45})
		list = append(list, page.Element{Shape: t, Style: e.Style, Shows: shows},
			page.Element{Shape: under, Style: page.Style{Weight: page.Hair}, Shows: shows})
	}
	return list
}
