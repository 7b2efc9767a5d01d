// Predictions that were made: kept for the session, saved as a file, read back.

import { signal } from "@preact/signals";
import { w } from "../../words";
import { decimal, fromDecimal, type Line } from "./line";

export type Sure = "" | "guess" | "fairly" | "certain";

export interface AttemptRow {
	row: string;
	start: boolean;
	/** Seconds as decimals: exact, whatever reads them. */
	edges: string[];
	sure: Sure;
	right: boolean;
	/** Seconds of the first difference, null for none. */
	firstWrong: string | null;
	/** The row was left as it was: there is no line to be marked. */
	undrawn?: boolean;
	/** It is wrong only where it follows another row; not kept in a file. */
	follows?: boolean;
}

export interface Attempt {
	circuit: string;
	text: string;
	script: string;
	/** How far an edge could lie off, in seconds. */
	tolerance: string;
	rows: AttemptRow[];
	at: string;
	/** The file and the name that it came with; not kept in a file again. */
	file?: string;
	learner?: string;
}

const format = "tarry predictions";
const newest = 1;
const place = "tarry.predictions";
const mostKept = 200;

export const attempts = signal<Attempt[]>([]);
export const learner = signal("");
/** False when the browser refuses to keep anything. */
export const kept = signal(true);

function keep() {
	try {
		sessionStorage.setItem(place, JSON.stringify({ version: newest, attempts: attempts.value }));
		kept.value = true;
	} catch {
		kept.value = false;
	}
}

function recall() {
	try {
		const data = JSON.parse(sessionStorage.getItem(place) ?? "null");
		if (data?.version === newest && Array.isArray(data.attempts)) {
			attempts.value = data.attempts.map(readAttempt).filter((a: Attempt | undefined) => a !== undefined);
		}
	} catch {
		kept.value = false;
	}
}

export function add(a: Attempt) {
	attempts.value = [...attempts.value, a].slice(-mostKept);
	keep();
}

export function forget() {
	attempts.value = [];
	keep();
}

/** Notes which rows of an answer only follow others, wherever that answer was given. */
export function noteFollows(of: Asked, rows: string[]) {
	const drawn = (list: Asked["rows"]) => JSON.stringify(list.map((r) => [r.row, r.start, r.edges]));
	const same = (a: Attempt) =>
		a.text === of.text && a.script === of.script && a.tolerance === of.tolerance && drawn(a.rows) === drawn(of.rows);
	const noted = (r: AttemptRow) => ({ ...r, follows: rows.includes(r.row) });
	attempts.value = attempts.value.map((a) => (same(a) ? { ...a, rows: a.rows.map(noted) } : a));
	keep();
}

type Asked = Pick<Attempt, "text" | "script" | "tolerance"> & { rows: Pick<AttemptRow, "row" | "start" | "edges">[] };

export const lineOf = (r: AttemptRow): Line => ({ start: r.start, edges: r.edges.map((e) => fromDecimal(e) ?? 0) });
export const edgesOf = (l: Line) => l.edges.map(decimal);

/** The file of all attempts: the latest as the file's own, the earlier ones behind it. */
export function asFile(): string {
	const list = attempts.value.map((a) => ({
		circuit: a.circuit,
		text: a.text,
		script: a.script,
		learner: a.learner ?? learner.value.trim(),
		tolerance: a.tolerance,
		rows: a.rows.map(({ follows, ...r }) => r),
		at: a.at,
	}));
	const last = list.pop();
	return `${JSON.stringify({ format, version: newest, ...last, earlier: list }, null, "\t")}\n`;
}

/** A cell of a table; one that a spreadsheet would take for a formula is made text. */
function cell(text: string): string {
	const safe = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
	return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** A row's line as it is read back: "on 5 s .. 12 s, 15 s .. end", "never". */
function said(r: AttemptRow): string {
	if (r.edges.length === 0) return r.start ? "always" : "never";
	const edges = r.start ? ["0", ...r.edges] : r.edges;
	const spans: string[] = [];
	for (let i = 0; i < edges.length; i += 2) {
		const to = edges[i + 1];
		spans.push(`${edges[i]} s .. ${to === undefined ? "end" : `${to} s`}`);
	}
	return `on ${spans.join(", ")}`;
}

/** A table that can be marked as it is: an empty answer is a row that was left as it was. */
export function asTable(): string {
	const words = w.predict.list;
	const yes = (v: boolean) => (v ? words.yes : words.no);
	const lines = attempts.value.flatMap((a) =>
		a.rows.map((r) => [
			a.circuit,
			a.at,
			a.learner ?? learner.value.trim(),
			a.script,
			r.row,
			r.undrawn ? "" : said(r),
			r.sure,
			yes(r.right),
			r.firstWrong ?? "",
		]),
	);
	return [words.csvHead, ...lines].map((l) => `${l.map(cell).join(",")}\r\n`).join("");
}

const isText = (v: unknown, most: number): v is string => typeof v === "string" && v.length <= most;

function readRow(v: unknown): AttemptRow | undefined {
	const r = v as Partial<AttemptRow> | null;
	if (!r || !isText(r.row, 200) || typeof r.start !== "boolean" || !Array.isArray(r.edges)) return undefined;
	if (r.edges.length > 10_000 || !r.edges.every((e) => isText(e, 20) && fromDecimal(e) !== undefined)) return undefined;
	const sure = r.sure === "guess" || r.sure === "fairly" || r.sure === "certain" ? r.sure : "";
	const firstWrong = isText(r.firstWrong, 20) ? r.firstWrong : null;
	const row: AttemptRow = { row: r.row, start: r.start, edges: r.edges, sure, right: r.right === true, firstWrong };
	if (r.undrawn === true) row.undrawn = true;
	return r.follows === true ? { ...row, follows: true } : row;
}

function readAttempt(v: unknown): Attempt | undefined {
	const a = v as Partial<Attempt> | null;
	if (!a || !isText(a.circuit, 1000) || !isText(a.text, 1 << 20) || !isText(a.script, 1000)) return undefined;
	if (!isText(a.at, 40) || Number.isNaN(Date.parse(a.at)) || !Array.isArray(a.rows) || a.rows.length > 1000)
		return undefined;
	const rows = a.rows.map(readRow);
	if (rows.some((r) => !r)) return undefined;
	const tolerance = isText(a.tolerance, 20) && fromDecimal(a.tolerance) !== undefined ? a.tolerance : "0";
	const made: Attempt = {
		circuit: a.circuit,
		text: a.text,
		script: a.script,
		tolerance,
		rows: rows as AttemptRow[],
		at: a.at,
	};
	if (isText(a.file, 300)) made.file = a.file;
	if (isText(a.learner, 300)) made.learner = a.learner;
	return made;
}

/** Reads a file of predictions and adds what it holds; returns what to say about it. */
export function readFile(name: string, content: string): { text: string; good: boolean } {
	const words = w.predict.list;
	let data: Record<string, unknown> | null;
	try {
		data = JSON.parse(content);
	} catch {
		return { text: words.unreadable, good: false };
	}
	if (!data || data.format !== format || typeof data.version !== "number")
		return { text: words.unreadable, good: false };
	if (data.version > newest) return { text: words.newer, good: false };
	const earlier = Array.isArray(data.earlier) ? data.earlier : [];
	const list = [...earlier, data].map(readAttempt);
	if (list.length > mostKept || list.some((a) => !a)) return { text: words.unreadable, good: false };
	attempts.value = [...attempts.value, ...(list as Attempt[]).map((a) => ({ ...a, file: name }))].slice(-mostKept);
	keep();
	return { text: words.opened(list.length), good: true };
}

recall();
