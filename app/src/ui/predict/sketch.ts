// Lines that were drawn but perhaps not revealed yet: kept for the session, for
// each text and script, so that a reload loses none of them.

import type { Line } from "./line";
import type { Sure } from "./store";

export interface Sketch {
	lines: Record<string, Line>;
	sure: Record<string, Sure>;
	/** Rows that were to be predicted. */
	hidden: string[];
	tolerance: number;
	fine: boolean;
	/** The answer stood there. */
	revealed: boolean;
}

interface Kept extends Sketch {
	text: string;
	script: string;
}

const place = "tarry.sketches";
const version = 1;
const most = 40;

/** A text's name here: the texts themselves are in the storage often enough. */
function nameOf(text: string): string {
	let h = 0x811c9dc5;
	for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193) >>> 0;
	return `${h.toString(36)}-${text.length.toString(36)}`;
}

const isLine = (v: unknown): v is Line => {
	const l = v as Partial<Line> | null;
	return typeof l?.start === "boolean" && Array.isArray(l.edges) && l.edges.every((e) => Number.isSafeInteger(e));
};
const isObject = (v: unknown): v is Record<string, unknown> => typeof v === "object" && v !== null;

function readOne(v: unknown): Kept | undefined {
	if (!isObject(v) || typeof v.text !== "string" || typeof v.script !== "string") return undefined;
	if (!isObject(v.lines) || !Object.values(v.lines).every(isLine) || !isObject(v.sure)) return undefined;
	if (!Array.isArray(v.hidden) || typeof v.tolerance !== "number") return undefined;
	return v as unknown as Kept;
}

function readAll(): Kept[] {
	try {
		const data = JSON.parse(sessionStorage.getItem(place) ?? "null");
		if (data?.version !== version || !Array.isArray(data.sketches)) return [];
		return data.sketches.map(readOne).filter((s: Kept | undefined) => s !== undefined);
	} catch {
		return [];
	}
}

/** Keeps a sketch as the latest one; where the browser keeps nothing it lasts as long as the page. */
export function keepSketch(text: string, script: string, s: Sketch) {
	const name = nameOf(text);
	const others = readAll().filter((o) => o.text !== name || o.script !== script);
	const sketches = [...others, { ...s, text: name, script }].slice(-most);
	try {
		sessionStorage.setItem(place, JSON.stringify({ version, sketches }));
	} catch {
		// The predictions' list says that nothing is kept here.
	}
}

export function sketchOf(text: string, script: string): Sketch | undefined {
	const name = nameOf(text);
	return readAll().find((s) => s.text === name && s.script === script);
}

/** The script of a text that was predicted last, empty for none. */
export function lastScript(text: string): string {
	const name = nameOf(text);
	return readAll().findLast((s) => s.text === name)?.script ?? "";
}

/** Something was drawn for this text already. */
export function sketched(text: string): boolean {
	const name = nameOf(text);
	return readAll().some((s) => s.text === name && (s.revealed || Object.keys(s.lines).length > 0));
}
