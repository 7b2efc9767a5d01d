package schematic_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"tarry/circuit"
	"tarry/internal/oracle"
	"tarry/library"
	"tarry/notation"
	"tarry/page"
	"tarry/schematic"
)

// What the tests of whole drawings share: the library, circuits made to be
// awkward, and random ones. The rest of the file looks at how drawings are laid
// out on pages.

type named struct {
	name    string
	circuit *circuit.Circuit
}

func libraryCircuits(t testing.TB) (list []named) {
	for _, e := range library.All() {
		list = append(list, named{e.Name, read(t, string(e.Text))})
	}
	return list
}

// read reads a circuit; what is wrong with its text does not matter here.
func read(t testing.TB, text string) *circuit.Circuit {
	t.Helper()
	f, _ := notation.Read("test.tarry", []byte(text))
	return f.Circuit
}

// rungsOf writes the first rungs of a circuit.
func rungsOf(c *circuit.Circuit) string {
	var rungs []string
	for _, line := range strings.Split(oracle.Describe(c, &circuit.Script{}), "\n") {
		if strings.Contains(line, "->") && len(rungs) < 15 {
			rungs = append(rungs, line)
		}
	}
	return strings.Join(rungs, "\n")
}

// randomRuns returns the seed and the number of random circuits, as for the
// other random tests.
func randomRuns(t *testing.T, runs int) (uint64, int) {
	t.Helper()
	seed := 1
	for name, p := range map[string]*int{"ORACLE_SEED": &seed, "ORACLE_RUNS": &runs} {
		if s := os.Getenv(name); s != "" {
			n, err := strconv.Atoi(s)
			if err != nil {
				t.Fatalf("%s=%s is no number", name, s)
			}
			*p = n
		}
	}
	t.Logf("seed %d, %d circuits", seed, runs)
	return uint64(seed), runs
}

// devices are what the awkward circuits are made of.
const devices = `circuit "Awkward"
supply 24 V dc rails L N
S1 button "Start"
S2 button "Stop"
S3 selector hand off auto "Way of working"
B1 float "Sump"
F1 overload "Pump"
K1 relay
K2 contactor
KT1 on-delay 4 s "Run-up"
KT2 off-delay 3 s "Run-on"
KT3 accumulating 5 s
H1 lamp green "Ready"
H2 lamp red "Fault"
M1 motor "Pump"
`

