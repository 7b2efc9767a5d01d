package chart

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"tarry/circuit"
	"tarry/trace"
)

// decimal writes n parts of 10^-digits without trailing zeros.
func decimal(n int64, digits int) string {
	s := strconv.FormatInt(n, 10)
	for len(s) <= digits {
		s = "0" + s
	}
	whole, part := s[:len(s)-digits], strings.TrimRight(s[len(s)-digits:], "0")
	if part == "" {
		return whole
	}
	return whole + "." + part
}

// seconds writes a time as a number of seconds.
func seconds(d time.Duration) string { return decimal(int64(d), 9) }

// span writes a length of time as the trade says it: 500 ms, 2.5 s, 1 min 30 s.
func span(d time.Duration) string {
	if d < 0 {
		return "-" + span(-d)
	}
	switch {
	case d == 0:
		return "0 s"
	case d < 100*time.Millisecond:
		return decimal(int64(d), 6) + " ms"
	case d < time.Minute:
		return seconds(d) + " s"
	}
	var parts []string
	for _, u := range []struct {
		size time.Duration
		name string
	}{{time.Hour, " h"}, {time.Minute, " min"}} {
		if n := d / u.size; n > 0 {
			parts = append(parts, strconv.FormatInt(int64(n), 10)+u.name)
			d -= n * u.size
		}
	}
	if d > 0 {
		parts = append(parts, seconds(d)+" s")
	}
	return strings.Join(parts, " ")
}

// share writes how much of a time has run: 2 of 4 s.
func share(ran, of time.Duration) string {
	if of < time.Minute && ran < time.Minute && of >= 100*time.Millisecond {
		return seconds(ran) + " of " + span(of)
	}
	return span(ran) + " of " + span(of)
}

// mark is something that is said at an instant of a chart.
type mark struct {
	at    time.Duration
	words string
	class string
}

// marksOf returns the notices and the changes of a setting that the window
// shows, in order of time.
func marksOf(t *trace.Trace, w window) []mark {
	var marks []mark
	for i := range t.Notices {
		if n := &t.Notices[i]; w.holds(n.At) {
			marks = append(marks, mark{n.At, noticeWords(t, n), "notice"})
		}
	}
	var settings []trace.ID
	for d := range t.Circuit.Devices {
		for _, id := range w.eventsIn(t, circuit.DeviceID(d)) {
			if t.Event(id).Part == trace.PresetPart {
				settings = append(settings, id)
			}
		}
	}
	slices.Sort(settings)
	for _, id := range settings {
		e := t.Event(id)
		marks = append(marks, mark{e.At, settingWords(t, e), "setting"})
	}
	return sortedMarks(marks)
}

// sortedMarks puts marks in order of time and leaves out repetitions.
func sortedMarks(marks []mark) []mark {
	var out []mark
	for _, m := range marks {
		i := len(out)
		for i > 0 && out[i-1].at > m.at {
			i--
		}
		if i > 0 && out[i-1] == m {
			continue
		}
		out = append(out, mark{})
		copy(out[i+1:], out[i:])
		out[i] = m
	}
	return out
}

func settingWords(t *trace.Trace, e trace.Event) string {
	p := t.Preset(e.Device, trace.After(e))
	words := t.Circuit.Devices[e.Device].Tag + " set to " + span(p[0])
	if p[1] > 0 {
		words += ", " + span(p[1])
	}
	return words
}

var noticeNames = [...]string{
	trace.Tie: "tie", trace.Race: "race", trace.RaceSkip: "race not examined", trace.Chatter: "chatter",
	trace.Short: "short circuit", trace.NoEffect: "no effect", trace.BothCoils: "set and reset together",
	trace.Limit: "too many events",
}

func noticeWords(t *trace.Trace, n *trace.Notice) string {
	words := "notice"
	if int(n.Kind) < len(noticeNames) && noticeNames[n.Kind] != "" {
		words = noticeNames[n.Kind]
	}
	var tags []string
	for i, d := range n.Devices {
		if i == 3 {
			tags = append(tags, "…")
			break
		}
		if d >= 0 && int(d) < len(t.Circuit.Devices) {
			tags = append(tags, t.Circuit.Devices[d].Tag)
		}
	}
	if len(tags) == 0 {
		return words
	}
	return words + ": " + strings.Join(tags, ", ")
}

// describe says in sentences what a chart shows, for those who cannot see it:
// one line a row.
func (d *drawing) describe() string {
	stretch := "over " + span(d.shown.to)
	if d.shown.from > 0 {
		stretch = "from " + span(d.shown.from) + " to " + span(d.shown.to)
	}
	lines := []string{fmt.Sprintf("Timing chart of %s %s.", plural(len(d.lines), "row"), stretch)}
	for i := range d.lines {
		l := &d.lines[i]
		switch {
		case l.blank:
			lines = append(lines, strings.TrimSpace(l.tag()+" "+l.about(true))+": to be drawn.")
		case l.kind == elapsedRow:
			lines = append(lines, describeTime(l))
		default:
			lines = append(lines, describeRow(&l.row))
		}
		if l.given != nil {
			lines = append(lines, l.given.describe(&l.row))
		}
	}
	for _, m := range d.shownMarks() {
		lines = append(lines, fmt.Sprintf("At %s: %s.", span(m.at), m.words))
	}
	return strings.Join(lines, "\n")
}

func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}

// spoken is how many changes of a row a description lists.
const spoken = 12

func describeRow(r *row) string {
	words := strings.TrimSpace(r.tag() + " " + r.about(true))
	if r.device != nil && r.device.Label != "" {
		words += " (" + r.device.Label + ")"
	}
	words += ": " + r.word(r.start) + " at the start"
	now := r.start
	for i, s := range r.steps {
		if i == spoken {
			words += fmt.Sprintf(", and %s more", plural(len(r.steps)-spoken, "change"))
			break
		}
		if s.on != now {
			words += fmt.Sprintf(", %s from %s", r.word(s.on), span(s.at))
		} else {
			words += fmt.Sprintf(", a pulse of no width at %s", span(s.at))
		}
		now = s.on
	}
	return words + "."
}

func describeTime(l *line) string {
	var parts []string
	runs := l.time.runs
	for i := range runs {
		if i == spoken {
			parts = append(parts, fmt.Sprintf("and %s more", plural(len(runs)-spoken, "time")))
			break
		}
		parts = append(parts, fmt.Sprintf("%s from %s", runs[i].label(""), span(runs[i].from)))
	}
	if len(parts) == 0 {
		return l.tag() + " does not time."
	}
	return l.tag() + " times " + strings.Join(parts, ", ") + "."
}

// labelOf is the device's own text.
func labelOf(d *circuit.Device) string {
	if d == nil {
		return ""
	}
	return d.Label
}
