// In a lesson without an editor, a circuit that is to be predicted shows its
// run and its sheets only after the reveal: both give the answer away.

import { computed, effect, signal } from "@preact/signals";
import { mode, say, sheet } from "../../desk";
import { text } from "../../doc";
import { readRecord, write } from "../../keep/store";
import { lesson, lessonAt, lessonCircuit, lessonKey } from "../../lesson";
import { w } from "../../words";
import { projecting } from "../look/projecting";

const key = `revealed.${lessonKey}`;

function recall(): number[] {
	const r = lesson ? readRecord(key) : null;
	return Array.isArray(r?.circuits) ? r.circuits.filter((n): n is number => typeof n === "number") : [];
}

/** Places of the lesson's circuits whose answer was revealed. */
const opened = signal(recall());

/** The answer of the circuit on the desk stands there: from now on all of it is open. */
export function circuitRevealed() {
	const at = lessonAt.value;
	if (!lesson || at < 0 || opened.value.includes(at)) return;
	opened.value = [...opened.value, at];
	write(key, JSON.stringify({ version: 1, circuits: opened.value }));
}

/** The circuit on the desk is still to be predicted. */
export const unrevealed = computed(
	() =>
		(lessonCircuit.value?.predict.length ?? 0) > 0 &&
		lessonCircuit.value?.text === text.value &&
		(sheet.value?.scripts.length ?? 0) > 0 &&
		!opened.value.includes(lessonAt.value),
);

/** Run and Print are closed for the circuit on the desk. */
export const closed = computed(() => lesson !== null && !lesson.editor && unrevealed.value);

// By whichever way one comes: a kept work may have been left on its run.
effect(() => {
	const m = mode.value;
	const projected = projecting.value;
	if (!sheet.value || !closed.peek()) return;
	if (projected) {
		projecting.value = false;
		say(w.files.lesson.closed);
	}
	if (m === "run" || m === "print") mode.value = "predict";
});
