// Command tarry-wasm is the engine of the browser desk: calls in JSON, answers
// in JSON, one desk. It is built for js/wasm only; the calls are plain Go, so
// that they are tested like anything else.
package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"tarry"
	"tarry/notation"
)

// failure is the answer to a call that could not be done.
type failure struct {
	Error string `json:"error"`
	Fault bool   `json:"fault"` // ours, not the request's
}

// answer does a call.
func answer(desk *tarry.Desk, name string, request []byte) []byte {
	out, err := dispatch(desk, name, request)
	if err != nil {
		out = failure{err.Error(), !errors.Is(err, tarry.ErrInput)}
	}
	text, err := written(out)
	if err != nil {
		text, _ = written(failure{"the answer can't be written: " + err.Error(), true})
	}
	return text
}

// written is a value as JSON. It goes to JSON.parse and into no page as it is,
// so the many < of drawings need no longer way of writing.
func written(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return b.Bytes(), err
}

type call func(d *tarry.Desk, request []byte) (any, error)

// of makes a call of a function that takes its request as a struct.
func of[T, R any](do func(d *tarry.Desk, r T) (R, error)) call {
	return func(d *tarry.Desk, request []byte) (any, error) {
		var r T
		if err := json.Unmarshal(request, &r); err != nil {
			return nil, fmt.Errorf("%w: %v", tarry.ErrInput, err)
		}
		return do(d, r)
	}
}

func dispatch(d *tarry.Desk, name string, request []byte) (any, error) {
	do, ok := calls[name]
	if !ok {
		return nil, fmt.Errorf("%w: there is no call %q", tarry.ErrInput, name)
	}
	return do(d, request)
}

type none struct{}

type opening struct {
	Name string         `json:"name"`
	Text string         `json:"text"`
	View tarry.DeskView `json:"view"`
	Keep bool           `json:"keep"`
}

type viewing struct {
	View tarry.DeskView `json:"view"`
}

type viewed struct {
	Drawing tarry.DeskDrawing `json:"drawing"`
	Frame   tarry.DeskFrame   `json:"frame"`
}

type acting struct {
	At      time.Duration      `json:"at"`
	Actions []tarry.DeskAction `json:"actions"`
}

type moving struct {
	To time.Duration `json:"to"`
}

type restoring struct {
	Log []tarry.DeskAction `json:"log"`
	To  time.Duration      `json:"to"`
}

type restored struct {
	Frame tarry.DeskFrame `json:"frame"`
	Left  int             `json:"left"`
}

type scripting struct {
	Script int `json:"script"`
}

type named struct {
	Name string `json:"name"`
}

type telling struct {
	Limit int `json:"limit"`
}

type asking struct {
	Of string        `json:"of"`
	At time.Duration `json:"at"`
}

type writing struct {
	Text   string          `json:"text"`
	At     int             `json:"at"`
	Change notation.Change `json:"change"`
}

type suggesting struct {
	Kind string `json:"kind"`
}

type suggested struct {
	Tag string `json:"tag"`
}

type overruling struct {
	Text string `json:"text"`
}

type formed struct {
	Form string `json:"form"`
}

var calls = map[string]call{
	"about": of(func(d *tarry.Desk, _ none) (tarry.DeskAbout, error) { return d.About() }),
	"open": of(func(d *tarry.Desk, r opening) (tarry.DeskOpened, error) {
		return d.Open(tarry.Source{Name: r.Name, Text: []byte(r.Text)}, r.View, r.Keep)
	}),
	"view": of(func(d *tarry.Desk, r viewing) (out viewed, err error) {
		out.Drawing, out.Frame, err = d.View(r.View)
		return out, err
	}),
	"start": of(func(d *tarry.Desk, r scripting) (tarry.DeskFrame, error) { return d.Start(r.Script) }),
	"move":  of(func(d *tarry.Desk, r moving) (tarry.DeskFrame, error) { return d.Move(r.To) }),
	"act":   of(func(d *tarry.Desk, r acting) (tarry.DeskFrame, error) { return d.Act(r.At, r.Actions) }),
	"restore": of(func(d *tarry.Desk, r restoring) (out restored, err error) {
		out.Frame, out.Left, err = d.Restore(r.Log, r.To)
		return out, err
	}),
	"recording": of(func(d *tarry.Desk, r named) (tarry.DeskScripted, error) { return d.Recording(r.Name) }),
	"story":     of(func(d *tarry.Desk, r telling) (tarry.DeskTold, error) { return d.Story(r.Limit) }),
	"why":       of(func(d *tarry.Desk, r asking) (tarry.DeskWhy, error) { return d.Why(r.Of, r.At) }),
	"chart":     of((*tarry.Desk).Chart),
	"reveal":    of((*tarry.Desk).Reveal),
	"ask":       of(func(d *tarry.Desk, r scripting) (tarry.DeskAsk, error) { return d.Ask(r.Script) }),
	"edit":      of(func(d *tarry.Desk, r writing) (tarry.DeskEdited, error) { return d.Edit([]byte(r.Text), r.Change) }),
	"complete":  of(func(d *tarry.Desk, r writing) (tarry.DeskCompletions, error) { return d.Complete([]byte(r.Text), r.At) }),
	"format":    of(func(d *tarry.Desk, r writing) (tarry.DeskFormatted, error) { return d.Format([]byte(r.Text)) }),
	"suggest": of(func(d *tarry.Desk, r suggesting) (out suggested, err error) {
		out.Tag, err = d.Suggest(r.Kind)
		return out, err
	}),
	"library":   of(func(d *tarry.Desk, _ none) ([]tarry.DeskEntry, error) { return d.Library() }),
	"entry":     of(func(d *tarry.Desk, r named) (tarry.DeskEntry, error) { return d.Entry(r.Name) }),
	"thumbnail": of(func(d *tarry.Desk, r writing) (tarry.DeskPicture, error) { return d.Thumbnail([]byte(r.Text)) }),
	"sheets":    of((*tarry.Desk).Sheets),
	"pdf":       of((*tarry.Desk).PDF),
	"export":    of((*tarry.Desk).Export),
	"mark":      of((*tarry.Desk).Mark),
	"press":     of((*tarry.Desk).Press),
	"telling":   of((*tarry.Desk).Telling),
	"levels":    of(func(d *tarry.Desk, _ none) ([]tarry.DeskChoice, error) { return d.Levels() }),
	"question":  of((*tarry.Desk).Question),
	"choose":    of((*tarry.Desk).Choose),
	"class":     of((*tarry.Desk).Class),
	"classfile": of((*tarry.Desk).ClassFile),
	"overrules": of(func(d *tarry.Desk, r overruling) (tarry.DeskOverrules, error) { return d.Overrules(r.Text) }),
	"record":    of(func(d *tarry.Desk, r formed) (tarry.DeskFile, error) { return d.Record(r.Form) }),
	"run":       of(func(d *tarry.Desk, r scripting) (tarry.DeskRun, error) { return d.Run(r.Script) }),
}
