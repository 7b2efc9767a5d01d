// What moves on a drawing: the marks of the state and the timers' rings. They
// change many times a second, so they are put into the page by hand, and only
// where something differs.

import type { Clock, Drawing, Mark, Part } from "../../protocol";
import { w } from "../../words";
import { svgNodes } from "../kit";

const SVG = "http://www.w3.org/2000/svg";

/** Makes an SVG element with its attributes. */
export function svgElement<K extends keyof SVGElementTagNameMap>(
	name: K,
	attributes: Record<string, string | number> = {},
): SVGElementTagNameMap[K] {
	const e = document.createElementNS(SVG, name);
	for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, String(v));
	return e;
}

/** Keeps a group of nodes in step with a list of groups; what stays the same is left alone. */
export class GroupsLayer {
	readonly group: SVGGElement;
	private made = new Map<string, { svg: string; node: SVGGElement }>();
	private shown: Mark[] = [];

	constructor(name: string) {
		this.group = svgElement("g", { class: name });
	}

	show(list: Mark[]) {
		if (list === this.shown) return;
		this.shown = list;
		const nodes = list.map((m) => this.node(m));
		const wanted = new Set<Element>(nodes);
		for (const old of [...this.group.children]) if (!wanted.has(old)) old.remove();
		let at = this.group.firstChild;
		for (const n of nodes) {
			if (n === at) at = at.nextSibling;
			else this.group.insertBefore(n, at);
		}
	}

	private node(m: Mark): SVGGElement {
		const had = this.made.get(m.id);
		if (had?.svg === m.svg) return had.node;
		const node = parsed(m).cloneNode(true) as SVGGElement;
		this.made.set(m.id, { svg: m.svg, node });
		return node;
	}
}

const templates = new Map<string, { svg: string; node: SVGGElement }>();
const mostTemplates = 20_000;

/** A group as nodes; what was read once is not read again. Clone it to show it. */
export function parsed(m: Mark): SVGGElement {
	const had = templates.get(m.id);
	if (had?.svg === m.svg) return had.node;
	const node = svgElement("g", { class: m.class });
	if (m.shows) node.setAttribute("data-shows", m.shows);
	node.append(...svgNodes(m.svg));
	if (templates.size > mostTemplates) templates.clear();
	templates.set(m.id, { svg: m.svg, node });
	return node;
}

interface Ring {
	group: SVGGElement;
	arc: SVGCircleElement;
	text: SVGTextElement;
	share: number;
	words: string;
}

const wordSize = 220;
const still = matchMedia("(prefers-reduced-motion: reduce)");

/** The rings at the timers' coils, by device. */
export class RingsLayer {
	readonly group = svgElement("g", { class: "rings" });
	private rings = new Map<number, Ring[]>();
	private lit: Ring[] = [];

	constructor(d: Drawing) {
		for (const p of d.parts) {
			if (!p.ring) continue;
			const ring = makeRing(p.ring);
			this.rings.set(p.device, [...(this.rings.get(p.device) ?? []), ring]);
			this.group.append(ring.group);
		}
	}

	show(clocks: Clock[]) {
		const lit: Ring[] = [];
		for (const c of clocks) {
			for (const r of this.rings.get(c.device) ?? []) {
				setRing(r, c);
				lit.push(r);
			}
		}
		for (const r of this.lit) if (!lit.includes(r)) r.group.classList.remove("shown", "held");
		this.lit = lit;
	}
}

function makeRing(at: NonNullable<Part["ring"]>): Ring {
	const group = svgElement("g", { class: "timer-ring" });
	const outline = svgElement("circle", { cx: at.x, cy: at.y, r: at.r, class: "ring-line" });
	const arc = svgElement("circle", {
		cx: at.x,
		cy: at.y,
		r: at.r / 2,
		class: "ring-share",
		pathLength: 100,
		"stroke-width": at.r,
		"stroke-dasharray": "0 101",
		transform: `rotate(-90 ${at.x} ${at.y})`,
	});
	const text = svgElement("text", {
		x: at.x + at.r + 100,
		y: at.y + wordSize / 3,
		"font-size": wordSize,
		class: "ink",
	});
	group.append(arc, outline, text);
	return { group, arc, text, share: -1, words: "" };
}

function setRing(r: Ring, c: Clock) {
	r.group.classList.add("shown");
	r.group.classList.toggle("held", !c.running);
	// Without motion the ring moves on by quarters and the words by whole seconds.
	const calm = still.matches && c.running;
	const share = c.preset > 0 ? Math.min(1, c.elapsed / c.preset) : 1;
	const shown = calm ? Math.floor(share * 4) / 4 : share;
	if (shown !== r.share) {
		r.share = shown;
		r.arc.setAttribute("stroke-dasharray", `${(shown * 100).toFixed(2)} 101`);
	}
	const words = w.run.elapsed(calm && c.preset >= 1e9 ? Math.floor(c.elapsed / 1e9) * 1e9 : c.elapsed, c.preset);
	if (words !== r.words) {
		r.words = words;
		r.text.textContent = words;
	}
}
