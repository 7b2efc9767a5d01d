// A drawing in columns: a ladder is high and a screen is wide, so it may be cut
// between two rungs and go on beside. Only where nothing but the rails crosses.

import { signal } from "@preact/signals";
import type { Box, Drawing, Unit } from "../../protocol";
import { parsed } from "./paint";

/** Shows the drawing from one height to another, at a place on the page. */
export interface Column {
	x: Unit;
	top: Unit;
	from: Unit;
	to: Unit;
}

export interface Room {
	w: Unit;
	h: Unit;
	/** So many columns at most. */
	columns?: number;
}

export interface Page {
	width: Unit;
	height: Unit;
	columns: Column[];
	/** Of the page in its room, pixels to natural size. */
	scale: number;
}

/** Another column must make the drawing so much larger to be worth the jump of the eye. */
const worth = 1.12;
const mostColumns = 3;

const whole = (d: Drawing): Page => ({
	width: d.width,
	height: d.height,
	columns: [{ x: 0, top: 0, from: 0, to: d.height }],
	scale: 0,
});

/** A little paper is left beside the ink. */
const margin = 400;

/** The whole drawing without the blank paper at its right: a short ladder stands on a page of the usual width. */
export function trimmed(d: Drawing): Page {
	const page = whole(d);
	const texts = d.groups.map(parsed).flatMap((n) => [...n.querySelectorAll("text")]);
	const right = Math.max(...d.parts.map(({ box, whole: b = box }) => b.x + b.w), ...texts.map(rightOf)) + margin;
	return right > margin ? { ...page, width: Math.min(page.width, right) } : page;
}

/** How far to the right a text reaches. */
function rightOf(text: SVGTextElement): Unit {
	const length = Number(text.getAttribute("textLength"));
	const share = { middle: 0.5, end: 0 }[text.getAttribute("text-anchor") ?? ""] ?? 1;
	return Number(text.getAttribute("x")) + length * share;
}

const pages = new WeakMap<Drawing, Page>();
/** Changes when a drawing comes to stand on another page: all that lies over it moves. */
export const paged = signal("");

/** The page that a drawing stands on now. */
export const pageOf = (d: Drawing): Page => pages.get(d) ?? whole(d);

/** Puts a drawing on a page; without one it stands whole. */
export function putOn(d: Drawing, page: Page | undefined): Page {
	if (page) pages.set(d, page);
	else pages.delete(d);
	return pageOf(d);
}

/** Where a box of the drawing stands on its page. */
export function onPage(b: Box, d: Drawing): Box {
	const { columns } = pageOf(d);
	const c = columns.find((x) => b.y + b.h / 2 < x.to) ?? columns.at(-1);
	return c ? { ...b, x: b.x + c.x, y: b.y - c.from + c.top } : b;
}

interface Cuts {
	at: Unit[];
	/** Height of the rails' names, which stand again over each column. */
	head: Unit;
}

const known = new WeakMap<Drawing, Cuts>();

/** The heights at which a drawing may be cut. */
function cutsOf(d: Drawing): Cuts {
	let cuts = known.get(d);
	if (!cuts) {
		const bands = d.parts.flatMap((p) => (p.kind === "rung" && p.whole ? [p.whole] : [])).sort((a, b) => a.y - b.y);
		const nodes = bands.length > 1 ? d.groups.map(parsed) : [];
		const lines = reaches(d, nodes);
		// Current paths stand beside each other: nothing is above anything.
		const above = (y: Unit) =>
			bands.every((b) => b.y >= y || b.y + b.h <= y + 1) && bands.some((b) => b.y + b.h <= y + 1);
		const held = joined(lines);
		const at = bands.map((b) => b.y).filter((y) => above(y) && !held.some(([from, to]) => from < y && y < to));
		const rails = nodes.filter((n) => n.classList.contains("rail")).flatMap((n) => [...n.querySelectorAll("path")]);
		const tops = rails.map((r) => Number(/^M[\d.]+[\s,]+([\d.]+)/.exec(r.getAttribute("d") ?? "")?.[1] ?? 850));
		cuts = { at, head: tops.length > 0 ? Math.min(...tops) : 850 };
		known.set(d, cuts);
	}
	return cuts;
}

