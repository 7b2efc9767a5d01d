package outside

// Value change dumps read back, by our own reader and by sigrok-cli, which is
// written by others and reads dumps of any simulator. sigrok-cli takes samples
// of the wires and passes over the event variables that stand for pulses of no
// width, so it is held against the levels; our reader against both.

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"tarry/circuit"
	"tarry/library"
	"tarry/trace"
)

// eachRun plays every script of the library and of the worked examples.
func eachRun(t *testing.T, check func(t *testing.T, tr *trace.Trace)) {
	texts := map[string]string{"60 timers": manyWires()}
	for _, name := range files(t) {
		texts[name] = text(t, name)
	}
	for _, e := range library.All() {
		texts[e.Name+".tarry"] = string(e.Text)
	}
	for _, name := range slices.Sorted(maps.Keys(texts)) {
		c := read(t, name, texts[name])
		for i := range c.Scripts {
			s := &c.Scripts[i]
			t.Run(name+"/"+s.Name, func(t *testing.T) { check(t, play(t, c, s)) })
		}
	}
}

// manyWires writes a circuit of so many signals that their short names in the
// dump have two characters, with tags that are no identifiers elsewhere.
func manyWires() string {
	var b strings.Builder
	b.WriteString("S-1 selector off by-hand\n")
	for i := 1; i <= 60; i++ {
		fmt.Fprintf(&b, "KT-%d on-delay %d ms\n%d: S-1.by-hand -> KT-%d\n", i, 100*i, i, i)
		fmt.Fprintf(&b, "H-%d lamp\n%d: KT-%d.notc -> H-%d\n", i, 100+i, i, i)
	}
	b.WriteString("script \"All\"\n 1 s turn S-1 to by-hand\n 8 s turn S-1 to off\n end 9 s\n")
	return b.String()
}

// levels lists a signal's value at time zero and its changes after it, those
// of no width left out.
func levels(tr *trace.Trace, s circuit.Signal) []edge {
	list := edges(tr, s)
	var out []edge
	for i, e := range list {
		last := i+1 == len(list) || list[i+1].at > e.at
		if last && (len(out) == 0 || out[len(out)-1].on != e.on) {
			out = append(out, e)
		}
	}
	return out
}

// pulses lists when a signal moves to and fro in one instant.
func pulses(tr *trace.Trace, s circuit.Signal) []time.Duration {
	var out []time.Duration
	list := edges(tr, s)[1:]
	for i := 1; i < len(list); i++ {
		if at := list[i].at; at == list[i-1].at && (len(out) == 0 || out[len(out)-1] != at) {
			out = append(out, at)
		}
	}
	return out
}

// variable is the name that a signal has in a dump, scopes included.
func variable(c *circuit.Circuit, s circuit.Signal) string {
	name := "tarry." + c.SignalName(s)
	switch {
	case s.Contact != circuit.NoContact || s.Load != circuit.Main:
		return name
	case c.Devices[s.Device].Kind.Info().Class == circuit.LoadOnly:
		return name + ".load"
	}
	return name + ".coil"
}

func TestOwnReaderFindsEveryLevel(t *testing.T) {
	eachRun(t, func(t *testing.T, tr *trace.Trace) {
		list, err := trace.ReadVCD(tr.VCD())
		if err != nil {
			t.Fatal(err)
		}
		found := map[string]trace.Recorded{}
		for _, v := range list {
			if _, twice := found[v.Name]; twice {
				t.Errorf("%s stands twice", v.Name)
			}
			found[v.Name] = v
		}
		wanted := 0
		for _, s := range tr.Signals() {
			wanted += checkRecorded(t, tr, s, found)
		}
		if wanted != len(list) {
			t.Errorf("%d variables, not %d", len(list), wanted)
		}
	})
}

// checkRecorded holds a signal's variables against the trace and returns how
// many it must have: one for its level and one for its pulses.
func checkRecorded(t *testing.T, tr *trace.Trace, s circuit.Signal, found map[string]trace.Recorded) int {
	t.Helper()
	name := variable(tr.Circuit, s)
	wire := found[name]
	if got, want := recorded(wire), levels(tr, s); wire.Event || !slices.Equal(got, want) {
		t.Errorf("%s\n got %v\nwant %v", name, got, want)
	}
	want := pulses(tr, s)
	if len(want) == 0 {
		return 1
	}
	scopes, last := name[:strings.LastIndex(name, ".")+1], name[strings.LastIndex(name, ".")+1:]
	event := found[scopes+"pulse_"+last]
	var got []time.Duration
	for _, c := range event.Changes {
		got = append(got, c.At)
	}
	if !event.Event || !slices.Equal(got, want) {
		t.Errorf("pulses of %s\n got %v\nwant %v", name, got, want)
	}
	return 2
}

