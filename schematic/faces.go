package schematic

import (
	"tarry/circuit"
	"tarry/page"
)

// faces remembers how deep symbols are and how words fold: a drawing has many
// of few kinds.
type faces struct {
	labels   map[string][]words
	feet     map[page.Unit][]string // the lines below a page, by its width
	contacts map[contactFace]depths
	loads    map[loadFace]depths
}

func newFaces() faces {
	return faces{map[string][]words{}, map[page.Unit][]string{}, map[contactFace]depths{}, map[loadFace]depths{}}
}

func (l *layout) contactDepths(f contactFace) depths {
	d, ok := l.faces.contacts[f]
	if !ok {
		d = l.family.contactDepths(f)
		l.faces.contacts[f] = d
	}
	return d
}

func (l *layout) loadDepths(f loadFace) depths {
	f.tag = "" // written beside the symbol
	d, ok := l.faces.loads[f]
	if !ok {
		d = l.family.loadDepths(f)
		l.faces.loads[f] = d
	}
	return d
}

// symbolOf returns the depths and the words of a seat.
func (l *layout) symbolOf(s seat) (depths, block) {
	if s.contact >= 0 {
		k := l.wiring.Contacts[s.contact].Contact
		return l.contactDepths(faceOf(l.circuit, k)), l.contactBlock(k)
	}
	k := l.wiring.Loads[s.load].Load
	d := l.loadDepths(loadFaceOf(l.circuit, k))
	if l.marked() { // room for the disc
		d = depths{max(d.plus, litLettered), max(d.minus, litLettered)}
	}
	return d, l.loadBlock(k)
}

// contactsByDevice lists the contacts of each device as places in
// Wiring.Contacts.
func contactsByDevice(c *circuit.Circuit, w *circuit.Wiring) [][]int {
	list := make([][]int, len(c.Devices))
	for i, k := range w.Contacts {
		list[k.Device] = append(list[k.Device], i)
	}
	return list
}

// box is how far something reaches from the middle of its cell: along to both
// sides, across before (towards the first rung) and after.
type box struct {
	along         page.Unit
	before, after page.Unit
}

// seatBox works out the room of a seat.
func (l *layout) seatBox(s seat) box {
	d, b := l.symbolOf(s)
	marks := page.Unit(0)
	if l.marked() && s.contact >= 0 {
		marks = markRoom
	}
	if l.opt.Layout == Paths {
		return l.pathBox(s, d, b, marks)
	}
	out := box{max(reach+l.stub(), b.width()/2+110), max(d.plus, numberDepth) + 90 + b.tag.height(), wordsUnder(d, marks) + b.below()}
	if s.load >= 0 {
		k := l.wiring.Loads[s.load].Load
		if ring := l.ringWidth(k); ring > 0 {
			out.along = max(out.along, ring/2+100)
			out.after += ringRoom
		}
		if lines := len(l.placeLines(k)); lines > 1 {
			out.after = max(out.after, page.Unit(lines)*placeLine)
		}
	}
	return out
}

// wordsUnder is how far below a rung the words of a symbol begin. Those of a
// symbol that does not reach below its rung keep clear of the wire.
func wordsUnder(d depths, marks page.Unit) page.Unit { return max(d.minus, wireClear) + marks + 70 }

// pathBox is the room of a seat in a current path: its words stand on the
// left, its terminals and the wire number on the right.
func (l *layout) pathBox(s seat, d depths, b block, marks page.Unit) box {
	text, high := b.width(), l.high(s, b)
	var table page.Unit
	if s.load >= 0 {
		k := l.wiring.Loads[s.load].Load
		if ring := l.ringWidth(k); ring > 0 {
			text = max(text, ring)
		}
		table = l.tableOf(k).width()
	}
	return box{max(reach+pathStub, high/2+80), max(l.wordsOff(d, high, marks)+text, table), max(d.plus+60, l.numberWide+140, table)}
}

// wordsOff is how far left of a path the words of a symbol end. High words
// keep clear of the wire number.
func (l *layout) wordsOff(d depths, high, marks page.Unit) page.Unit {
	off := d.minus + marks + 130
	if high/2 > reach {
		off = max(off, l.numberWide+260)
	}
	return off
}

// high is the height of a seat's words in a path.
func (l *layout) high(s seat, b block) page.Unit {
	if s.load >= 0 && l.ringWidth(l.wiring.Loads[s.load].Load) > 0 {
		return b.height() + ringRoom
	}
	return b.height()
}
