// The exercise on the screen: which one, the chart chosen, what came of it.

import { effect, signal } from "@preact/signals";
import { mode, say, sheet } from "../../desk";
import * as doc from "../../doc";
import { CallError, call } from "../../engine";
import { lesson, lessonCircuit } from "../../lesson";
import type { Chosen, Exercise, Question } from "../../protocol";
import { circuitRevealed } from "../lesson/lock";
import { decimal } from "../predict/line";
import { add, edgesOf, type Sure } from "../predict/store";
import { task } from "./task";

export type Source = "circuit" | "level";

export const source = signal<Source>("circuit");
export const levels = signal<{ name: string; words: string }[]>([]);
export const level = signal("");
export const code = signal("BAY-7");
export const number = signal(1);
export const scriptAt = signal(0);

export const question = signal<Question | null>(null);
/** Why there is no question; empty for none. */
export const problem = signal("");
export const letter = signal("");
export const sureOf = signal<Sure>("");
/** What came of each chart that was chosen, by letter; the first stands first. */
export const chosen = signal<{ letter: string; what: Chosen }[]>([]);

const kept = "tarry.exercises";

function recall() {
	try {
		const k = JSON.parse(sessionStorage.getItem(kept) ?? "null");
		if (k?.version !== 1) return;
		if (typeof k.level === "string") level.value = k.level;
		if (typeof k.code === "string") code.value = k.code.slice(0, 60);
		if (Number.isInteger(k.number)) number.value = Math.min(Math.max(k.number, 1), 99);
		if (k.source === "level" || k.source === "circuit") source.value = k.source;
	} catch {
		// It begins with the usual ones.
	}
}
recall();

effect(() => {
	const k = { version: 1, source: source.value, level: level.value, code: code.value, number: number.value };
	try {
		sessionStorage.setItem(kept, JSON.stringify(k));
	} catch {
		// It lasts as long as the page.
	}
});

const wanted = (): Exercise => ({
	level: source.value === "level" ? level.value : "",
	code: code.value,
	number: number.value,
	script: scriptAt.value,
	rows: source.value === "circuit" ? rowsOrdered() : [],
	letter: "",
	width: matchMedia("(max-width: 40rem)").matches ? narrowChart : wideChart,
});

/** Widths at which figures and names come out large enough to read; on a phone the charts scroll as well. */
const narrowChart = 12000;
const wideChart = 15000;

/** The lesson may say what is asked. */
const rowsOrdered = () => lessonCircuit.value?.predict ?? [];

let asking = 0;

export async function ask() {
	const mine = ++asking;
	letter.value = "";
	sureOf.value = "";
	chosen.value = [];
	problem.value = "";
	question.value = null;
	try {
		if (levels.value.length === 0) {
			levels.value = await call("levels", {});
			if (level.value === "") level.value = levels.value[0]?.name ?? "";
		}
		if (mine !== asking) return;
		const q = await call("question", wanted());
		if (mine === asking) question.value = q;
	} catch (e) {
		if (mine === asking && !(e instanceof CallError && e.kind === "lost"))
			problem.value = e instanceof Error ? e.message : String(e);
	}
}

let text: string | undefined;
// Another circuit on the desk is another question, once the area is on screen.
effect(() => {
	if (mode.value !== "predict" || task.value !== "choose" || !sheet.value) return;
	const now = doc.text.peek();
	if (now === text) return;
	text = now;
	const first = lesson ? (lessonCircuit.peek()?.script ?? 0) : 0;
	queueMicrotask(() => {
		scriptAt.value = Math.max(first, 0);
		void ask();
	});
});

/** Goes on by so many exercises; for the circuit on the desk, scripts. */
export function go(by: number) {
	if (source.value === "level") number.value += by;
	else scriptAt.value += by;
	return ask();
}

export const hasNext = () =>
	source.value === "level" ? number.value < 99 : scriptAt.value + 1 < (sheet.value?.scripts.length ?? 0);
export const hasPrevious = () => (source.value === "level" ? number.value > 1 : scriptAt.value > 0);

/** Settles on the chart; the first choice is kept as a prediction. */
export async function decide() {
	const mine = asking;
	const picked = letter.value;
	if (picked === "" || chosen.value.some((c) => c.letter === picked)) return;
	try {
		const what = await call("choose", { ...wanted(), letter: picked });
		if (mine !== asking) return;
		if (chosen.value.length === 0) keep(what);
		chosen.value = [...chosen.value, { letter: picked, what }];
		if (source.value === "circuit") circuitRevealed();
	} catch (e) {
		say(e instanceof Error ? e.message : String(e));
	}
}

function keep(c: Chosen) {
	const own = source.value === "circuit";
	add({
		circuit: own ? doc.docName.value : c.title,
		text: own ? doc.text.value : c.text,
		script: c.script,
		tolerance: "0",
		rows: c.lines.map((l) => ({
			row: l.row,
			start: l.start,
			edges: edgesOf(l),
			sure: sureOf.value,
			right: l.wrong < 0,
			firstWrong: l.wrong >= 0 ? decimal(l.wrong) : null,
		})),
		at: new Date().toISOString(),
	});
}
