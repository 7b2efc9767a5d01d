// The desk: what is open, how it is drawn, and the board's time. Components
// read the signals and call the functions; nothing else talks to the engine
// about the board.

import { batch, computed, effect, signal } from "@preact/signals";
import * as doc from "./doc";
import { CallError, call, callNow, onRenewed } from "./engine";
import { lesson } from "./lesson";
import type { Action, Change, Drawing, Edited, Frame, Instant, Mark, Nanos, Sheet, Timed, View } from "./protocol";
import { w } from "./words";

export type Mode = "run" | "write" | "predict" | "print";

export const mode = signal<Mode>("run");
export const view = signal<View>({ symbols: "international", layout: "rungs", width: 0, noWords: false });
export const sheet = signal<Sheet | null>(null);
export const drawing = signal<Drawing | null>(null);
/** The board's latest frame, without its marks, which stay in `marks`. */
export const frame = signal<Frame | null>(null);
export const marks = signal<Mark[]>([]);
/** The latest instants at which something happened, oldest first. */
export const steps = signal<Instant[]>([]);
export const playing = signal(false);
/** Seconds of the run in a second of the room. */
export const speed = signal(1);
export const speeds = [0.1, 0.2, 0.5, 1, 2, 5, 10];
/** The script that was started last, its place; -1 for a free run. */
export const scriptPlace = signal(-1);
/** Id of the selected part of the drawing, empty for none. */
export const selected = signal("");
/** A sentence for the user, with what can be done about it. */
export interface Message {
	text: string;
	kind: "note" | "fault";
	action?: { words: string; run(): void };
}
export const message = signal<Message | null>(null);

/** Grows whenever the drawing or the run starts anew. */
export const generation = signal(0);

export const errors = computed(() => sheet.value?.diagnostics.filter((d) => d.grade === "error").length ?? 0);

const MS = 1_000_000;
const stepsKept = 60;
let log: Timed[] = [];

/** The actions of the session so far, for keeping. */
export const sessionLog = () => log;

/** Says a sentence; it stays until the next one, or goes by itself. */
export function say(text: string, kind: Message["kind"] = "note", action?: Message["action"]) {
	message.value = { text, kind, action };
}

/** Tells the user why a call failed. A lost worker tells its own story. */
export function complain(e: unknown) {
	if (e instanceof CallError && e.kind === "lost") return;
	say(e instanceof Error ? e.message : String(e), e instanceof CallError && e.kind === "input" ? "note" : "fault");
}

/** What the groups of drawings and marks look like; the engine sends each but once. */
const bodies = new Map<string, string>();

function whole(m: Mark): Mark {
	if (m.svg !== "") bodies.set(m.id, m.svg);
	return { ...m, svg: bodies.get(m.id) ?? "" };
}

const wholeDrawing = (d: Drawing): Drawing => ({ ...d, groups: d.groups.map(whole) });

/** What the engine tells at most of what happened since the frame before. */
const toldAtOnce = 50;

function take(f: Frame, fresh = false) {
	batch(() => {
		if (f.marks) marks.value = f.marks.map(whole);
		// The engine leaves an empty log out, and a fresh frame always has its own.
		if (f.log) log = f.log;
		else if (fresh) log = [];
		const kept = fresh ? [] : steps.value.filter((s) => s.at <= f.now && s.at >= f.from);
		const last = kept.length > 0 ? (kept[kept.length - 1] as Instant).at : -1;
		const newer = (f.happened ?? []).filter((s) => s.at > last);
		const same = (f.happened ?? []).find((s) => s.at === last);
		if (same) kept[kept.length - 1] = same;
		steps.value = [...kept, ...newer].slice(-stepsKept);
		frame.value = f;
		if (f.ended && f.now >= f.known) playing.value = false;
	});
	if ((f.happened?.length ?? 0) >= toldAtOnce) void refreshSteps().catch(complain);
}

let opening = 0;
/** The width that the drawing had when the text was last read. */
let drawnWidth = -1;

/** Reads the text and lays the board out; with keep, the session goes on. */
export async function reopen(keep: boolean) {
	const mine = ++opening;
	drawnWidth = view.value.width;
	try {
		const r = await call("open", { name: doc.docName.value, text: doc.text.value, view: view.value, keep });
		if (mine !== opening) {
			wholeDrawing(r.sheet.drawing); // sent but once
			r.frame.marks?.map(whole);
			return;
		}
		batch(() => {
			sheet.value = r.sheet;
			drawing.value = wholeDrawing(r.sheet.drawing);
			generation.value++;
			if (!keep) {
				playing.value = false;
				scriptPlace.value = -1;
			}
			take(r.frame, true);
		});
		if (!keep) await refreshSteps();
		if (r.left > 0) say(w.desk.actionsLeft(r.left));
		ready.value = true;
	} catch (e) {
		complain(e);
	}
}

