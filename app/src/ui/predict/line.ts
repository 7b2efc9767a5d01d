// A learner's line as data: its level at the start and the instants at which
// it changes. Nothing here knows what the right line is.

import type { Nanos } from "../../protocol";

export interface Line {
	start: boolean;
	/** Rising, each within the run and after its start. */
	edges: Nanos[];
}

export const flat: Line = { start: false, edges: [] };

/** The level from an instant on. */
export function levelAt(l: Line, at: Nanos): boolean {
	const passed = l.edges.filter((e) => e <= at).length;
	return passed % 2 === 0 ? l.start : !l.start;
}

function levelBefore(l: Line, at: Nanos): boolean {
	const passed = l.edges.filter((e) => e < at).length;
	return passed % 2 === 0 ? l.start : !l.start;
}

/** The line with the stretch from one instant to another drawn at a level. */
export function paint(l: Line, from: Nanos, to: Nanos, on: boolean, end: Nanos): Line {
	if (to <= from) return l;
	const begin = from <= 0;
	const edges = begin ? [] : l.edges.filter((e) => e < from);
	if (!begin && levelBefore(l, from) !== on) edges.push(from);
	if (to < end) {
		if (levelAt(l, to) !== on) edges.push(to);
		edges.push(...l.edges.filter((e) => e > to));
	}
	return { start: begin ? on : l.start, edges };
}

/** Changes the level from an instant to the next change. */
export function flipFrom(l: Line, at: Nanos, end: Nanos): Line {
	const next = l.edges.find((e) => e > at) ?? end;
	return paint(l, at, next, !levelAt(l, at), end);
}

/** Takes away every change from an instant on; at the first one the line is as it was before. */
export function clearFrom(l: Line, at: Nanos, rest: Line): Line {
	if (at <= 0) return rest;
	return { start: l.start, edges: l.edges.filter((e) => e < at) };
}

export const same = (a: Line, b: Line) => a.start === b.start && a.edges.join() === b.edges.join();

/** The stretches of one level, in order. */
export function stretches(l: Line, on: boolean, end: Nanos): { from: Nanos; to: Nanos }[] {
	const list: { from: Nanos; to: Nanos }[] = [];
	const points = [0, ...l.edges, end];
	for (let i = 0; i + 1 < points.length; i++) {
		if (levelAt(l, points[i] as Nanos) === on) list.push({ from: points[i] as Nanos, to: points[i + 1] as Nanos });
	}
	return list;
}

/** Seconds as an exact decimal: "2.5". */
export function decimal(nanos: Nanos): string {
	const whole = Math.floor(nanos / 1e9);
	const part = String(nanos - whole * 1e9)
		.padStart(9, "0")
		.replace(/0+$/, "");
	return part ? `${whole}.${part}` : String(whole);
}

/** The nanoseconds of an exact decimal, or undefined. */
export function fromDecimal(text: string): Nanos | undefined {
	const m = /^(\d{1,7})(?:\.(\d{1,9}))?$/.exec(text);
	if (!m) return undefined;
	return Number(m[1]) * 1e9 + Number((m[2] ?? "").padEnd(9, "0"));
}
