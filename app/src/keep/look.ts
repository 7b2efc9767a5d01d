// How the reader wants things to look. It belongs to the reader, not to a
// work, so it is one record for the whole desk.

import { effect, signal } from "@preact/signals";
import { view } from "../desk";
import { applyGround, type Ground } from "./ground";
import { readRecord, write } from "./store";

export const ground = signal<Ground>("system");
export const textSize = signal<"normal" | "large">("normal");
/** The page in greys, as a black printer shows it; not kept. */
export const grey = signal(false);
/** The cautions that have been read and folded away on a small screen. */
export const cautionsRead = signal<string[]>([]);
/** The reader knows what the marks on the drawing mean. */
export const marksRead = signal(false);
/** The reader has done with the hint of the first screen. */
export const hintDone = signal(false);
/** The reader has followed the hint: it stays for now, but won't come again. */
export const hintFollowed = signal(false);

const one = <T extends string>(v: unknown, of: readonly T[], usual: T) => of.find((x) => x === v) ?? usual;

/** Reads the settings and puts them in force; from then on changes are kept. */
export function beginLook() {
	const r = readRecord("look") ?? {};
	ground.value = one(r.ground, ["system", "light", "dark"] as const, "system");
	textSize.value = one(r.textSize, ["normal", "large"] as const, "normal");
	if (Array.isArray(r.cautionsRead)) cautionsRead.value = r.cautionsRead.filter((x) => typeof x === "string");
	hintDone.value = r.hintDone === true;
	marksRead.value = r.marksRead === true;
	view.value = {
		...view.value,
		symbols: one(r.symbols, ["international", "american"] as const, "international"),
		layout: one(r.layout, ["rungs", "paths"] as const, "rungs"),
		noWords: r.noWords === true,
	};
	effect(applyNow);
	effect(keepLook);
	matchMedia("(prefers-color-scheme: dark)").addEventListener("change", applyNow);
}

function applyNow() {
	applyGround(ground.value);
	document.documentElement.dataset.text = textSize.value;
	document.documentElement.toggleAttribute("data-grey", grey.value);
}

let last = "";
function keepLook() {
	const { symbols, layout, noWords } = view.value;
	const content = JSON.stringify({
		version: 1,
		symbols,
		layout,
		noWords,
		ground: ground.value,
		textSize: textSize.value,
		cautionsRead: cautionsRead.value,
		marksRead: marksRead.value,
		hintDone: hintDone.value || hintFollowed.value,
	});
	// The drawing's width changes the view as well; that is none of ours.
	if (content === last) return;
	last = content;
	write("look", content);
}
