package notation

import (
	"strconv"
	"strings"

	"tarry/circuit"
)

// cellsOf lays out a line without faults.
func cellsOf(n node) row {
	switch n := n.(type) {
	case *textNode:
		return row{class: classText, cells: []string{n.key.text, quote(n.text)}}
	case *supplyNode:
		return plain(n.print())
	case *deviceNode:
		return n.cells()
	case *rungNode:
		return n.cells()
	case *plantNode:
		return plain(n.print())
	case *pinNode:
		return plain("wire @" + n.net.text + " " + strconv.Itoa(n.number))
	case *scriptNode:
		return plain("script " + quote(n.name.text))
	case *actionNode:
		return row{class: classAction, indent: "  ", cells: []string{n.at.print(), n.print()}}
	case *endNode:
		return row{indent: "  ", cells: []string{"end " + n.time.print()}}
	case *expectNode:
		return row{indent: "  ", cells: []string{n.print()}}
	}
	panic("notation: a node without a printed form")
}

func plain(text string) row { return row{cells: []string{text}} }

func quote(text string) string { return `"` + text + `"` }

func (n *supplyNode) print() string {
	text := "supply " + n.number + " V dc"
	if n.ac {
		text = "supply " + n.number + " V ac"
	}
	if n.rails[0].text != "" {
		text += " rails " + n.rails[0].text + " " + n.rails[1].text
	}
	return text
}

func (n *deviceNode) cells() row {
	kind := n.kind.String()
	if n.kind == circuit.Timer {
		kind = n.function.String()
	}
	var b strings.Builder
	b.WriteString(kind)
	for i := range n.params {
		if n.params[i].comma {
			b.WriteByte(',')
		}
		b.WriteString(" " + n.params[i].print())
	}
	r := row{class: classDevice, cells: []string{n.tag.text, b.String()}}
	if n.labelled {
		r.cells = append(r.cells, quote(n.label))
	}
	return r
}

func (p *param) print() string {
	switch p.kind {
	case parTime:
		return p.time.print()
	case parTolerance:
		return "+-" + percent(p.share)
	case parOperate:
		return "operate " + p.time.print()
	case parRelease:
		return "release " + p.time.print()
	case parGap:
		return "gap " + p.time.print()
	case parStartingOff:
		return "starting off"
	}
	return p.text
}

// percent writes a share given in 1/100 %.
func percent(share int) string {
	text := strconv.Itoa(share / 100)
	if rest := share % 100; rest != 0 {
		text += "." + strings.TrimRight(strconv.Itoa(100 + rest)[1:], "0")
	}
	return text + "%"
}

// print writes a time with the numbers and units that it was written with.
func (t *timeLit) print() string {
	var parts []string
	for _, p := range t.parts {
		parts = append(parts, p.number+" "+p.unit)
	}
	return strings.Join(parts, " ")
}

func (n *rungNode) cells() row {
	tail := "-> "
	if n.tie.text != "" {
		tail += "@" + n.tie.text
	}
	for i, load := range n.loads {
		if i > 0 {
			tail += ", "
		}
		tail += load.tag.text
		if load.part.text != "" {
			tail += "." + load.part.text
		}
	}
	if len(n.back) > 0 {
		tail += " -> " + n.back.print()
	}
	return row{class: classRung, cells: []string{strconv.Itoa(n.number) + ":", n.path.print(), tail}}
}

func (n pathNode) print() string {
	var b strings.Builder
	n.write(&b)
	return b.String()
}

func (n pathNode) write(b *strings.Builder) {
	for i := range n {
		if i > 0 {
			b.WriteByte(' ')
		}
		switch item := &n[i]; {
		case item.net != "":
			b.WriteString("@" + item.net)
		case item.branches == nil:
			b.WriteString(item.tag.text + "." + item.part.text)
		default:
			for j, branch := range item.branches {
				b.WriteString([]string{"(", " | "}[min(j, 1)])
				branch.write(b)
			}
			b.WriteByte(')')
		}
	}
}

func (n *plantNode) print() string {
	move, edge := "opens", "stops"
	if n.closes {
		move = "closes"
	}
	if n.onStart {
		edge = "starts"
	}
	return "plant " + n.sensor.text + " " + move + " " + n.after.print() + " after " + n.load.text + " " + edge
}

func (n *actionNode) print() string {
	text := n.verb.String()
	if n.device.text != "" {
		text += " " + n.device.text
	}
	switch {
	case n.verb == circuit.Turn:
		text += " to " + n.position.text
	case n.verb == circuit.SetPreset:
		text += " to " + n.presets[0].print()
		if len(n.presets) > 1 {
			text += ", " + n.presets[1].print()
		}
	case len(n.during.parts) > 0:
		text += " for " + n.during.print()
	}
	return text
}

func (n *expectNode) print() string {
	text := "expect " + n.tag.text
	if n.part.text != "" {
		text += "." + n.part.text
	}
	text += " " + n.state
	for i := range n.spans {
		if i > 0 {
			text += ","
		}
		span := &n.spans[i]
		text += " " + span.from.print() + " .. "
		if span.toEnd {
			text += "end"
		} else {
			text += span.to.print()
		}
	}
	switch n.tolerance {
	case byTime:
		text += " +- " + n.within.print()
	case byShare:
		text += " +- " + percent(n.share)
	}
	return text
}