/** True once the first drawing stands. */
export const ready = signal(false);

/** How many texts are on their way to the desk: until they stand there, it shows the one before. */
export const arriving = signal(0);

async function arrival<T>(work: () => Promise<T>): Promise<T> {
	arriving.value++;
	try {
		return await work();
	} finally {
		arriving.value--;
	}
}

/** Opens another text: nothing of the old one stays on the desk. */
export function openText(name: string, content: string) {
	loading = true; // it is read below; that it changed is no reason to read it twice
	doc.load(name, content);
	loading = false;
	selected.value = "";
	playing.value = false; // else the old run's time would be asked of the new one
	return arrival(() => reopen(false));
}

/** Opens a kept work as it was, paused: what hands did, and the instant shown. */
export function openKept(name: string, content: string, kept: Kept) {
	return arrival(() => restoreKept(name, content, kept));
}

interface Kept {
	log: Timed[];
	to: Nanos;
	script: number;
}

async function restoreKept(name: string, content: string, kept: Kept) {
	await openText(name, content);
	if (kept.log.length === 0 && kept.to === 0) return;
	try {
		const back = await call("restore", { log: kept.log, to: kept.to });
		batch(() => {
			scriptPlace.value = kept.script < (sheet.value?.scripts.length ?? 0) ? kept.script : -1;
			generation.value++;
			take(back.frame, true);
		});
		await refreshSteps();
		if (back.left > 0) say(w.desk.actionsLeft(back.left));
	} catch (e) {
		complain(e);
	}
}

// What is typed is read at once; while the engine is busy with it only the
// latest text counts.
let reading: Promise<void> | undefined;
let loading = false;
let lastText = "";
effect(() => {
	const now = doc.text.value;
	if (now === lastText) return;
	lastText = now;
	if (ready.value && !reading && !loading) reading = readLatest();
});

async function readLatest() {
	let read: string;
	do {
		read = doc.text.value;
		await reopen(true);
	} while (read !== doc.text.value);
	reading = undefined;
}

/** Waits until what stands in the text has been read. */
export function settleText(): Promise<void> {
	return reading ?? reopen(true);
}

/** Edits the picture: the change becomes one of the text. Returns what to select, or undefined if refused. */
export async function change(ch: Change): Promise<string | undefined> {
	try {
		const r = await edited(ch);
		if (r.refused) {
			say(r.refused);
			return undefined;
		}
		selected.value = partFor(r.select);
		return r.select;
	} catch (e) {
		complain(e);
		return undefined;
	}
}

/** Changes go one after another: each is worked out for the text that the one before left. */
let changing: Promise<unknown> = Promise.resolve();

/** Has a change worked out and makes it, unless it is refused; then the text has been read. */
export function edited(ch: Change): Promise<Edited> {
	const mine = changing.then(async () => {
		for (;;) {
			const sent = doc.text.value;
			const r = await call("edit", { text: sent, change: ch });
			if (doc.text.value !== sent) continue; // typed meanwhile: the places are others now
			if (!r.refused) {
				doc.edit(r.edits);
				await settleText();
			}
			return r;
		}
	});
	changing = mine.catch(() => undefined);
	return mine;
}

/** The id of the part that a selection of the engine means. */
function partFor(select: string): string {
	const parts = drawing.value?.parts ?? [];
	const hit = parts.find((p) => p.id === select) ?? parts.find((p) => p.signal === select);
	return hit?.id ?? parts.find((p) => p.id.startsWith(`${select}.`) || p.id.startsWith(`${select}:`))?.id ?? "";
}

/** Selects the part that the engine named after a change. */
export function selectPart(select: string) {
	selected.value = partFor(select);
}

/** Draws in another view; the run goes on. */
export async function look(next: Partial<View>) {
	view.value = { ...view.value, ...next };
	if (!ready.value) return;
	try {
		const r = await call("view", { view: view.value });
		drawnWidth = view.value.width;
		batch(() => {
			drawing.value = wholeDrawing(r.drawing);
			generation.value++;
			take(r.frame);
		});
	} catch (e) {
		complain(e);
	}
}

/** How the drawing becomes at a width. Nothing changes on the desk; whoever tries tells the room afterwards. */
export async function tryWidth(width: number): Promise<Drawing> {
	const r = await call("view", { view: { ...view.value, width } });
	drawnWidth = -1;
	// What happened meanwhile is told but once; the marks belong to the other layout.
	const { marks: other, ...f } = r.frame;
	const d = wholeDrawing(r.drawing);
	other?.map(whole); // sent but once
	take(f);
	return d;
}