/** The same stretches, those that overlap as one. */
function joined(lines: [Unit, Unit][]): [Unit, Unit][] {
	const out: [Unit, Unit][] = [];
	for (const [from, to] of [...lines].sort((a, b) => a[0] - b[0])) {
		const last = out.at(-1);
		if (last && from < last[1]) last[1] = Math.max(last[1], to);
		else if (to > from) out.push([from, to]);
	}
	return out;
}

/** How far each wire and part reaches up and down. */
function reaches(d: Drawing, nodes: SVGElement[]): [Unit, Unit][] {
	const list: [Unit, Unit][] = d.parts
		.filter((p) => p.kind !== "rung")
		.map(({ box }): [Unit, Unit] => [box.y + 40, box.y + box.h - 40]);
	for (const node of nodes) list.push(...reachOf(node));
	return list;
}

/** What is known of a group: the same node comes again as long as the group is the same. */
const reachKnown = new WeakMap<SVGElement, [Unit, Unit][]>();

function reachOf(node: SVGElement): [Unit, Unit][] {
	const had = reachKnown.get(node);
	if (had) return had;
	const list: [Unit, Unit][] = [];
	const paths = node.classList.contains("rail") ? [] : node.querySelectorAll("path");
	for (const path of paths) {
		for (const line of (path.getAttribute("d") ?? "").split(/(?=M)/)) {
			// Only straight wires are long; symbols are within their parts.
			if (!/^M[\d\s.,L-]+Z?$/.test(line)) continue;
			const ys = [...line.matchAll(/-?[\d.]+[\s,]+(-?[\d.]+)/g)].map((m) => Number(m[1]));
			list.push([Math.min(...ys), Math.max(...ys)]);
		}
	}
	reachKnown.set(node, list);
	return list;
}

/** The cuts into so many columns whose highest is the lowest. */
function split({ at, head }: Cuts, height: Unit, into: number): Unit[] | undefined {
	if (into === 1) return [];
	if (at.length < into - 1) return undefined;
	let low = 0;
	let high = height + head;
	let best: Unit[] | undefined;
	while (low <= high) {
		const most = Math.floor((low + high) / 2);
		const cuts = within(at, head, height, into, most);
		if (cuts) {
			best = cuts;
			high = most - 1;
		} else low = most + 1;
	}
	return best;
}

/** Cuts into so many columns of which none is higher; undefined if there are none. */
function within(at: Unit[], head: Unit, height: Unit, into: number, most: Unit): Unit[] | undefined {
	const cuts: Unit[] = [];
	let from = 0;
	let i = 0;
	while (cuts.length < into - 1) {
		const reach = from + most - (cuts.length > 0 ? head : 0);
		// One cut at least must be left for each column that is still to come.
		const last = at.length - (into - 1 - cuts.length);
		let next = -1;
		while (i <= last && (at[i] as Unit) <= reach) next = at[i++] as Unit;
		if (next < 0) return undefined;
		cuts.push(next);
		from = next;
	}
	return height - from + head <= most ? cuts : undefined;
}

/** The page on which a drawing becomes largest in a room, given in units at natural size. */
export function bestPage(d: Drawing, room: Room): Page {
	let best: Page | undefined;
	const all = cutsOf(d);
	const { head } = all;
	for (let n = 1; n <= (room.columns ?? mostColumns); n++) {
		const cuts = split(all, d.height, n);
		if (!cuts) break;
		const edges = [0, ...cuts, d.height];
		const columns = edges
			.slice(1)
			.map((to, i) => ({ x: i * d.width, top: i > 0 ? head : 0, from: edges[i] as Unit, to }));
		const width = n * d.width;
		const height = Math.max(...columns.map((c) => c.top + c.to - c.from));
		const scale = Math.min(room.w / width, room.h / height);
		if (!best || scale > best.scale * worth) best = { width, height, columns, scale };
	}
	return best as Page;
}
