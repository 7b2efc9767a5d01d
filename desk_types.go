package tarry

import (
	"time"

	"tarry/page"
)

// What a desk says, ready to be written as JSON. Times are whole nanoseconds,
// lengths 1/100 mm, places in a text UTF-16 units, as a browser counts them.
// Places of devices, rungs and scripts count from 0 in the order of the text.

// DeskView says how a desk draws its circuit.
type DeskView struct {
	Symbols string    `json:"symbols"` // as Style.Symbols
	Layout  string    `json:"layout"`  // as Style.Layout
	Width   page.Unit `json:"width"`   // room for the drawing, 0 for as much as it takes
	NoWords bool      `json:"noWords"` // no words beside timed contacts
}

// DeskBox is an upright rectangle on a drawing.
type DeskBox struct {
	X page.Unit `json:"x"`
	Y page.Unit `json:"y"`
	W page.Unit `json:"w"`
	H page.Unit `json:"h"`
}

// DeskFix is an offered change of the text.
type DeskFix struct {
	From  int    `json:"from"`
	To    int    `json:"to"`
	Text  string `json:"text"`
	Label string `json:"label"`
}

// DeskDiagnostic is one thing to say about a text.
type DeskDiagnostic struct {
	Code    string   `json:"code"`
	Grade   string   `json:"grade"` // error, warning or notice
	Summary string   `json:"summary"`
	Detail  string   `json:"detail"`
	From    int      `json:"from"`
	To      int      `json:"to"`
	Fix     *DeskFix `json:"fix"`
}

// DeskDevice is a device, and what can be done with it.
type DeskDevice struct {
	Tag       string           `json:"tag"`
	Kind      string           `json:"kind"`
	Words     string           `json:"words"` // kind and settings as written
	Label     string           `json:"label"`
	Function  string           `json:"function"`
	Presets   [2]time.Duration `json:"presets"`
	Hand      string           `json:"hand"` // press, close, turn or trip; empty if hands can't move it
	Positions []string         `json:"positions"`
	Contacts  []string         `json:"contacts"`
	Loads     []string         `json:"loads"`
	From      int              `json:"from"`
	To        int              `json:"to"`
}

// DeskRung is a rung's contacts and loads by name.
type DeskRung struct {
	Number   int      `json:"number"`
	Contacts []string `json:"contacts"`
	Loads    []string `json:"loads"`
	From     int      `json:"from"`
	To       int      `json:"to"`
}

// DeskScript is a script's name, its end, and its actions as written.
type DeskScript struct {
	Name    string        `json:"name"`
	End     time.Duration `json:"end"`
	Actions []string      `json:"actions"`
	From    int           `json:"from"`
	To      int           `json:"to"`
}

// DeskNote is a teaching note of the text.
type DeskNote struct {
	Word string `json:"word"`
	Text string `json:"text"`
}

// DeskPart is what can be touched on a drawing.
type DeskPart struct {
	ID     string    `json:"id"`
	Kind   string    `json:"kind"` // contact, load or rung
	Box    DeskBox   `json:"box"`
	Device int       `json:"device"` // -1 for a rung
	Rung   int       `json:"rung"`
	Place  int       `json:"place"`  // among the rung's contacts or loads
	Signal string    `json:"signal"` // empty for a rung
	Whole  *DeskBox  `json:"whole,omitempty"`
	Ring   *DeskRing `json:"ring,omitempty"`
	Preset *DeskBox  `json:"preset,omitempty"`
	Words  string    `json:"words"`
}

// DeskRing is where a timer's ring stands.
type DeskRing struct {
	X page.Unit `json:"x"`
	Y page.Unit `json:"y"`
	R page.Unit `json:"r"`
}

// DeskDrawing is a circuit at rest, and what can be touched on it. Groups stand in
// an svg element whose view box begins at 0 0.
type DeskDrawing struct {
	Groups []DeskMark `json:"groups"`
	Width  page.Unit  `json:"width"`
	Height page.Unit  `json:"height"`
	Parts  []DeskPart `json:"parts"`
	Words  string     `json:"words"`
}

// DeskSheet is all that is known of a text.
type DeskSheet struct {
	Title       string           `json:"title"`
	Station     string           `json:"station"`
	Supply      string           `json:"supply"`
	Notes       []DeskNote       `json:"notes"`
	Cautions    []string         `json:"cautions"`
	ReadOnly    string           `json:"readOnly"`
	Diagnostics []DeskDiagnostic `json:"diagnostics"`
	Devices     []DeskDevice     `json:"devices"`
	Rungs       []DeskRung       `json:"rungs"`
	Scripts     []DeskScript     `json:"scripts"`
	Assumptions []string         `json:"assumptions"`
	Drawing     DeskDrawing      `json:"drawing"`
	Rows        []string         `json:"rows"`
}

// DeskMark is a group of a drawing, or of the marks on it. SVG is the inside of
// the group, empty if it is what was said before for this ID.
type DeskMark struct {
	ID    string `json:"id"`
	Class string `json:"class"`
	Shows string `json:"shows,omitempty"` // what it shows: KT1.notc:27
	SVG   string `json:"svg"`
}

// DeskClock is a timer whose time runs or stands above zero.
type DeskClock struct {
	Device  int           `json:"device"`
	Elapsed time.Duration `json:"elapsed"`
	Preset  time.Duration `json:"preset"`
	Running bool          `json:"running"`
}

