// A script that was played to its end leaves the board standing there: what
// comes after belongs to the hands.

import { effect, untracked } from "@preact/signals";
import { frame, playing, say, scriptPlace, sheet, stopAt } from "../../desk";
import { w } from "../../words";

/** Has playing stop where the chosen script ends, and says so. Returns how to stop watching. */
export function watchEnd(): () => void {
	let before = 0;
	const stops = effect(() => {
		stopAt.value = sheet.value?.scripts[scriptPlace.value]?.end ?? -1;
	});
	const says = effect(() => {
		const now = frame.value?.now ?? 0;
		const was = before;
		before = now;
		untracked(() => {
			if (now === stopAt.value && was < now && !playing.value) say(w.run.scripts.ended);
		});
	});
	return () => {
		stops();
		says();
		stopAt.value = -1;
	};
}
