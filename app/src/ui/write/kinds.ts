// The kinds of device that the engine knows, asked for once.

import { signal } from "@preact/signals";
import { complain } from "../../desk";
import { call } from "../../engine";
import type { Kind } from "../../protocol";

export const kinds = signal<Kind[]>([]);
let asked = false;

export function loadKinds() {
	if (asked) return;
	asked = true;
	call("about", {})
		.then((a) => {
			kinds.value = a.kinds;
		})
		.catch((e) => {
			asked = false;
			complain(e);
		});
}

/** What stands behind the kind's word in a declaration: "5 s" of "on-delay 5 s". */
export function settingsOf(words: string, kind: Kind): string {
	return words.startsWith(kind.word) ? words.slice(kind.word.length).trim() : words;
}

/** The kind of a declaration: the one with the longest word that it begins with. */
export function kindOf(words: string): Kind | undefined {
	const fits = kinds.value.filter((k) => words === k.word || words.startsWith(`${k.word} `));
	return fits.sort((a, b) => b.word.length - a.word.length)[0];
}