// nasty are rungs that a drawing is easily caught out by.
var nasty = map[string]string{
	"nets before and after": devices + `
1: @feed S1.no @x K1.no -> K1
2: S2.nc @feed K2.nc -> K2
3: @x B1.no -> H1
`,
	"mid-path nets": devices + `
1: S1.no @a S2.nc @b K1.no @c K2.nc -> K1
2: @b KT1.notc @a -> H1
3: @c KT2.noto -> @a
`,
	"nets inside groups": devices + `
1: S1.no (K1.no @a K2.no | KT1.notc @b KT2.nctc | S2.nc) B1.no -> K1
2: @a S3.auto -> @b
3: @b -> H1
`,
	"a circle of ties": devices + `
1: S1.no @a -> K1
2: @a K1.no -> @b
3: @b K2.no -> @c
4: @c S2.nc -> @a
5: @c -> K2
`,
	"ties of the rails": devices + `
1: S1.no -> @a
2: @a K1.no -> @N
3: @a K2.no -> @L
4: @N B1.no -> @b
5: @b S2.nc -> @L
6: @a -> H1 -> @b
7: @N S3.hand -> K1 -> @L
`,
	"nets on both sides": devices + `
1: S1.no @a -> K1 -> F1.nc @z
2: @z K2.no -> @a
3: @z S2.nc -> @N
4: @a -> H1 -> K1.no @z
5: @z B1.no -> H2
6: S3.auto -> K2 -> @z K1.nc @y KT1.ncto
7: @y KT2.noto -> @z
`,
	"self-ties": devices + `
1: @a S1.no -> @a
2: @a K1.no -> K1
3: S2.nc -> @a
4: @a -> @a
5: @b S1.no -> H1 -> @b
`,
	"empty paths": devices + `
1: @L -> H1
2: @a -> H2
3: S1.no -> @a
4: @a -> @b
5: @b -> @c
6: @c -> K1
7: @b S2.nc -> @c
`,
	"several loads": devices + `
1: S1.no (K1.no | B1.no | F1.nc) -> K1, KT1, H1, M1 -> F1.nc (S2.nc | K2.no)
2: (S1.no | (S2.nc K1.no | K2.no B1.no) KT1.notc) -> K2, H2
`,
	"four groups deep": devices + `
1: (S1.no (K1.no (S2.nc | B1.no (F1.nc | K2.no)) | KT1.notc) | (S3.hand | S3.auto) (K1.nc | K2.nc)) -> K1
2: (S1.no (K1.no (S2.nc | B1.no (F1.nc @a | @b K2.no)) | KT1.notc) | @c) @d -> K2
3: @a K1.no -> @b
4: @c K2.no -> @d
`,
	"nets at the ends of groups": devices + `
1: (@a S1.no @b | @b S2.nc @a) -> K1
2: (@c | S1.no) (@c B1.no | K1.no @d) @d -> K2
3: @b (K1.no | K2.no @c) -> @a
`,
	"names like the letters of references": devices + `
1: @a S1.no K1.no S2.nc K2.no B1.no F1.nc S3.auto K1.nc K2.nc KT1.notc KT2.noto K1.no K2.no S1.nc -> K1
2: S2.nc -> @a
3: @b S1.no -> @b
4: @c K1.no S2.nc K2.no B1.no F1.nc S3.auto K1.nc K2.nc KT1.notc KT2.noto K1.no K2.no S1.nc -> @b
5: @b -> H1
6: @c -> H2
`,
	"rails joined": devices + `
1: @L -> @a
2: @a -> @N
3: S1.no -> K1
`,
	"bridged contacts": devices + `
1: @a S1.no @a -> K1
2: (S2.nc | @b) -> @b
3: S1.no -> @a
4: (B1.no @c | @c) -> H1
`,
	"notation errors": devices + `
1: S1.no K9.no (S2.nc | KT1.noto) -> K1
2: S1.on -> K2, H9
3: -> H1
4: K1.no ->
5: ((K1.no -> H2
`,
}

// builder makes a random circuit.
type builder struct {
	*rand.Rand
	c     *circuit.Circuit
	nets  []string
	loads []circuit.Load
}

// randomCircuit makes a circuit whose rungs are as crooked as the notation
// allows: nets at any point, groups in groups, ties from anywhere to anywhere,
// returns, rails where they do not belong. Nothing about it need make sense.
func randomCircuit(rng *rand.Rand) *circuit.Circuit {
	if rng.IntN(6) == 0 {
		c, _ := oracle.Random(rng)
		c.Title = "Random"
		return c
	}
	b := &builder{Rand: rng, c: &circuit.Circuit{Title: "Random", Supply: circuit.Supply{Rails: [2]string{"L", "N"}}}}
	b.nets = []string{"L", "N", "a", "b", "c", "feed", "lit"}[:2+rng.IntN(6)]
	b.makeDevices()
	for i := range 1 + rng.IntN(12) {
		r := circuit.Rung{Number: i + 1, Path: b.path(3, 0)}
		if b.IntN(4) == 0 {
			r.Tie = b.net()
		} else {
			r.Loads = b.someLoads()
			if b.IntN(3) == 0 {
				r.Return = b.path(2, 0)
			}
		}
		b.c.Rungs = append(b.c.Rungs, r)
	}
	return b.c
}

func (b *builder) net() string { return b.nets[b.IntN(len(b.nets))] }