// DeskInstant is what happened at one time, in sentences.
type DeskInstant struct {
	At        time.Duration `json:"at"`
	Sentences []string      `json:"sentences"`
}

// DeskNotice is something to look at.
type DeskNotice struct {
	At      time.Duration `json:"at"`
	Kind    string        `json:"kind"`
	Text    string        `json:"text"`
	Devices []int         `json:"devices"`
}

// DeskAction is what hands do. Device is -1 for the supply; Position belongs
// to turn, Presets to set, where 0 keeps the old one. Tag and To, where they are
// given, name the device and the position and count more than their places: a log
// outlives the text that it was made with.
type DeskAction struct {
	At       time.Duration    `json:"at"`
	Verb     string           `json:"verb"`
	Device   int              `json:"device"`
	Tag      string           `json:"tag"`
	Position int              `json:"position"`
	To       string           `json:"to"`
	Presets  [2]time.Duration `json:"presets"`
}

// DeskFrame is the board at an instant.
type DeskFrame struct {
	Now      time.Duration `json:"now"`
	Known    time.Duration `json:"known"` // how far it has been run
	From     time.Duration `json:"from"`  // the oldest instant on record
	Ended    string        `json:"ended"`
	Dropped  string        `json:"dropped"`
	Marks    []DeskMark    `json:"marks,omitzero"` // if the state differs from the last frame's
	Supply   bool          `json:"supply"`
	Hands    []int         `json:"hands"`
	On       []bool        `json:"on"`
	Clocks   []DeskClock   `json:"clocks"`
	Happened []DeskInstant `json:"happened,omitzero"`
	Notices  []DeskNotice  `json:"notices"`
	Next     time.Duration `json:"next"` // -1 for none
	Back     time.Duration `json:"back"`
	Words    string        `json:"words"`
	Events   int           `json:"events"`
	Log      []DeskAction  `json:"log,omitzero"` // if it changed
}

// DeskOpened is the answer to a text.
type DeskOpened struct {
	Sheet DeskSheet `json:"sheet"`
	Frame DeskFrame `json:"frame"`
	Left  int       `json:"left"` // actions that no longer fit the circuit
}

// DeskPlan says where things are on a chart.
type DeskPlan struct {
	Left   page.Unit     `json:"left"`
	Right  page.Unit     `json:"right"`
	Top    page.Unit     `json:"top"`
	Bottom page.Unit     `json:"bottom"`
	Scale  []DeskPoint   `json:"scale"`
	Square time.Duration `json:"square"`
	Rows   []DeskRow     `json:"rows"`
}

// DeskPoint is an instant and its place on a chart.
type DeskPoint struct {
	At time.Duration `json:"at"`
	X  page.Unit     `json:"x"`
}

// DeskRow is a row of a chart. Words are those for off and on; GivenHigh and
// GivenLow are the levels of a learner's line.
type DeskRow struct {
	Name      string    `json:"name"`
	Tag       string    `json:"tag"`
	Words     [2]string `json:"words"`
	Top       page.Unit `json:"top"`
	High      page.Unit `json:"high"`
	Low       page.Unit `json:"low"`
	Bottom    page.Unit `json:"bottom"`
	GivenHigh page.Unit `json:"givenHigh"`
	GivenLow  page.Unit `json:"givenLow"`
	Blank     bool      `json:"blank"`
	Start     bool      `json:"start"` // on or closed at the first instant
}

// DeskChart is a timing chart, and where things are on it.
type DeskChart struct {
	SVG    string    `json:"svg"`
	Width  page.Unit `json:"width"`
	Height page.Unit `json:"height"`
	Plan   DeskPlan  `json:"plan"`
	Words  string    `json:"words"`
	Events int       `json:"events"`
}

// DeskLine is a learner's line: where it begins and when it changes. Wrong is
// the first difference, -1 for none. Undrawn says that the row was left as it was.
type DeskLine struct {
	Row     string          `json:"row"`
	Start   bool            `json:"start"`
	Edges   []time.Duration `json:"edges"`
	Wrong   time.Duration   `json:"wrong"`
	Undrawn bool            `json:"undrawn"`
}

// DeskChartRequest asks for a chart: of the board's record if Script is -1,
// else of a script's whole run.
type DeskChartRequest struct {
	Script    int           `json:"script"`
	Rows      []string      `json:"rows"`
	From      time.Duration `json:"from"`
	To        time.Duration `json:"to"` // 0 for the end of what is known
	Width     page.Unit     `json:"width"`
	Blank     []string      `json:"blank"`
	Given     []DeskLine    `json:"given"`
	Square    time.Duration `json:"square"`
	Uncut     bool          `json:"uncut"`
	Tolerance time.Duration `json:"tolerance"` // of Reveal
}

// DeskReveal is the right lines with the learner's under them.
type DeskReveal struct {
	Rows  []DeskJudged `json:"rows"`
	Chart DeskChart    `json:"chart"`
}

// DeskJudged says whether a learner's line is right, or where it first isn't.
type DeskJudged struct {
	Row   string        `json:"row"`
	Right bool          `json:"right"`
	At    time.Duration `json:"at"`
	Words string        `json:"words"`
}

// DeskFile is a file for the user to keep.
type DeskFile struct {
	Name string `json:"name"`
	Type string `json:"type"` // media type
	Data []byte `json:"data"`
}
