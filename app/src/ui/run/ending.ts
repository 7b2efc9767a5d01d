// A script that was played to its end leaves the board standing there: what
// comes after belongs to the hands.

import { effect, untracked } from "@preact/signals";
import { frame, goTo, playing, say, scriptPlace, sessionLog, sheet } from "../../desk";
import { w } from "../../words";

/** Pauses where the chosen script ends. Returns how to stop watching. */
export function watchEnd(): () => void {
	let before = 0;
	return effect(() => {
		const now = frame.value?.now ?? 0;
		const was = before;
		before = now;
		untracked(() => {
			const script = sheet.value?.scripts[scriptPlace.value];
			if (!playing.value || !script || was >= script.end || now < script.end) return;
			// Who has operated something has taken over.
			if (sessionLog().some((a) => a.at > script.end)) return;
			goTo(script.end);
			say(w.run.scripts.ended);
		});
	});
}
