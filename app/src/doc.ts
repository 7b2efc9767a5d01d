// The document: the text of the circuit with its one undo history. The text is
// the master; an edit on the picture arrives here as a change of the text like
// any other.

import {
	history,
	historyField,
	isolateHistory,
	redo as redoCommand,
	redoDepth,
	undo as undoCommand,
	undoDepth,
} from "@codemirror/commands";
import { type ChangeSpec, EditorState, type Extension, Transaction, type TransactionSpec } from "@codemirror/state";
import type { EditorView } from "@codemirror/view";
import { computed, signal } from "@preact/signals";

/** The state that stands when no editor is on the screen; with one, the same as its own. */
const state = signal(EditorState.create({ extensions: history() }));

/** File name without its ending, for downloads and messages. */
export const docName = signal("untitled");

export const text = computed(() => state.value.doc.toString());
export const canUndo = computed(() => undoDepth(state.value) > 0);
export const canRedo = computed(() => redoDepth(state.value) > 0);

let editor: EditorView | undefined;
let editorExtensions: Extension = [];

/** Puts an editor's extensions under the document, keeping its history. */
export function editorState(extensions: Extension): EditorState {
	editorExtensions = extensions;
	const json = state.value.toJSON({ history: historyField });
	return EditorState.fromJSON(json, { extensions: [history(), extensions] }, { history: historyField });
}

/** Names the editor that shows the document now; undefined when it goes. */
export function attach(view: EditorView | undefined) {
	if (!view && editor) {
		const json = editor.state.toJSON({ history: historyField });
		state.value = EditorState.fromJSON(json, { extensions: history() }, { history: historyField });
	}
	editor = view;
	if (view) state.value = view.state;
}

/** The editor reports every transaction, so that `text` follows. */
export function moved(next: EditorState) {
	state.value = next;
}

function dispatch(spec: TransactionSpec) {
	if (editor) editor.dispatch(spec);
	else state.value = state.value.update(spec).state;
}

/** Changes the text as one step of the undo history. */
export function edit(edits: { from: number; to: number; text: string }[]) {
	const changes: ChangeSpec[] = edits.map((e) => ({ from: e.from, to: e.to, insert: e.text }));
	dispatch({ changes, annotations: isolateHistory.of("full"), userEvent: "input.picture" });
}

/** Begins with another text; its history is empty. */
export function load(name: string, content: string) {
	docName.value = name;
	const fresh = EditorState.create({ doc: content, extensions: editor ? [history(), editorExtensions] : history() });
	if (editor) editor.setState(fresh);
	state.value = fresh;
}

/** Replaces the whole text as one undoable step. */
export function replaceAll(content: string) {
	dispatch({
		changes: { from: 0, to: state.value.doc.length, insert: content },
		annotations: [isolateHistory.of("full"), Transaction.userEvent.of("input.format")],
	});
}

const target = () => ({
	// The editor's own, which is further on by its last effects.
	state: editor?.state ?? state.value,
	dispatch: (t: Transaction) => {
		if (editor) editor.dispatch(t);
		else state.value = t.state;
	},
});

export const undo = () => undoCommand(target());
export const redo = () => redoCommand(target());
