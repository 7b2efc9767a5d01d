package trace_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"tarry/circuit"
	"tarry/trace"
)

func TestVCD(t *testing.T) {
	want := `$comment Dabs end: Two dabs $end
$timescale 1 ns $end
$scope module tarry $end
$scope module S1 $end
$var wire 1 ! no $end
$upscope $end
$scope module KT1 $end
$var wire 1 # coil $end
$var wire 1 % noto $end
$upscope $end
$scope module H1 $end
$var wire 1 ' load $end
$upscope $end
$upscope $end
$enddefinitions $end
#0
$dumpvars
0!
0#
0%
0'
$end
#1000000000
1!
1#
1%
1'
#1500000000
0!
0#
#3500000000
0%
0'
#6000000000
1!
1#
1%
1'
#6500000000
0!
0#
#8500000000
0%
0'
#10000000000
`
	if got := string(run(t, dabs).VCD()); got != want {
		t.Errorf("the dump is\n%s", got)
	}
}

// A pulse of no width fires an event variable; what ends as it began has no
// change of level.
func TestVCDKeepsPulsesOfNoWidth(t *testing.T) {
	text := run(t, blip).VCD()
	list, err := trace.ReadVCD(text)
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]trace.Recorded{}
	for _, r := range list {
		found[r.Name] = r
	}
	for name, at := range map[string]time.Duration{"tarry.H1": second, "tarry.H2": 2 * second} {
		level, pulse := found[name+".load"], found[name+".pulse_load"]
		if len(level.Changes) != 1 || level.Event {
			t.Errorf("%s has the changes %v", name, level)
		}
		if len(pulse.Changes) != 1 || !pulse.Event || pulse.Changes[0] != (trace.Level{At: at, On: true}) {
			t.Errorf("%s has the pulses %v", name, pulse)
		}
	}
}

// What is written can be read again: for every signal the level after each
// instant, and every pulse of no width.
func TestVCDRoundTrip(t *testing.T) {
	for i := range uint64(400) {
		r := randomRun(i)
		list, err := trace.ReadVCD(r.VCD())
		if err != nil {
			t.Fatalf("circuit %d: %v\n%s", i, err, r.VCD())
		}
		read := map[string]trace.Recorded{}
		for _, v := range list {
			read[v.Name] = v
		}
		for _, s := range r.Signals() {
			levels, pulses := levelsOf(r, s)
			name := vcdPath(r.Circuit, s)
			event := name[:strings.LastIndexByte(name, '.')] + ".pulse" + strings.Replace(name[strings.LastIndexByte(name, '.'):], ".", "_", 1)
			if got := fmt.Sprint(read[name].Changes); got != fmt.Sprint(levels) {
				t.Fatalf("circuit %d: %s is read as %s, not %v", i, name, got, levels)
			}
			if got := fmt.Sprint(read[event].Changes); got != fmt.Sprint(pulses) {
				t.Fatalf("circuit %d: %s is read as %s, not %v", i, event, got, pulses)
			}
		}
	}
}

// vcdPath is the name that a signal should have in a dump.
func vcdPath(c *circuit.Circuit, s circuit.Signal) string {
	name := c.SignalName(s)
	switch {
	case strings.Contains(name, "."):
	case c.Devices[s.Device].Kind.Info().Class == circuit.LoadOnly:
		name += ".load"
	default:
		name += ".coil"
	}
	return "tarry." + name
}

// levelsOf works out the level of a signal after each instant, and when it
// moved to and fro.
func levelsOf(r *trace.Trace, s circuit.Signal) (levels, pulses []trace.Level) {
	edges := r.Edges(s)
	levels = []trace.Level{{On: edges[0].On}}
	for i := 1; i < len(edges); {
		n := i
		for n < len(edges) && edges[n].At == edges[i].At {
			n++
		}
		if (n-i)%2 == 1 {
			levels = append(levels, trace.Level{At: edges[i].At, On: edges[n-1].On})
		}
		if n-i > 1 {
			pulses = append(pulses, trace.Level{At: edges[i].At, On: true})
		}
		i = n
	}
	return levels, pulses
}

func TestReadVCD(t *testing.T) {
	list, err := trace.ReadVCD([]byte(`$date today $end
$timescale
  10us
$end
$scope module top $end
$var reg 1 a lamp $end
$var wire 8 b bus [7:0] $end
$scope module inner $end $var wire 1 c x y $end $upscope $end
$var event 1 d go $end
$upscope $upscope $end
$enddefinitions $end
$dumpvars xa b00000000 b 1c $end
#3 1a b1010 b
#5 0a za 1d
#5 x? 1c
`))
	if err != nil {
		t.Fatal(err)
	}
	want := "[{top.lamp false [{0s false} {30µs true} {50µs false} {50µs false}]} " +
		"{top.inner.x false [{0s true} {50µs true}]} {top.go true [{50µs true}]}]"
	if got := fmt.Sprint(list); got != want {
		t.Errorf("read is\n%s\nnot\n%s", got, want)
	}
}

func TestReadVCDRefusesBadInput(t *testing.T) {
	for text, want := range map[string]string{
		"$var wire 1 a $end":                   "declared with 3 words",
		"$var":                                 "declared with 0 words",
		"$timescale 7 ns $end":                 `"7ns" is not 1, 10 or 100`,
		"$timescale 1 d $end":                  `"1d" is not known`,
		"$timescale ns $end":                   `"ns" is not 1, 10 or 100`,
		"$timescale $end":                      `"" is not 1, 10 or 100`,
		"#abc":                                 `"abc" is not a time`,
		"#":                                    `"" is not a time`,
		"#-5":                                  `"-5" is not a time`,
		"#99999999999999999999":                "is not a time",
		"$timescale 1 s $end #99999999999":     "is not a time",
		"#5 #4":                                "time runs backwards at #4",
		strings.Repeat("x", 1<<20+1):           "token too long",
		"$comment " + strings.Repeat("y", 2e6): "token too long",
	} {
		if _, err := trace.ReadVCD([]byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.40q gives %v, not %q", text, err, want)
		}
	}
	for _, text := range []string{"", "$end", "$scope", "$upscope $upscope", "0", "1", "b", "$comment never ended", "0!"} {
		if list, err := trace.ReadVCD([]byte(text)); err != nil || len(list) > 0 {
			t.Errorf("%q gives %v, %v", text, list, err)
		}
	}
}

// Levels are in order of time, whatever the text.
func FuzzReadVCD(f *testing.F) {
	f.Add(run(f, dabs).VCD())
	f.Add(run(f, blip).VCD())
	f.Add([]byte("$timescale 100 fs $end $var wire 1 ! a $end #5 1! #5 0! b1 !"))
	f.Add([]byte("$scope module a $end $var event 1 $ p $end 1$ #x"))
	f.Fuzz(func(t *testing.T, text []byte) {
		list, _ := trace.ReadVCD(text)
		for _, v := range list {
			last := time.Duration(0)
			for _, c := range v.Changes {
				if c.At < last {
					t.Fatalf("%s runs backwards: %v", v.Name, v.Changes)
				}
				last = c.At
			}
		}
	})
}
