package exercise

import (
	"fmt"
	"strings"
)

// A level is a circuit and a script with open times. The draft functions choose
// the times so that the same things happen in every variant; what comes out is run
// and held against the level's shape all the same.

// Level is one of the five kinds of exercise, from the first lesson on.
type Level struct {
	Name  string // contacts, timers, chain, seal-in, sequence
	About string // what it asks for, in a line
	Shape Shape  // that of every variant

	draft func(*lot, *setting) draft
}

// draft is an exercise before it is run. Times are in squares.
type draft struct {
	title   string
	devices []string // without the tag's place: "S1 | switch | Label"
	rungs   []string
	acts    []string
	end     int
	asked   []string
}

// setting is a place of the Orchard Line and what is there.
type setting struct {
	station, place string
	call           string    // what the switch says
	start, stop    string    // what the buttons say
	wait, next     string    // what on-delay timers are for
	after          string    // what an off-delay is for
	loads          [4]string // what runs; the first starts first
}

var settings = []setting{
	{"10 bin tipper", "the bin tipper", "Bin in place", "Tip", "Stop", "Tipper waits", "Gate waits", "Hooter runs on",
		[4]string{"Hooter", "Tipper", "Gate", "Shaker"}},
	{"20 wash tank and pumps", "the wash tank", "Water wanted", "Wash", "Stop", "Spray waits", "Drain waits", "Pump runs on",
		[4]string{"Pump", "Spray", "Drain", "Stirrer"}},
	{"30 drying tunnel", "the drying tunnel", "Fruit in the tunnel", "Dry", "Stop", "Heater waits", "Belt waits", "Fan runs on",
		[4]string{"Fan", "Heater", "Tunnel belt", "Damper"}},
	{"40 sizer", "the sizer", "Fruit at the sizer", "Run the sizer", "Stop", "Sizer waits", "Feed waits", "Outlet runs on",
		[4]string{"Outlet belt", "Sizer", "Feed belt", "Brush"}},
	{"50 packing belts", "the packing belts", "Belts wanted", "Start the belts", "Stop", "Middle belt waits", "Infeed belt waits", "Outfeed belt runs on",
		[4]string{"Outfeed belt", "Middle belt", "Infeed belt", "Labeller"}},
	{"60 cold room", "the cold room", "Cold wanted", "Cool", "Stop", "Compressor waits", "Second fan waits", "First fan runs on",
		[4]string{"First fan", "Compressor", "Second fan", "Valve"}},
	{"70 compressed air", "the air compressor", "Air wanted", "Start the compressor", "Stop", "Compressor waits", "Dryer waits", "Cooling runs on",
		[4]string{"Cooling", "Compressor", "Dryer", "Drain valve"}},
	{"80 ripening room and ventilation", "the ripening room", "Air change wanted", "Vent", "Stop", "Fan waits", "Heater waits", "Flap stays open",
		[4]string{"Flap", "Fan", "Heater", "Humidifier"}},
}

// Levels returns the levels, easiest first.
func Levels() []Level {
	return []Level{contactsLevel, timersLevel, chainLevel, sealLevel, sequenceLevel}
}

// FindLevel returns the level of a name, case not counting. The error lists the
// names that there are.
func FindLevel(name string) (Level, error) {
	var names []string
	for _, l := range Levels() {
		if strings.EqualFold(l.Name, strings.TrimSpace(name)) {
			return l, nil
		}
		names = append(names, l.Name)
	}
	return Level{}, fmt.Errorf("exercise: there is no level %q: choose one of %s", name, list(names, "or"))
}

func lamp(tag, label string) string { return tag + " | lamp white | " + label }

func timer(tag, function string, squares int, label string) string {
	return fmt.Sprintf("%s | %s %d s | %s", tag, function, squares, label)
}

func closed(at int, tag string, squares int) string {
	return fmt.Sprintf("%d s close %s for %d s", at, tag, squares)
}

func dab(at int, tag string) string { return fmt.Sprintf("%d s press %s for 1 s", at, tag) }

