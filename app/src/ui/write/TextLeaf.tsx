// The text side: the editor, and below it what is not right with the text.

import { setDiagnostics } from "@codemirror/lint";
import { openSearchPanel } from "@codemirror/search";
import { EditorView, type ViewUpdate } from "@codemirror/view";
import { useSignalEffect } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { selected, sheet } from "../../desk";
import * as doc from "../../doc";
import { w } from "../../words";
import { Button } from "../kit";
import { extensions, marksOf, tidy } from "./editor";
import { Faults, mend } from "./Faults";
import { followCursor, setView, showInText, textHasFocus } from "./link";

function onUpdate(u: ViewUpdate) {
	if (u.transactions.length > 0) doc.moved(u.state);
	if (u.selectionSet && !u.docChanged && u.view.hasFocus) {
		followCursor(u.state.doc.toString(), u.state.selection.main.head);
	}
}

function keepCursor(v: EditorView) {
	v.dispatch({ effects: EditorView.scrollIntoView(v.state.selection.main.head, { y: "nearest", yMargin: 24 }) });
}

/** The editor under the document, as long as this side is on the page. */
function useEditor() {
	const place = useRef<HTMLDivElement>(null);
	const view = useRef<EditorView | null>(null);
	useEffect(() => {
		const v = new EditorView({ state: doc.editorState(extensions(onUpdate)), parent: place.current ?? undefined });
		view.current = v;
		doc.attach(v);
		setView(v);
		return () => {
			setView(undefined);
			doc.attach(undefined);
			view.current = null;
			v.destroy();
		};
	}, []);
	return { place, view };
}

export function TextLeaf() {
	const { place, view } = useEditor();
	useSignalEffect(() => {
		const list = sheet.value?.diagnostics ?? [];
		// After this turn, for the editor may be in the middle of an update.
		queueMicrotask(() => {
			const v = view.current;
			if (!v) return;
			v.dispatch(setDiagnostics(v.state, marksOf(list, v.state.doc.length, mend)));
			// The list below may have taken the room that the cursor stood in.
			if (v.hasFocus) requestAnimationFrame(() => keepCursor(v));
		});
	});
	useSignalEffect(() => {
		if (selected.value && !textHasFocus()) showInText(false);
	});
	return (
		<section class="text-leaf" aria-label={w.write.text}>
			<div class="row text-tools">
				<Button onClick={tidy} aria-keyshortcuts="Control+Shift+F">
					{w.write.tidy}
				</Button>
				<Button
					onClick={() => {
						if (view.current) openSearchPanel(view.current);
					}}
					aria-keyshortcuts="Control+F"
				>
					{w.write.find}
				</Button>
			</div>
			<div class="editor" ref={place} />
			<Faults />
		</section>
	);
}
