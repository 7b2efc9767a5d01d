// What the scripts of the circuit on the desk can't reveal, and better presses.

import { effect, signal } from "@preact/signals";
import { complain, mode, say, sheet } from "../../desk";
import { text } from "../../doc";
import { call } from "../../engine";
import type { Press, Telling } from "../../protocol";
import { w } from "../../words";
import { predictScript, take } from "../mark/marked";
import { task } from "../mark/task";

export const telling = signal<Telling | null>(null);
export const working = signal(false);
/** Ids of the ideas in play; empty for all that can change the circuit. */
export const inPlay = signal<string[]>([]);

let looking = 0;

export async function look() {
	const mine = ++looking;
	working.value = true;
	try {
		const r = await call("telling", { ids: inPlay.value, margin: 0 });
		if (mine === looking) telling.value = r;
	} catch (e) {
		complain(e);
	} finally {
		if (mine === looking) working.value = false;
	}
}

let looked: string | undefined;
// Another text is another question. It is a long one, so it is asked only while it is looked at.
effect(() => {
	if (mode.value !== "predict" || task.value !== "tell" || !sheet.value) return;
	const now = text.peek();
	if (now === looked) return;
	looked = now;
	queueMicrotask(() => void look());
});

export function choosePlay(id: string, yes: boolean) {
	const all = telling.value?.readings.filter((r) => r.out === "").map((r) => r.id) ?? [];
	const now = inPlay.value.length === 0 ? all : inPlay.value;
	const next = all.filter((x) => (x === id ? yes : now.includes(x)));
	inPlay.value = next.length === all.length ? [] : next;
}

export async function takePress(p: Press) {
	const place = await take(p);
	if (place < 0) return;
	const run = () => {
		task.value = "draw";
		void predictScript(place, [p.row]).catch(complain);
	};
	say(w.mark.tell.taken(p.name), "note", { words: w.mark.tell.predict, run });
}