var contactsLevel = Level{Name: "contacts", About: "the four timed contacts of an on-delay and an off-delay timer, in any order",
	Shape: Shape{Rows: 4, Edges: 8, PerRow: "2 2 2 2", Hands: 4, Runs: 2, Cut: 1, Again: 1,
		Timers: "1 off-delay, 1 on-delay", Contacts: "1 nctc, 1 ncto, 1 notc, 1 noto"},
	draft: func(l *lot, p *setting) draft {
		t1 := l.from(4, 8)
		short := l.from(2, t1-1) // cut short
		gap := l.from(2, 5)
		t2 := gap + l.from(1, 3) // so the second press calls it off
		long := t1 + l.from(2, 5)
		at := l.from(1, 3)
		again := at + short + gap
		kinds := []string{"KT1.notc", "KT1.ncto", "KT2.noto", "KT2.nctc"}
		labels := p.loads
		l.shuffle(4, func(i, j int) { kinds[i], kinds[j] = kinds[j], kinds[i] })
		l.shuffle(4, func(i, j int) { labels[i], labels[j] = labels[j], labels[i] })
		d := draft{title: "Four contacts at " + p.place, end: again + long + t2 + l.from(2, 3),
			devices: []string{"S1 | switch | " + p.call, timer("KT1", "on-delay", t1, ""), timer("KT2", "off-delay", t2, "")},
			rungs:   []string{"S1.no -> KT1, KT2"},
			acts:    []string{closed(at, "S1", short), closed(again, "S1", long)}}
		for i, k := range kinds {
			tag := fmt.Sprintf("H%d", i+1)
			d.devices = append(d.devices, lamp(tag, labels[i]))
			d.rungs = append(d.rungs, k+" -> "+tag)
			d.asked = append(d.asked, tag)
		}
		return d
	}}

var timersLevel = Level{Name: "timers", About: "four functions of timers side by side, behind one switch",
	Shape: Shape{Rows: 4, Edges: 12, PerRow: "2 2 4 4", Hands: 4, Runs: 6, Cut: 1, Again: 1,
		Timers: "1 interval, 1 off-delay, 1 on-delay, 1 pulse", Contacts: "1 notc, 1 noto, 2 tno"},
	draft: func(l *lot, p *setting) draft {
		interval := l.from(2, 4)
		first := interval + l.from(1, 2)
		delay := first + l.from(1, 3)
		pulse := first + l.from(1, 2)
		gap := pulse - first + l.from(1, 3)
		off := gap + l.from(1, 3)
		second := max(delay, pulse) + l.from(1, 3)
		at := l.from(1, 3)
		again := at + first + gap
		d := draft{title: "Four timers at " + p.place, end: again + second + off + l.from(2, 3),
			devices: []string{"S1 | switch | " + p.call}, asked: []string{"H1", "H2", "H3", "H4"},
			acts: []string{closed(at, "S1", first), closed(again, "S1", second)}}
		order := []int{0, 1, 2, 3}
		l.shuffle(4, func(i, j int) { order[i], order[j] = order[j], order[i] })
		var coils []string
		for i, o := range order {
			tag := fmt.Sprintf("KT%d", i+1)
			function := []string{"on-delay", "off-delay", "interval", "pulse"}[o]
			contact := []string{"notc", "noto", "tno", "tno"}[o]
			d.devices = append(d.devices, timer(tag, function, []int{delay, off, interval, pulse}[o], ""))
			coils = append(coils, tag)
			d.rungs = append(d.rungs, tag+"."+contact+" -> "+d.asked[i])
		}
		for i, tag := range d.asked {
			d.devices = append(d.devices, lamp(tag, p.loads[i]))
		}
		d.rungs = append([]string{"S1.no -> " + strings.Join(coils, ", ")}, d.rungs...)
		return d
	}}