/** Tells how wide the drawing may be; it is laid out anew only if that matters. */
export function roomFor(width: number) {
	if (Math.abs(width - drawnWidth) < 300 && drawnWidth >= 0) return;
	if (ready.value) look({ width });
	else view.value = { ...view.value, width };
}

/** Starts the run anew with a script ahead, or none. */
export async function start(script: number, thenPlay = false) {
	playing.value = false; // else the old run's time would be asked of the new one
	try {
		const f = await call("start", { script });
		batch(() => {
			scriptPlace.value = script;
			generation.value++;
			take(f, true);
		});
		await refreshSteps();
		if (thenPlay) play();
	} catch (e) {
		complain(e);
	}
}

async function refreshSteps() {
	const r = await call("story", { limit: stepsKept });
	steps.value = r.instants;
}

/** What the board's time is wanted to be; it runs ahead of the frames. */
let wanted: Nanos = 0;
let asking = false;

async function ask(to: Nanos) {
	asking = true;
	try {
		take(await call("move", { to }));
	} catch (e) {
		playing.value = false;
		complain(e);
	} finally {
		asking = false;
	}
}

/** Where playing stops by itself; -1 for nowhere. */
export const stopAt = signal<Nanos>(-1);
let lastTick = 0;
function tick(now: number) {
	if (!playing.value) return;
	requestAnimationFrame(tick);
	// A tab that slept doesn't catch up on what it missed.
	const passed = Math.min(now - lastTick, 100);
	lastTick = now;
	wanted += passed * speed.value * MS;
	const whole = Math.floor(wanted / MS) * MS;
	const at = frame.value?.now ?? 0;
	if (asking || whole <= at) return;
	if (at < stopAt.value && whole >= stopAt.value) goTo(stopAt.value);
	else ask(whole);
}

export function play() {
	if (playing.value) return;
	wanted = frame.value?.now ?? 0;
	playing.value = true;
	lastTick = performance.now();
	requestAnimationFrame(tick);
}

export function pause() {
	playing.value = false;
}

/** Moves the cursor to an instant, forward or back, and pauses there. */
export async function goTo(at: Nanos) {
	playing.value = false;
	wanted = at;
	if (asking) return later(at);
	const back = at < (frame.value?.now ?? 0);
	await ask(Math.max(0, Math.round(at)));
	if (back) await refreshSteps();
}

// While a call is under way only the latest wish counts.
let wish: Nanos | undefined;
async function later(at: Nanos) {
	const first = wish === undefined;
	wish = at;
	if (!first) return;
	while (asking) await new Promise((r) => setTimeout(r, 4));
	const to = wish;
	wish = undefined;
	await goTo(to);
}

/** To the next instant at which anything happens; with none before it, to the end of what is known. */
export function stepOn() {
	const f = frame.value;
	if (f && f.next >= 0) return goTo(f.next);
	if (f && f.now < f.known) return goTo(f.known);
	say(w.desk.nothingNext);
}

/** To the latest instant before. */
export function stepBack() {
	const f = frame.value;
	if (f && f.back >= 0) return goTo(f.back);
}

/** Hands act, at the board's time; not on a board that is about to go. */
export async function act(...actions: Action[]) {
	if (arriving.value > 0) return;
	const now = frame.value?.now ?? 0;
	const at = playing.value ? Math.max(now, Math.floor(wanted / MS) * MS) : now;
	try {
		take(await call("act", { at, actions }));
	} catch (e) {
		complain(e);
	}
}

/** Puts a run of the present text back: all actions, and the instant to show. */
export async function restoreRun(actions: Timed[], to: Nanos) {
	try {
		playing.value = false;
		take((await call("restore", { log: actions, to })).frame, true);
		await refreshSteps();
	} catch (e) {
		complain(e);
	}
}

/** Whether the run may be changed: a lesson may only be watched. */
export const mayWrite = computed(() => !lesson || lesson.editor);

onRenewed(async () => {
	const kept = log;
	const at = frame.value?.now ?? 0;
	playing.value = false;
	say(w.desk.renewed);
	if (!ready.value && doc.text.value === "") return; // lost before anything stood on the desk
	try {
		const open = { name: doc.docName.value, text: doc.text.value, view: view.value, keep: false };
		const r = await callNow("open", open);
		batch(() => {
			sheet.value = r.sheet;
			drawing.value = wholeDrawing(r.sheet.drawing);
			r.frame.marks?.map(whole); // sent but once; what is shown is the run that comes back
			generation.value++;
		});
		const back = await callNow("restore", { log: kept, to: at });
		take(back.frame, true);
		steps.value = (await callNow("story", { limit: stepsKept })).instants;
		ready.value = true;
	} catch (e) {
		complain(e);
	}
});