func (b *builder) makeDevices() {
	labels := []string{"", "", "Pump", "Warning time, shown on the board of the packing hall"}
	for _, k := range circuit.Kinds() {
		d := circuit.Device{Tag: fmt.Sprintf("X%d", len(b.c.Devices)), Kind: k.Kind, Label: labels[b.IntN(len(labels))], Count: 1}
		if b.IntN(8) == 0 {
			d.Tag += "_ABCDEFGHIJKLM"
		}
		if k.Kind == circuit.Selector {
			d.Positions = []string{"hand", "off", "auto"}
		}
		b.addDevice(d)
		for i := 0; k.Kind == circuit.Timer && i < len(circuit.Functions()); i++ {
			f := circuit.Functions()[i]
			d.Tag, d.Function, d.Presets[0] = fmt.Sprintf("T%d", len(b.c.Devices)), f.Function, 4*time.Second
			d.Presets[1] = time.Duration(f.Times-1) * 90 * time.Second
			b.addDevice(d)
		}
	}
}

func (b *builder) addDevice(d circuit.Device) {
	if d.Kind == circuit.Timer && d.Function == circuit.NoFunction {
		return
	}
	id := circuit.DeviceID(len(b.c.Devices))
	b.c.Devices = append(b.c.Devices, d)
	for part := circuit.Main; part <= circuit.Delta; part++ {
		if d.TakesLoad(part) {
			b.loads = append(b.loads, circuit.Load{Device: id, Part: part})
		}
	}
}

func (b *builder) someLoads() (list []circuit.Load) {
	for range 1 + b.IntN(4)*b.IntN(2) {
		list = append(list, b.loads[b.IntN(len(b.loads))])
	}
	return list
}

func (b *builder) path(depth, least int) (p circuit.Path) {
	n := max(least, b.IntN(4))
	if b.IntN(25) == 0 {
		n += 12
	}
	for range n {
		switch {
		case b.IntN(6) == 0:
			p = append(p, circuit.Item{Net: b.net()})
		case depth > 0 && b.IntN(3) == 0:
			var g circuit.Item
			for range 2 + b.IntN(2) {
				g.Branches = append(g.Branches, b.path(depth-1, 1))
			}
			p = append(p, g)
		default:
			p = append(p, circuit.Item{Contact: b.contact()})
		}
	}
	return p
}

func (b *builder) contact() circuit.Contact {
	for {
		id := circuit.DeviceID(b.IntN(len(b.c.Devices)))
		d := &b.c.Devices[id]
		switch {
		case d.Kind == circuit.Selector:
			return circuit.Contact{Device: id, Kind: circuit.AtPosition, Position: b.IntN(3)}
		case d.Kind == circuit.Timer && b.IntN(2) == 0:
			return circuit.Contact{Device: id, Kind: d.Function.Info().Contacts[b.IntN(2)]}
		case d.Kind.Info().Plain:
			return circuit.Contact{Device: id, Kind: circuit.NO + circuit.ContactKind(b.IntN(2))}
		}
	}
}

// ladder is a circuit of many rungs, each with a coil of its own.
func ladder(rungs int) *circuit.Circuit {
	var b strings.Builder
	b.WriteString("circuit \"Long\"\nsupply 24 V dc rails L N\nS1 button \"Start\"\nS2 button \"Stop\"\n")
	for i := range rungs {
		switch i % 3 {
		case 0:
			fmt.Fprintf(&b, "K%d relay\n", i)
		case 1:
			fmt.Fprintf(&b, "K%d on-delay %d s \"Step %d\"\n", i, i+1, i)
		default:
			fmt.Fprintf(&b, "K%d off-delay %d s\n", i, i+1)
		}
	}
	for i := range rungs {
		fmt.Fprintf(&b, "%d: ", i+1)
		if i%7 == 3 {
			fmt.Fprintf(&b, "@n%d ", i/7)
		}
		fmt.Fprintf(&b, "S2.nc (S1.no | K%d.no) K%d.nc ", i, (i+1)%rungs)
		if i%5 == 2 {
			fmt.Fprintf(&b, "@n%d ", i/7)
		}
		fmt.Fprintf(&b, "K%d.no -> K%d\n", (i*7)%rungs, i)
	}
	f, _ := notation.Read("long.tarry", []byte(b.String()))
	return f.Circuit
}

func TestReadBackSixtyRungs(t *testing.T) {
	c := ladder(60)
	report(t, "sixty rungs", c, checkDrawing(c, waysToDraw()))
}

