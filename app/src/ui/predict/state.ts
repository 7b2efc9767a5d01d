// The prediction under way: its script, its blank rows, the learner's lines.
// The engine is asked for the right ones only by `reveal`.

import { batch, computed, effect, signal } from "@preact/signals";
import { complain, drawing, goTo, mode, scriptPlace, selected, sheet, start } from "../../desk";
import * as doc from "../../doc";
import { call } from "../../engine";
import { lessonCircuit } from "../../lesson";
import type { Chart, ChartRequest, Given, Nanos, PlanRow, Revealed } from "../../protocol";
import { circuitRevealed } from "../lesson/lock";
import { decimal, flat, fromDecimal, type Line, same } from "./line";
import { endOf } from "./place";
import { keepSketch, lastScript, sketchOf } from "./sketch";
import { type Attempt, add, edgesOf, lineOf, type Sure } from "./store";

/** Place of the script to predict, -1 for none. */
export const script = signal(-1);
export const asked = signal<PlanRow[]>([]);
/** Names of the rows that are blank. */
export const hidden = signal<string[]>([]);
export const lines = signal<Record<string, Line>>({});
export const sure = signal<Record<string, Sure>>({});
/** How far an edge may lie off, in hundredths of a square. */
export const tolerance = signal(50);
export const fine = signal(false);
/** How many times as wide as the screen the chart is. */
export const widen = signal(1);
export const room = signal(0);
export const blank = signal<Chart | null>(null);
export const revealed = signal<Revealed | null>(null);
/** The mark of the keyboard in each row. */
export const carets = signal<Record<string, Nanos>>({});
export const caretOf = (row: string): Nanos => carets.value[row] ?? 0;
export function putCaret(row: string, at: Nanos) {
	carets.value = { ...carets.value, [row]: at };
}

/** The row that has the keyboard, empty for none. */
export const focused = signal("");

const past = signal<Record<string, Line>[]>([]);
export const canUndo = computed(() => past.value.length > 0);

/** What the lesson says of the circuit on the desk. */
const ordered = lessonCircuit;
export const fixed = computed(() => (ordered.value?.predict.length ?? 0) > 0);

export const rowsDrawn = computed(() => asked.value.filter((r) => hidden.value.includes(r.name)));
export const end = computed(() => (blank.value ? endOf(blank.value.plan) : 0));
/** To what edges snap. */
export const unit = computed(() => {
	const square = blank.value?.plan.square ?? 1e9;
	return fine.value ? Math.max(1, Math.round(square / 10)) : square;
});
const allowed = computed(() => Math.round(((blank.value?.plan.square ?? 0) * tolerance.value) / 100));

/** A row without edges, as the chart shows that it begins. */
export function restOf(row: string): Line {
	const shown = blank.value?.plan.rows.find((r) => r.name === row);
	return shown?.start ? { start: true, edges: [] } : flat;
}

export const lineFor = (row: string): Line => lines.value[row] ?? restOf(row);

/** Leaves a row as it was before anything was drawn in it. */
export function dropLine(row: string) {
	if (!lines.value[row]) return;
	past.value = [...past.value, lines.value].slice(-200);
	const { [row]: _, ...others } = lines.value;
	lines.value = others;
}

/** The word of the row's level. */
export const wordFor = (r: PlanRow, on: boolean) => r.words[on ? 1 : 0];

/** Puts a learner's line in place, as one step to be undone; `before` is how all lines were. */
export function setLine(row: string, line: Line, before = lines.value) {
	const old = before[row];
	if (!old || !same(line, old)) past.value = [...past.value, before].slice(-200);
	showLine(row, line);
}

/** Shows a line while it is being drawn. */
export function showLine(row: string, line: Line) {
	lines.value = { ...lines.value, [row]: line };
}

export function undo() {
	const last = past.value[past.value.length - 1];
	if (!last) return;
	batch(() => {
		past.value = past.value.slice(0, -1);
		lines.value = last;
	});
}

export function clearAll() {
	past.value = [...past.value, lines.value].slice(-200);
	lines.value = {};
}

function forget() {
	batch(() => {
		past.value = [];
		lines.value = {};
		sure.value = {};
		revealed.value = null;
		carets.value = {};
	});
}

const deviceOf = (r: PlanRow) => sheet.value?.devices.find((d) => d.tag === r.tag);

/** What hands and the supply do stands in the script: nothing to predict. */
const givenByScript = (r: PlanRow) => deviceOf(r) === undefined || deviceOf(r)?.hand !== "";

