// Asking why: of anything on the board or the chart, at the instant shown.

import { effect, signal } from "@preact/signals";
import { complain, frame, pause, scriptPlace, sheet } from "../../desk";
import { call } from "../../engine";
import type { Nanos, Reply } from "../../protocol";

export type Answer = Reply<"why"> & { of: string; at: Nanos };

/** The next touch asks why. */
export const asking = signal(false);
export const answer = signal<Answer | null>(null);

/** What a chart's row is about. */
export const signalOfRow = (row: string): string => row.replace(/\.elapsed$/, "");

export async function askWhy(of: string) {
	asking.value = false;
	if (!of) return;
	// Whoever asks wants to read: time stands meanwhile.
	pause();
	const at = frame.value?.now ?? 0;
	try {
		answer.value = { ...(await call("why", { of, at })), of, at };
	} catch (e) {
		complain(e);
	}
}

// An answer about another circuit or another run explains nothing.
effect(() => {
	sheet.value;
	scriptPlace.value;
	answer.value = null;
});