// TestPagesFitTheRoom draws the library into the rooms of A4: no page is larger
// than the room that it was given.
func TestPagesFitTheRoom(t *testing.T) {
	list := append(libraryCircuits(t), named{"sixty rungs", ladder(60)})
	for _, e := range list {
		for _, opt := range waysToDraw() {
			if opt.Bare = true; opt.Width == 0 {
				continue // a sheet has its own heading and foot
			}
			for n, p := range schematic.Draw(e.circuit, opt) {
				if p.Width > opt.Width || p.Height > opt.Height {
					t.Errorf("%s, layout %d: page %d is %v x %v, more than %v x %v", e.name, opt.Layout, n+1, p.Width, p.Height, opt.Width, opt.Height)
				}
			}
		}
	}
}

// TestSameEachTime draws twice: the same circuit is the same drawing.
func TestSameEachTime(t *testing.T) {
	seed, runs := randomRuns(t, 50)
	ways := waysToDraw()
	for i := range runs {
		c := randomCircuit(rand.New(rand.NewPCG(seed, uint64(i))))
		opt := ways[i%len(ways)]
		if listing(c, opt) != listing(c, opt) {
			t.Fatalf("circuit %d of seed %d is drawn in two ways\n%s", i, seed, rungsOf(c))
		}
	}
}

func listing(c *circuit.Circuit, opt schematic.Options) string {
	text := ""
	for _, p := range schematic.Draw(c, opt) {
		text += page.List(p)
	}
	return text
}

// crowded has labels and tags as long as they may be.
func crowded() *circuit.Circuit {
	label := strings.TrimSpace(strings.Repeat("A long story of what this one is for. ", 5))[:188] + " and so on."
	text := fmt.Sprintf("circuit %q\nsupply 24 V dc rails SUPPLY_OF_PANEL1 RETURN_OF_PANEL1\n", label)
	for _, d := range []string{"ABCDEFGHIJKLMNOP button", "BCDEFGHIJKLMNOPQ selector", "CDEFGHIJKLMNOPQR on-delay 90 min", "DEFGHIJKLMNOPQRS flasher 1.25 s 2.75 s",
		"EFGHIJKLMNOPQRST lamp amber", "FGHIJKLMNOPQRSTU limit", "GHIJKLMNOPQRSTUV overload"} {
		text += fmt.Sprintf("%s %q\n", d, label)
	}
	text += `1: ABCDEFGHIJKLMNOP.no @a_net_of_16_char (BCDEFGHIJKLMNOPQ.on | CDEFGHIJKLMNOPQR.no) -> CDEFGHIJKLMNOPQR, DEFGHIJKLMNOPQRS -> GHIJKLMNOPQRSTUV.nc
1234: @a_net_of_16_char DEFGHIJKLMNOPQRS.tno FGHIJKLMNOPQRSTU.nc ABCDEFGHIJKLMNOP.nc BCDEFGHIJKLMNOPQ.off FGHIJKLMNOPQRSTU.no CDEFGHIJKLMNOPQR.notc CDEFGHIJKLMNOPQR.ncto -> EFGHIJKLMNOPQRST
1235: FGHIJKLMNOPQRSTU.no -> @a_net_of_16_char
`
	f, _ := notation.Read("crowded.tarry", []byte(text))
	return f.Circuit
}

func TestCrowdedWords(t *testing.T) {
	c := crowded()
	if len(c.Rungs) != 3 || len(c.Devices[0].Label) < 190 {
		t.Fatalf("%d rungs, a label of %d characters", len(c.Rungs), len(c.Devices[0].Label))
	}
	report(t, "long labels and tags", c, checkDrawing(c, waysToDraw()))
	for _, p := range schematic.Draw(c, schematic.Options{}) {
		all := strings.Join(textsOf(p, "words"), " ")
		if n := strings.Count(all, "and so on."); n < 10 {
			t.Errorf("only %d labels are whole", n)
		}
	}
}

