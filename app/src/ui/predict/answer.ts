// A line in words, as an instructor would say it over the telephone:
// "on 5 s .. 12 s, 20 s .. end".

import type { Nanos } from "../../protocol";
import { w } from "../../words";
import { decimal, type Line, paint, stretches } from "./line";

const t = w.predict.text;

/** A time that reads back as the very same. */
const exact = (at: Nanos) => (at >= 60e9 && at % 1e6 === 0 ? w.predict.time(at) : `${decimal(at)} s`);

/** What a line is in words. */
export function inWords(l: Line, words: [string, string], end: Nanos): string {
	const on = stretches(l, true, end);
	if (on.length === 0) return t.never;
	if (on.length === 1 && l.start && l.edges.length === 0) return t.always;
	const parts = on.map((p) => `${exact(p.from)} .. ${p.to >= end ? t.end : exact(p.to)}`);
	return `${words[1]} ${parts.join(", ")}`;
}

const units: Record<string, number> = {
	ms: 1e6,
	s: 1e9,
	sec: 1e9,
	second: 1e9,
	seconds: 1e9,
	m: 60e9,
	min: 60e9,
	minutes: 60e9,
	h: 3600e9,
	hours: 3600e9,
};

/** A time such as "5 s", "1 min 30 s"; a bare number counts in `usual`. */
function time(text: string, usual: number): Nanos | undefined {
	let sum = 0;
	let rest = text.trim();
	if (rest === "") return undefined;
	while (rest) {
		const m = /^(\d+(?:\.\d+)?)\s*([a-z]*)\s*/.exec(rest);
		if (!m) return undefined;
		const unit = m[2] ? units[m[2]] : usual;
		if (!unit) return undefined;
		sum += Math.round(Number(m[1]) * unit);
		rest = rest.slice(m[0].length);
	}
	return sum;
}

const unitOf = (text: string) => units[/([a-z]+)\s*$/.exec(text)?.[1] ?? ""] ?? 1e9;

/** One stretch: "5 s .. 12 s", "from 5", "until 3 s". */
function stretch(text: string, end: Nanos): { from: Nanos; to: Nanos } | { problem: string } {
	const [a = "", b = ""] = text
		.replace(/^from\s+/, "")
		.split(/\s*(?:\.{2,}|…|–|-|\bto\b|\buntil\b)\s*/)
		.map((x) => x.trim());
	const toEnd = b === "" || b === t.end;
	const from = a === "" ? 0 : time(a, toEnd ? 1e9 : unitOf(b));
	const to = toEnd ? end : time(b, unitOf(b));
	if (from === undefined) return { problem: t.time(a) };
	if (to === undefined) return { problem: t.time(b) };
	if (from > end || to > end) return { problem: t.late(end) };
	if (to <= from) return { problem: t.order(text) };
	return { from, to };
}

/** Reads an answer; words are the row's own for off and on. */
export function readAnswer(text: string, words: [string, string], end: Nanos): Line | { problem: string } {
	const said = text.trim().toLowerCase().replace(/\s+/g, " ");
	if (said === "" || said === t.never) return { start: false, edges: [] };
	if (said === t.always) return { start: true, edges: [] };
	const first = /^[a-z]+/.exec(said)?.[0] ?? "";
	const off = ["off", words[0]].includes(first);
	const known = off || ["on", words[1]].includes(first);
	if (first && !known && !["from", "until", "to"].includes(first)) return { problem: t.words(words[1], words[0]) };
	const rest = known ? said.slice(first.length).trim() : said;
	let line: Line = { start: off, edges: [] };
	if (rest === "") return { start: !off, edges: [] };
	for (const part of rest.split(/\s*(?:,|;|\band\b)\s*/)) {
		if (part === "") continue;
		const p = stretch(part, end);
		if ("problem" in p) return p;
		line = paint(line, p.from, p.to, !off, end);
	}
	return line;
}
