// Where a part of the drawing stands in the text, and which part of the
// drawing a place in the text means.

import type { Drawing, Part, Sheet } from "../../protocol";

export interface Span {
	from: number;
	to: number;
}

const quoted = (s: string) => s.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");

/** Places of names in a line, each searched behind the one before; no part of another name counts. */
function places(line: string, names: string[], from: number): Span[] {
	const out: Span[] = [];
	let at = from;
	for (const name of names) {
		const hit = new RegExp(`(?<![\\w.@-])${quoted(name)}(?![\\w.])`, "g");
		hit.lastIndex = at;
		const m = hit.exec(line);
		if (!m) return out;
		out.push({ from: m.index, to: m.index + name.length });
		at = m.index + name.length;
	}
	return out;
}

/** The contacts and the loads of a rung, as places in the text. */
function rungPlaces(sheet: Sheet, text: string, rung: number): { contacts: Span[]; loads: Span[] } {
	const r = sheet.rungs[rung];
	if (!r) return { contacts: [], loads: [] };
	const line = text.slice(r.from, r.to);
	const shift = (s: Span) => ({ from: s.from + r.from, to: s.to + r.from });
	const arrow = line.search(/->|→/);
	return {
		contacts: places(line, r.contacts, 0).map(shift),
		loads: places(line, r.loads, Math.max(0, arrow)).map(shift),
	};
}

/** Where a part stands in the text. */
export function spanOf(sheet: Sheet, text: string, part: Part): Span | undefined {
	const r = sheet.rungs[part.rung];
	if (!r) {
		const d = sheet.devices[part.device];
		return d && { from: d.from, to: d.to };
	}
	if (part.kind === "rung") return { from: r.from, to: r.to };
	const p = rungPlaces(sheet, text, part.rung);
	return (part.kind === "contact" ? p.contacts : p.loads)[part.place] ?? { from: r.from, to: r.to };
}

/** The part that a place in the text means: a contact or load, its rung, or a device's first part. */
export function partAt(sheet: Sheet, drawing: Drawing, text: string, at: number): Part | undefined {
	const within = (s: Span) => s.from <= at && at <= s.to;
	const rung = sheet.rungs.findIndex(within);
	if (rung >= 0) {
		const p = rungPlaces(sheet, text, rung);
		const of = (kind: Part["kind"], place: number) =>
			drawing.parts.find((x) => x.rung === rung && x.kind === kind && (kind === "rung" || x.place === place));
		const contact = p.contacts.findIndex(within);
		if (contact >= 0) return of("contact", contact);
		const load = p.loads.findIndex(within);
		if (load >= 0) return of("load", load);
		return of("rung", 0);
	}
	const device = sheet.devices.findIndex(within);
	return device < 0 ? undefined : partOfDevice(drawing, device);
}

/** The part that stands for a whole device: its coil or load, else its first contact. */
export function partOfDevice(drawing: Drawing | null, device: number): Part | undefined {
	const parts = drawing?.parts.filter((p) => p.device === device) ?? [];
	return parts.find((p) => p.kind === "load") ?? parts[0];
}
