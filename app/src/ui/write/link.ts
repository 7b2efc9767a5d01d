// The editor that is on the screen, and the bond between what is chosen on the
// drawing and where the cursor stands in the text.

import { EditorView } from "@codemirror/view";
import { drawing, selected, sheet } from "../../desk";
import { partAt, spanOf } from "./place";
import { byName, folded, target } from "./state";

let view: EditorView | undefined;

export function setView(v: EditorView | undefined) {
	view = v;
}

/** The cursor goes to what is chosen on the drawing. */
export function showInText(focus: boolean) {
	if (focus) folded.value = false;
	// A leaf that has just been turned up has its size only after the next frame.
	requestAnimationFrame(() => {
		const s = sheet.value;
		if (!view || !s) return;
		const text = view.state.doc.toString();
		const t = target.value;
		const span = t.part ? spanOf(s, text, t.part) : t.device;
		if (span && span.to <= text.length) {
			view.dispatch({
				selection: { anchor: span.from, head: span.to },
				effects: EditorView.scrollIntoView(span.from, { y: "nearest", yMargin: 40 }),
			});
		}
		if (focus) view.focus();
	});
}

/** What the cursor stands on becomes what is chosen on the drawing. */
export function followCursor(text: string, at: number) {
	const s = sheet.value;
	const d = drawing.value;
	if (!s || !d) return;
	const part = partAt(s, d, text, at);
	byName.value = part ? "" : (s.devices.find((x) => x.from <= at && at <= x.to)?.tag ?? "");
	selected.value = part?.id ?? "";
}

/** Whether the cursor is being moved in the text now. */
export const textHasFocus = () => view?.hasFocus ?? false;

/** Goes to a place in the text, to work there. */
export function goToPlace(from: number, to: number) {
	if (!view) return;
	const end = view.state.doc.length;
	view.dispatch({
		selection: { anchor: Math.min(from, end), head: Math.min(to, end) },
		scrollIntoView: true,
	});
	view.focus();
}
