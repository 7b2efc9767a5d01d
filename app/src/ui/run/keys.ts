// The keys of the board, when no field has the focus.

import { frame, goTo, pause, play, playing, sheet, stepBack, stepOn } from "../../desk";
import { letGo, press } from "./hands";
import { asking } from "./why";

/** Devices in the order of the strip of hands, and of the number keys. */
export function handDevices(): number[] {
	const list = sheet.value?.devices ?? [];
	return list.flatMap((d, i) => (d.hand ? [i] : []));
}

/** Whether a key belongs to what has the focus: a field, or a dialog. */
export function taken(e: KeyboardEvent): boolean {
	const t = e.target as HTMLElement;
	if (e.altKey || e.metaKey) return true;
	return t.closest("input, textarea, select, dialog, [contenteditable=true], [role=slider]") !== null;
}

/** A digit's place in the strip; by the physical key, so that Shift does no harm. */
function place(e: KeyboardEvent): number {
	const digit = /^(?:Digit|Numpad)([1-9])$/.exec(e.code);
	return digit ? Number(digit[1]) - 1 : -1;
}

/** Operates a hand by its number key; true if it was one. */
export function handKey(e: KeyboardEvent): boolean {
	const at = place(e);
	const device = at < 0 ? undefined : handDevices()[at];
	if (device === undefined) return false;
	if (e.type === "keyup") letGo(device, `key ${e.code}`);
	else if (!e.repeat) press(device, `key ${e.code}`, e.shiftKey || e.ctrlKey);
	return true;
}

export const toggle = () => (playing.value ? pause() : play());
export const toStart = () => goTo(frame.value?.from ?? 0);

/** The next touch asks why, or no longer does. */
export function ask() {
	asking.value = !asking.value;
}

const ways: Record<string, () => unknown> = {
	k: toggle,
	K: toggle,
	ArrowRight: stepOn,
	".": stepOn,
	ArrowLeft: stepBack,
	",": stepBack,
	Home: toStart,
	w: ask,
	W: ask,
	"?": ask,
};

/** Keys of the board in "Run". */
export function boardKey(e: KeyboardEvent) {
	// A hand that was begun by key is ended by it, wherever the focus went.
	if (e.type === "keyup") {
		handKey(e);
		return;
	}
	if (e.defaultPrevented || taken(e)) return;
	if (handKey(e)) return e.preventDefault();
	if (e.ctrlKey) return;
	if (e.key === "Escape") {
		asking.value = false;
		return;
	}
	const onBody = !(e.target as HTMLElement).closest("button, a, summary, [tabindex]");
	const way = e.key === " " && onBody ? toggle : ways[e.key];
	if (!way) return;
	e.preventDefault();
	way();
}
