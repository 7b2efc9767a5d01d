// The way through a lesson: which circuit is on the desk, which have been
// seen, and the works that belong to them.

import { signal } from "@preact/signals";
import { complain, sheet, start } from "../../desk";
import { asGiven, openFresh, openWork, presentWork, tell, workToResume } from "../../keep/keep";
import { readRecord, write } from "../../keep/store";
import { type LessonCircuit, lesson, lessonAt, lessonKey } from "../../lesson";
import { w } from "../../words";

/** Places of the circuits that have been on the desk. */
export const seen = signal<number[]>([]);

const key = `lesson.${lessonKey}`;

function keepSeen(at: number) {
	if (!seen.value.includes(at)) seen.value = [...seen.value, at];
	write(key, JSON.stringify({ version: 1, seen: seen.value, at }));
}

export async function beginLesson() {
	const r = readRecord(key);
	if (Array.isArray(r?.seen)) seen.value = r.seen.filter((n): n is number => typeof n === "number");
	const found = await workToResume((x) => x.circuit >= 0 || x.touched);
	if (found && (await openWork(found.work.id, true))) {
		if (lessonAt.value >= 0) keepSeen(lessonAt.value);
		return;
	}
	await goCircuit(typeof r?.at === "number" ? r.at : 0);
}

/** Puts a circuit of the lesson on the desk, as the learner left it. */
export async function goCircuit(at: number) {
	const c = lesson?.circuits[at] ?? lesson?.circuits[0];
	if (!lesson || !c) return;
	const place = lesson.circuits.indexOf(c);
	keepSeen(place); // before anything is waited for: the page may be closed meanwhile
	const found = await workToResume((x) => x.circuit === place && x.id !== presentWork());
	if (!found || !(await openWork(found.work.id, true))) await openAfresh(c, place);
}

/** The circuit as the lesson has it, whatever was done to it before. */
export async function beginAgain() {
	const c = lesson?.circuits[lessonAt.value];
	const before = c && (await openAfresh(c, lessonAt.value));
	if (before) {
		const back = () => void openWork(before.id, true).catch(complain);
		tell(w.files.lesson.afreshDone, { words: w.files.lesson.mine, run: back });
	}
}

async function openAfresh(c: LessonCircuit, circuit: number) {
	const how = c.predict.length > 0 ? "predict" : "run";
	const before = await openFresh({ name: c.name, text: c.text, circuit, quiet: true, mode: how });
	// A prediction starts its script itself.
	if (c.script >= 0 && c.script < (sheet.value?.scripts.length ?? 0) && how === "run") {
		await start(c.script);
		asGiven();
	}
	return before;
}