// recorded lists the changes of a variable; of several at one time the last
// counts.
func recorded(v trace.Recorded) []edge {
	var out []edge
	for _, c := range v.Changes {
		if n := len(out); n > 0 && out[n-1].at == c.At {
			out = out[:n-1]
		}
		out = append(out, edge{c.At, c.On})
	}
	return out
}

// sigrok returns the path of sigrok-cli.
func sigrok(t *testing.T) string {
	t.Helper()
	path, err := exec.LookPath("sigrok-cli")
	if err != nil {
		t.Fatalf("sigrok-cli is missing (%v): `make test` installs it, from Debian's package sigrok-cli", err)
	}
	return path
}

func TestSigrokFindsEveryLevel(t *testing.T) {
	tool, dir := sigrok(t), t.TempDir()
	eachRun(t, func(t *testing.T, tr *trace.Trace) {
		name := filepath.Join(dir, "run.vcd")
		if err := os.WriteFile(name, tr.VCD(), 0o644); err != nil {
			t.Fatal(err)
		}
		period := commonPeriod(tr)
		table := sample(t, tool, name, period)
		order := inDumpOrder(tr)
		if len(table) < 2 || len(table[0]) != len(order) {
			t.Fatalf("%d rows of samples, %d signals", len(table), len(order))
		}
		for column, s := range order {
			full := variable(tr.Circuit, s)
			if label := table[0][column]; !strings.HasSuffix(full, "."+label) {
				t.Errorf("column %d is %s, not %s", column, label, full)
			}
			got, want := changes(table[1:], column, period), within(levels(tr, s), tr.End)
			if !slices.Equal(got, want) {
				t.Errorf("%s\n got %v\nwant %v", full, got, want)
			}
		}
		if got := time.Duration(len(table)-1) * period; got != tr.End {
			t.Errorf("%v long, not %v", got, tr.End)
		}
	})
}

// commonPeriod returns the longest time up to 1 s of which every edge and the
// end are multiples, so that samples at that distance miss nothing.
func commonPeriod(tr *trace.Trace) time.Duration {
	period := commonDivisor(time.Second, tr.End)
	for _, r := range tr.Rows() {
		period = commonDivisor(period, r.At)
	}
	return period
}

func commonDivisor(a, b time.Duration) time.Duration {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// sample lets sigrok-cli read a dump and returns its samples, a row for each,
// under a row of names.
func sample(t *testing.T, tool, name string, period time.Duration) [][]string {
	t.Helper()
	var out, complaints bytes.Buffer
	cmd := exec.Command(tool, "-i", name, "-I", "vcd:downsample="+strconv.FormatInt(int64(period), 10),
		"-O", "csv:header=false:label=channel")
	cmd.Stdout, cmd.Stderr = &out, &complaints
	if err := cmd.Run(); err != nil || complaints.Len() > 0 {
		t.Fatalf("sigrok-cli: %v: %s", err, complaints.String())
	}
	rate, table, _ := strings.Cut(out.String(), "\n")
	if want := "META samplerate: " + strconv.Itoa(int(time.Second/period)); rate != want {
		t.Errorf("%q, not %q: the unit of time is wrong", rate, want)
	}
	rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// inDumpOrder sorts the signals as a dump declares them: device by device.
func inDumpOrder(tr *trace.Trace) []circuit.Signal {
	list := tr.Signals()
	slices.SortStableFunc(list, func(a, b circuit.Signal) int { return int(a.Device) - int(b.Device) })
	return list
}

// changes lists the first value of a column of samples and every change.
func changes(rows [][]string, column int, period time.Duration) []edge {
	var out []edge
	for i, row := range rows {
		on := row[column] == "1"
		if len(out) == 0 || out[len(out)-1].on != on {
			out = append(out, edge{time.Duration(i) * period, on})
		}
	}
	return out
}

// within leaves out what happens at the end, where no sample is taken.
func within(list []edge, end time.Duration) []edge {
	return slices.DeleteFunc(list, func(e edge) bool { return e.at >= end && e.at > 0 })
}