/** A contact of a timer, or a device that has nothing but loads: what a circuit is built for. */
function outcome(r: PlanRow): boolean {
	const d = deviceOf(r);
	if (d?.function) return r.name !== d.tag && d.contacts.includes(r.name);
	return d !== undefined && d.contacts.length === 0;
}

/** What the sketch on the screen belongs to; undefined while a task is put together. */
let task: { text: string; script: string } | undefined;

/** Puts back what was drawn for this text and script before; true if its answer stood there. */
function recall(keepRows: boolean): boolean {
	task = { text: doc.text.value, script: sheet.value?.scripts[script.value]?.name ?? "" };
	const s = sketchOf(task.text, task.script);
	if (!s) return false;
	const names = asked.value.map((r) => r.name);
	const rows = s.hidden.filter((n) => names.includes(n));
	if (!fixed.value && !keepRows && rows.length > 0) hidden.value = rows;
	lines.value = s.lines;
	sure.value = s.sure;
	tolerance.value = s.tolerance;
	fine.value = s.fine;
	return s.revealed;
}

// Whatever is drawn is kept at once: a reload asks nobody first.
effect(() => {
	const s = {
		lines: lines.value,
		sure: sure.value,
		hidden: hidden.value,
		tolerance: tolerance.value,
		fine: fine.value,
		revealed: revealed.value !== null,
	};
	if (task) keepSketch(task.text, task.script, s);
});

/** Begins with a script of the circuit, where it was left; with `only` these rows alone are asked. */
export async function choose(place: number, only?: string[]) {
	task = undefined;
	forget();
	script.value = place;
	alone = only !== undefined;
	blank.value = null;
	asked.value = [];
	square = ordered.value?.script === place ? ordered.value.square : 0;
	if (place < 0) return;
	try {
		const r = await call("ask", { script: place });
		if (script.value !== place) return;
		const rows = r.rows.filter((x) => !givenByScript(x));
		const names = rows.map((x) => x.name);
		const wanted = (ordered.value?.predict ?? []).filter((n) => names.includes(n));
		const marked = rows.filter((x) => x.blank);
		const usual = (marked.length > 0 ? marked : rows.filter(outcome)).map((x) => x.name);
		const answered = batch(() => {
			asked.value = rows;
			hidden.value = only ?? (wanted.length > 0 ? wanted : usual.length > 0 ? usual : names);
			return recall(only !== undefined);
		});
		// Where nothing can be asked, nothing is given away either.
		if (rows.length === 0) circuitRevealed();
		await draw();
		if (answered && script.value === place) await ask();
	} catch (e) {
		complain(e);
	}
}

/** Only some rows are asked, and what is usually asked beside them isn't shown: it could tell them. */
let alone = false;

/** Rows of the chart; a timer's elapsed time would tell when its contact moves. */
function rowsShown(withTimes: boolean): string[] {
	const silent = new Set(alone && !withTimes ? asked.value.filter((r) => r.blank).map((r) => r.name) : []);
	const usual = (sheet.value?.rows ?? []).filter((n) => hidden.value.includes(n) || !silent.has(n));
	const missing = hidden.value.filter((n) => !usual.includes(n));
	return [...usual.filter((n) => withTimes || !n.endsWith(".elapsed")), ...missing];
}

/** A screen so narrow is a phone's, in pixels. */
const narrow = 600;
/** The widest chart that has its labels over its rows. */
const overRows = 11900;
/** The width at which the squares are chosen: a task is the same on every screen. */
const onPaper = 27000;

/** Width of the chart in the engine's lengths: words come out a little larger than on paper. */
function units(): number {
	const wanted = Math.round(Math.max(room.value, 320) * widen.value * 22);
	const most = room.value < narrow && widen.value <= 2 ? overRows : wanted;
	return Math.max(8000, Math.min(wanted, most));
}

/** Time of a square, 0 while it is not known. */
let square = 0;

const request = (): ChartRequest => ({
	script: script.value,
	rows: rowsShown(false),
	from: 0,
	to: 0,
	width: units(),
	blank: hidden.value,
	given: [],
	square,
	// A chart that cuts quiet time out would tell where nothing happens.
	uncut: true,
});

let drawn = 0;

/** Draws the chart with its blank rows. */
export async function draw() {
	if (script.value < 0) return;
	const mine = ++drawn;
	if (hidden.value.length === 0) {
		blank.value = null;
		return;
	}
	try {
		if (square === 0) square = (await call("chart", { ...request(), width: onPaper })).plan.square;
		if (mine !== drawn) return;
		const c = await call("chart", request());
		if (mine === drawn) blank.value = c;
	} catch (e) {
		complain(e);
	}
}

export function hide(row: string, yes: boolean) {
	alone = false;
	const order = asked.value.map((r) => r.name);
	hidden.value = order.filter((n) => (n === row ? yes : hidden.value.includes(n)));
	draw();
}

