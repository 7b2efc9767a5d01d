// How wide a drawing is laid out so that it fills a room: a few widths are
// tried, and the one that leaves it largest is taken.

import { signal } from "@preact/signals";
import { complain, drawing, ready, sheet, tryWidth, view } from "../../desk";
import type { Drawing, Sheet, Unit } from "../../protocol";
import { bestPage, type Page, type Room } from "./columns";

/** Whether the board shows the whole drawing, or words that are read with ease; empty: whatever the room allows. */
export const zoom = signal<"" | "whole" | "large">("");

/** The board shows the whole drawing at the moment. */
export const wholeNow = signal(false);

interface Tried {
	width: Unit;
	drawing: Drawing;
}

/** The layouts of the circuit on the desk, in the view that is set. */
export const layouts = signal<Tried[]>([]);

/** 0 is as wide as it takes; narrower ones fold the rungs. */
const widths = [0, 8000, 9500, 11000, 12500, 14000, 16000];

const keyOf = () => {
	const { symbols, layout, noWords } = view.value;
	return `${symbols} ${layout} ${noWords}`;
};

let triedFor: { sheet: Sheet; key: string } | undefined;

/** Tries the layouts unless that has been done for what stands on the desk. */
export async function tryLayouts() {
	const s = sheet.value;
	const key = keyOf();
	if (!s || !ready.value || (triedFor?.sheet === s && triedFor.key === key)) return;
	triedFor = { sheet: s, key };
	layouts.value = [];
	// What stands there is painted first: the frame after this one comes when it is.
	for (let n = 0; n < 2; n++) await new Promise(requestAnimationFrame);
	const list: Tried[] = [];
	try {
		for (const width of widths) {
			// Wider than it needs only adds blank paper.
			if (width > (list[0]?.drawing.width ?? width)) continue;
			list.push({ width, drawing: await tryWidth(width) });
			if (sheet.value !== s || keyOf() !== key) return;
		}
		layouts.value = list;
	} catch (e) {
		triedFor = undefined;
		complain(e);
	}
}

export interface Fitted {
	width: Unit;
	page: Page;
}

/** The layout that becomes largest in a room; until some have been tried, the one that stands. */
export function bestLayout(room: Room): Fitted | undefined {
	const d = drawing.value;
	const list = layouts.value.length > 0 ? layouts.value : d ? [{ width: view.value.width, drawing: d }] : [];
	let best: Fitted | undefined;
	for (const t of list) {
		const page = bestPage(t.drawing, room);
		// A folded rung is harder to follow: it must be worth it.
		if (!best || page.scale > best.page.scale * (best.width === 0 ? 1.25 : 1.02)) best = { width: t.width, page };
	}
	return best;
}
