// Changes of the text that take more than one question to the engine, or none
// of the kinds that the desk knows.

import { ChangeSet, Text } from "@codemirror/state";
import { complain, message, say, selectPart, settleText } from "../../desk";
import * as doc from "../../doc";
import { call } from "../../engine";
import type { Change, Edited } from "../../protocol";
import { w } from "../../words";

type Edits = Edited["edits"];

/** The least replacement that makes one text another, so that the cursor stays where it was. */
export function replaceText(old: string, next: string): { edits: Edits } {
	if (old === next) return { edits: [] };
	const most = Math.min(old.length, next.length);
	let a = 0;
	while (a < most && old[a] === next[a]) a++;
	let b = 0;
	while (b < most - a && old[old.length - 1 - b] === next[next.length - 1 - b]) b++;
	return { edits: [{ from: a, to: old.length - b, text: next.slice(a, next.length - b) }] };
}

/** Changes the text by what `make` finds out about it; says why if it is refused. */
export async function edit(
	make: (text: string) => Promise<{ edits?: Edits; refused?: string; said?: string }>,
): Promise<boolean> {
	const before = doc.text.value;
	try {
		const r = await make(before);
		if (r.refused) {
			say(r.refused);
			return false;
		}
		if (doc.text.value !== before) {
			say(w.write.moved);
			return false;
		}
		if (r.edits && r.edits.length > 0) doc.edit(r.edits);
		if (r.said) say(r.said);
		return true;
	} catch (e) {
		complain(e);
		return false;
	}
}

/** What several changes mean in a text: all edits together, or why one is refused. */
async function together(before: string, changes: Change[]) {
	let text = before;
	let all: ChangeSet | undefined;
	let select = "";
	for (const change of changes) {
		const r = await call("edit", { text, change });
		if (r.refused) return { refused: r.refused, select };
		const spec = r.edits.map((e) => ({ from: e.from, to: e.to, insert: e.text }));
		const one = ChangeSet.of(spec, text.length);
		text = one.apply(Text.of(text.split("\n"))).toString();
		all = all ? all.compose(one) : one;
		select = r.select;
	}
	const edits: Edits = [];
	all?.iterChanges((from, to, _from, _to, inserted) => edits.push({ from, to, text: inserted.toString() }));
	return { edits, select };
}

/** Several changes of the picture as one step: all of them, or none. Returns what to select, or undefined. */
export async function changeAll(changes: Change[]): Promise<string | undefined> {
	let select = "";
	const done = await edit(async (before) => {
		const r = await together(before, changes);
		select = r.select;
		return r;
	});
	if (!done) return undefined;
	await settleText();
	selectPart(select);
	return select;
}

/** Why the last change was refused, for a dialog that covers the desk's own line. */
export const reason = () => message.value?.text ?? "";