var chainLevel = Level{Name: "chain", About: "one on-delay timer starts the next",
	Shape: Shape{Rows: 3, Edges: 8, PerRow: "2 2 4", Hands: 6, Runs: 3, Cut: 2, Again: 0,
		Timers: "2 on-delay", Contacts: "1 ncto, 2 notc"},
	draft: func(l *lot, p *setting) draft {
		t1, t2 := l.from(3, 6), l.from(3, 6)
		holds := []int{l.from(2, t1-1), t1 + l.from(1, t2-1)} // cuts the first timer short, then the second
		if l.below(2) == 1 {
			holds[0], holds[1] = holds[1], holds[0]
		}
		holds = append(holds, t1+t2+l.from(2, 4))
		d := draft{title: "Two delays in a chain at " + p.place, asked: []string{"H1", "H2", "H3"},
			devices: []string{"S1 | switch | " + p.call, timer("KT1", "on-delay", t1, p.wait), timer("KT2", "on-delay", t2, p.next),
				lamp("H1", p.loads[1]), lamp("H2", p.loads[2]), lamp("H3", p.loads[3])},
			rungs: []string{"S1.no -> KT1", "KT1.notc -> KT2, H1", "KT2.notc -> H2", "KT2.ncto -> H3"}}
		at := l.from(1, 3)
		for _, hold := range holds {
			d.acts = append(d.acts, closed(at, "S1", hold))
			d.end = at + hold + l.from(2, 3)
			at += hold + l.from(2, 4)
		}
		return d
	}}

var sealLevel = Level{Name: "seal-in", About: "buttons, a coil that holds itself, and its timed contacts",
	Shape: Shape{Rows: 4, Edges: 12, PerRow: "2 2 4 4", Hands: 10, Runs: 2, Cut: 1, Again: 1,
		Timers: "1 off-delay, 1 on-delay", Contacts: "1 ncto, 1 notc, 1 noto"},
	draft: func(l *lot, p *setting) draft {
		t1 := l.from(4, 8)
		first := l.from(2, t1-1) // stopped before its time
		gap := l.from(2, 5)
		t2 := gap + l.from(1, 3)
		at := l.from(1, 3)
		again := at + first + gap
		idle := again + l.from(2, t1+3) // a press while it runs
		for idle == again+t1 || idle+1 == again+t1 {
			idle++
		}
		stop := max(again+t1, idle+1) + l.from(2, 4)
		return draft{title: "A sealed start at " + p.place, end: stop + t2 + l.from(2, 3), asked: []string{"KT1", "H1", "H2", "H3"},
			devices: []string{"S0 | button | " + p.stop, "S1 | button | " + p.start,
				timer("KT1", "on-delay", t1, p.wait), timer("KT2", "off-delay", t2, p.after),
				lamp("H1", p.loads[1]), lamp("H2", p.loads[0]), lamp("H3", "Please wait")},
			rungs: []string{"S0.nc (S1.no | KT1.no) -> KT1", "KT1.no -> KT2", "KT1.notc -> H1", "KT2.noto -> H2", "KT1.no KT1.ncto -> H3"},
			acts:  []string{dab(at, "S1"), dab(at+first, "S0"), dab(again, "S1"), dab(idle, "S1"), dab(stop, "S0")}}
	}}

var sequenceLevel = Level{Name: "sequence", About: "three drives that start one after another, and one that runs on",
	Shape: Shape{Rows: 4, Edges: 12, PerRow: "2 2 4 4", Hands: 8, Runs: 4, Cut: 1, Again: 1,
		Timers: "1 off-delay, 2 on-delay", Contacts: "2 notc, 1 noto"},
	draft: func(l *lot, p *setting) draft {
		t1, t2 := l.from(3, 6), l.from(3, 6)
		at := l.from(1, 3)
		stop := at + t1 + t2 + l.from(2, 5)
		gap := l.from(2, 5)
		t3 := gap + l.from(1, 3)
		again := stop + gap
		last := again + t1 + l.from(1, t2-1) // before the third starts
		return draft{title: "Three drives in turn at " + p.place, end: last + t3 + l.from(2, 3), asked: []string{"K1", "M1", "M2", "M3"},
			devices: []string{"S0 | button | " + p.stop, "S1 | button | " + p.start, "K1 | relay | Started",
				timer("KT1", "on-delay", t1, p.wait), timer("KT2", "on-delay", t2, p.next), timer("KT3", "off-delay", t3, p.after),
				"M1 | contactor | " + p.loads[0], "M2 | contactor | " + p.loads[1], "M3 | contactor | " + p.loads[2]},
			rungs: []string{"S0.nc (S1.no | K1.no) -> K1", "K1.no -> KT1, KT3", "KT3.noto -> M1", "KT1.notc -> KT2, M2", "KT2.notc -> M3"},
			acts:  []string{dab(at, "S1"), dab(stop, "S0"), dab(again, "S1"), dab(last, "S0")}}
	}}