/** What was answered, for the marks. */
export const answered = () => ({ script: script.value, given: given(), tolerance: allowed.value });

/** Redraws at another width: blank as it was, or with the answer. */
export function resized(px: number) {
	if (Math.abs(px - room.value) < 24) return;
	if (room.value === 0 && px < narrow) widen.value = 2;
	room.value = px;
	redraw();
}

export function redraw() {
	if (revealed.value) ask();
	else if (blank.value) draw();
}

const given = (): Given[] =>
	hidden.value.map((row) => {
		const { start, edges } = lineFor(row);
		return { row, start, edges, wrong: -1, undrawn: !lines.value[row] };
	});

let revealing = 0;

async function ask(within = allowed.value): Promise<Revealed | undefined> {
	const mine = ++revealing;
	const own = script.value;
	const wide = units();
	try {
		const r = await call("reveal", {
			...request(),
			rows: rowsShown(true),
			blank: [],
			given: given(),
			tolerance: within,
			uncut: false,
		});
		if (mine !== revealing || own !== script.value) return undefined;
		revealed.value = r;
		// An answer that is brought back may be asked for before its room is known.
		if (units() !== wide) redraw();
		return r;
	} catch (e) {
		complain(e);
		return undefined;
	}
}

let fresh = false;
/** The answer on the screen was asked for just now, not brought back; true once for each. */
export function atReveal(): boolean {
	const was = fresh;
	fresh = false;
	return was;
}

/** Asks for the right lines and keeps the attempt. */
export async function reveal() {
	fresh = true;
	const mine = lines.value;
	const rest = Object.fromEntries(hidden.value.map((row) => [row, restOf(row)]));
	const within = allowed.value;
	const r = await ask(within);
	if (!r) return;
	const attempt: Attempt = {
		circuit: doc.docName.value,
		text: doc.text.value,
		script: sheet.value?.scripts[script.value]?.name ?? "",
		tolerance: decimal(within),
		rows: r.rows.map((x) => {
			const line = mine[x.row] ?? rest[x.row] ?? flat;
			return {
				row: x.row,
				start: line.start,
				edges: edgesOf(line),
				sure: (mine[x.row] && sure.value[x.row]) || "",
				right: x.right,
				firstWrong: !x.right && x.at >= 0 ? decimal(x.at) : null,
				...(mine[x.row] ? {} : { undrawn: true }),
			};
		}),
		at: new Date().toISOString(),
	};
	add(attempt);
	const ordered = lessonCircuit.value?.script ?? -1;
	if (ordered < 0 || ordered === script.value) circuitRevealed();
}

/** Begins the same task again; the attempt stays in the list. */
export function again() {
	forget();
	draw();
}

/** Shows an earlier attempt on this circuit; false if it doesn't fit it any more. */
export async function show(a: Attempt): Promise<boolean> {
	const place = sheet.value?.scripts.findIndex((x) => x.name === a.script) ?? -1;
	if (place < 0) return false;
	if (place !== script.value || !blank.value) await choose(place);
	const names = asked.value.map((r) => r.name);
	if (!a.rows.every((r) => names.includes(r.row))) return false;
	batch(() => {
		hidden.value = a.rows.map((r) => r.row);
		lines.value = Object.fromEntries(a.rows.filter((r) => !r.undrawn).map((r) => [r.row, lineOf(r)]));
		sure.value = Object.fromEntries(a.rows.map((r) => [r.row, r.sure]));
		past.value = [];
	});
	await draw();
	return (await ask(fromDecimal(a.tolerance) ?? 0)) !== undefined;
}

/** Goes to the run, at the instant in question. */
export async function explain(row: string, at: Nanos) {
	await start(script.value);
	await goTo(at);
	selected.value = drawing.value?.parts.find((p) => p.signal === row)?.id ?? "";
	mode.value = "run";
}

let taskText: string | undefined;

// Another text is another task. The text is watched through the sheet, so that
// the engine has read it by then; it is done only while the area is on screen.
effect(() => {
	const s = sheet.value;
	if (mode.value !== "predict" || !s) return;
	const text = doc.text.peek();
	if (text === taskText) return;
	taskText = text;
	const first = ordered.peek()?.script ?? -1;
	const usual = scriptPlace.peek() >= 0 ? scriptPlace.peek() : Math.max(first, 0);
	const last = s.scripts.findIndex((x) => x.name === lastScript(text));
	const wanted = last >= 0 ? last : usual;
	const place = wanted < s.scripts.length ? wanted : s.scripts.length - 1;
	queueMicrotask(() => choose(place));
});
