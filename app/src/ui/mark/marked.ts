// The marks of the answer on the screen, and the press to be tried next.

import { effect, signal } from "@preact/signals";
import { complain, edited, say, sheet } from "../../desk";
import { text } from "../../doc";
import { call } from "../../engine";
import type { Marked, Press } from "../../protocol";
import { w } from "../../words";
import { answered, choose, revealed } from "../predict/state";
import { task } from "./task";

export const marked = signal<Marked | null>(null);
/** Undefined while it is looked for, null where there is no idea to be shown. */
export const press = signal<Press | null | undefined>(null);

let shown = "";

// A reveal that is drawn anew at another width has the marks that it had.
effect(() => {
	if (!revealed.value) {
		shown = "";
		marked.value = null;
		press.value = null;
		return;
	}
	const request = answered();
	const key = JSON.stringify([text.peek(), request]);
	if (key === shown) return;
	shown = key;
	void load(request, key);
});

async function load(request: ReturnType<typeof answered>, key: string) {
	try {
		const m = await call("mark", request);
		if (key !== shown) return;
		marked.value = m;
		const ids = m.fits.filter((f) => f.explains).flatMap((f) => f.readings.map((r) => r.id));
		if (ids.length === 0) return;
		press.value = undefined;
		const p = await call("press", { rows: request.given.map((g) => g.row), ids: [...new Set(ids)] });
		if (key === shown) press.value = p;
	} catch (e) {
		if (key === shown) press.value = null;
		complain(e);
	}
}

/** Puts a press among the scripts; gives its place, -1 if it can't be. */
export async function take(p: Press): Promise<number> {
	try {
		const r = await edited({ do: "keep-script", name: p.name, text: p.lines.join("\n") });
		if (r.refused) {
			say(r.refused);
			return -1;
		}
		return sheet.value?.scripts.findIndex((s) => s.name === p.name) ?? -1;
	} catch (e) {
		complain(e);
		return -1;
	}
}

/** Sets a press up to be predicted. */
export async function tryPress(p: Press) {
	const place = await take(p);
	if (place < 0) return;
	task.value = "draw";
	await predictScript(place, [p.row]);
	say(w.mark.behind.added(p.name));
}

/** Asks for rows of a script, and for these alone. */
export async function predictScript(place: number, rows: string[]) {
	await choose(place, rows);
	window.scrollTo(0, 0);
}
