package tarry

import (
	"bytes"
	"encoding/json"

	"tarry/circuit"
	"tarry/diag"
	"tarry/trace"
	"tarry/why"
)

// The JSON form of a run. Times are exact decimal seconds, as strings so that
// no reader rounds them. The edges are all there; of a run that will not end,
// the sentences and the causes are given for its beginning only.

// maxTold is how many instants and events of a script are written.
const maxTold = 10_000

type jsonRun struct {
	Title       string            `json:"title"`
	Station     string            `json:"station,omitempty"`
	Diagnostics []diag.Diagnostic `json:"diagnostics"`
	Scripts     []jsonScript      `json:"scripts"`
}

type jsonScript struct {
	Name         string            `json:"name"`
	EndS         string            `json:"end_s"`
	Ending       string            `json:"ending"`
	Signals      []jsonSignal      `json:"signals"`
	Instants     []jsonInstant     `json:"instants"`
	MoreInstants int               `json:"more_instants,omitempty"` // left out
	Events       []jsonEvent       `json:"events"`
	MoreEvents   int               `json:"more_events,omitempty"` // left out
	Notices      []jsonNotice      `json:"notices"`
	Expectations []jsonExpectation `json:"expectations"`
}

type jsonSignal struct {
	Name  string     `json:"name"`
	Edges []jsonEdge `json:"edges"`
}

type jsonEdge struct {
	TimeS string   `json:"time_s"`
	Step  int      `json:"step"`
	Value string   `json:"value"`
	Event trace.ID `json:"event"` // -1 for the value at time zero
}

type jsonInstant struct {
	TimeS     string   `json:"time_s"`
	Sentences []string `json:"sentences"`
}

type jsonEvent struct {
	ID      trace.ID   `json:"id"`
	TimeS   string     `json:"time_s"`
	Step    int        `json:"step"`
	Device  string     `json:"device,omitempty"`
	Part    string     `json:"part"`
	Value   int        `json:"value"`
	Because []trace.ID `json:"because"`
}

type jsonNotice struct {
	TimeS string `json:"time_s"`
	Kind  string `json:"kind"`
	Text  string `json:"text"`
}

type jsonExpectation struct {
	Signal string `json:"signal"`
	OK     bool   `json:"ok"`
	Text   string `json:"text"`
}

func (out *RunResponse) json(c *circuit.Circuit, list []*circuit.Script) {
	run := jsonRun{Title: c.Title, Station: c.Station, Diagnostics: out.Diagnostics, Scripts: []jsonScript{}}
	if run.Diagnostics == nil {
		run.Diagnostics = []diag.Diagnostic{}
	}
	for _, s := range list {
		t := runOne(c, s)
		out.Failed += failures(t, s)
		out.remark(t)
		run.Scripts = append(run.Scripts, scriptJSON(t, s))
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	if err := e.Encode(run); err != nil {
		panic(err) // plain data always encodes
	}
	out.Output = b.Bytes()
}

func scriptJSON(t *trace.Trace, s *circuit.Script) jsonScript {
	j := jsonScript{Name: s.Name, EndS: trace.Seconds(t.End), Ending: t.Ending.String(),
		Signals: []jsonSignal{}, Instants: []jsonInstant{}, Events: []jsonEvent{}, Notices: []jsonNotice{}, Expectations: []jsonExpectation{}}
	for _, sig := range t.Signals() {
		js := jsonSignal{Name: t.Circuit.SignalName(sig)}
		for _, e := range t.Edges(sig) {
			js.Edges = append(js.Edges, jsonEdge{trace.Seconds(e.At), e.Step, trace.ValueWord(sig, e.On), e.Event})
		}
		j.Signals = append(j.Signals, js)
	}
	story := why.Story(t)
	j.MoreInstants = max(len(story)-maxTold, 0)
	for _, in := range story[:len(story)-j.MoreInstants] {
		j.Instants = append(j.Instants, jsonInstant{trace.Seconds(in.At), in.Sentences})
	}
	j.MoreEvents = max(t.Len()-maxTold, 0)
	for id := range t.Len() - j.MoreEvents {
		j.Events = append(j.Events, eventJSON(t, t.Event(trace.ID(id))))
	}
	for _, n := range t.Notices {
		j.Notices = append(j.Notices, jsonNotice{trace.Seconds(n.At), n.Kind.String(), why.Notice(t, n)})
	}
	for _, v := range t.CheckAll(s) {
		j.Expectations = append(j.Expectations, jsonExpectation{t.Circuit.SignalName(v.Expect.Signal), v.OK, why.Verdict(t, v)})
	}
	return j
}

func eventJSON(t *trace.Trace, e trace.Event) jsonEvent {
	j := jsonEvent{ID: e.ID, TimeS: trace.Seconds(e.At), Step: e.Step, Part: e.Part.String(), Value: e.Value, Because: e.Because}
	if e.Device >= 0 {
		j.Device = t.Circuit.Devices[e.Device].Tag
	}
	if j.Because == nil {
		j.Because = []trace.ID{}
	}
	return j
}