// TestHighGroupsAndManyLoads breaks what is higher than a page.
func TestHighGroupsAndManyLoads(t *testing.T) {
	lamps, manyLoads := "", ""
	for i := range 40 {
		lamps += fmt.Sprintf("H%d lamp\n", i+10)
		if i != 20 {
			manyLoads += fmt.Sprintf(", H%d", i+10)
		}
	}
	many := strings.Repeat("S1.no | S3.auto (S2.nc | B1.no @mid) | ", 20)
	c := read(t, devices+lamps+"1: S2.nc ("+many+"F1.nc) -> K1"+manyLoads+" -> F1.nc S1.nc\n2: ("+strings.ReplaceAll(many, " @mid", "")+"S2.no) -> H30\n")
	report(t, "forty branches", c, checkDrawing(c, waysToDraw()))
	for _, opt := range waysToDraw() {
		if opt.Bare = true; opt.Width == 0 {
			continue
		}
		for _, p := range schematic.Draw(c, opt) {
			if p.Width > opt.Width || p.Height > opt.Height {
				t.Errorf("layout %d: a page of %v x %v, more than %v x %v", opt.Layout, p.Width, p.Height, opt.Width, opt.Height)
			}
		}
	}
}

// TestFaultyTextIsDrawn draws what was understood of a text with errors.
func TestFaultyTextIsDrawn(t *testing.T) {
	c := read(t, nasty["notation errors"])
	pages := schematic.Draw(c, schematic.Options{})
	for _, id := range []string{"K1", "H1"} {
		if classes(pages, "load")[id] == 0 {
			t.Errorf("%s is not drawn", id)
		}
	}
	fault := "line 12: nothing is called K9"
	for _, opt := range waysToDraw() {
		opt.Faults = []string{fault, strings.Repeat("a long fault ", 40)}
		for _, p := range schematic.Draw(c, opt) {
			if f := page.Faults(p); len(f) > 0 || !slices.Contains(textsOf(p, "words"), fault) {
				t.Errorf("the fault is not below the drawing, or not well: %q", f)
			}
		}
	}
	if classes(pages, "contact")["S1.no:13"] == 0 {
		t.Error("S1 is not drawn")
	}
}

// TestUnfinishedRungs draws rungs that no text without errors has.
func TestUnfinishedRungs(t *testing.T) {
	c := read(t, nasty["several loads"])
	c.Rungs[0].Loads, c.Rungs[1].Loads = nil, nil
	c.Rungs = append(c.Rungs, circuit.Rung{Number: 7}, circuit.Rung{Number: 8, Path: circuit.Path{{Net: "a"}}, Tie: "a"})
	report(t, "rungs without loads", c, checkDrawing(c, waysToDraw()))
}

func TestEmptyCircuit(t *testing.T) {
	for _, c := range []*circuit.Circuit{read(t, ""), read(t, devices)} {
		for _, opt := range waysToDraw() {
			pages := schematic.Draw(c, opt)
			if len(pages) != 1 || !strings.Contains(page.List(pages[0]), "Nothing is wired yet.") {
				t.Fatalf("%d pages; the first:\n%s", len(pages), page.List(pages[0]))
			}
			if f := page.Faults(pages[0]); len(f) > 0 {
				t.Error(f)
			}
		}
	}
}

// TestNarrowDrawings draws the library for a telephone: nothing collides, the
// wiring stays what it is, and a page is hardly wider than it was asked to be,
// so that letters stay large enough to read. What a first lesson shows fits.
func TestNarrowDrawings(t *testing.T) {
	for _, e := range libraryCircuits(t) {
		for _, opt := range narrowWays() {
			room := opt.Width * 14 / 10
			switch e.name[:2] {
			case "01", "02", "03", "05", "08", "22":
				room = opt.Width
			}
			for _, opt.MarkRoom = range []bool{false, true} {
				report(t, e.name, e.circuit, checkDrawing(e.circuit, []schematic.Options{opt}))
				for n, p := range schematic.Draw(e.circuit, opt) {
					if p.Width > room {
						t.Errorf("%s: page %d is %v wide, %v were asked for", e.name, n+1, p.Width, opt.Width)
					}
				}
			}
		}
	}
}
