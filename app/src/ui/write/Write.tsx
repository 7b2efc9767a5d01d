// The area "Write": the circuit as a picture and as text, two faces of one
// document. On a wide screen the text is a strip of paper beside the drawing,
// on a narrow one the other leaf.

import { useLayoutEffect } from "preact/hooks";
import { errors } from "../../desk";
import * as doc from "../../doc";
import { w } from "../../words";
import { Button } from "../kit";
import { always } from "./acts";
import { isBlank } from "./Blank";
import { FormDialog } from "./Forms";
import { Picker } from "./Picker";
import { PictureLeaf } from "./PictureLeaf";
import { ActButton } from "./Strip";
import { asking, folded, leaf, stretching } from "./state";
import { TextLeaf } from "./TextLeaf";

/** Undo and redo by key wherever the focus is, but in a field that has its own. */
function onKey(e: KeyboardEvent) {
	if (!(e.ctrlKey || e.metaKey) || e.altKey) return;
	if ((e.target as HTMLElement).closest?.("input, textarea, select, dialog, .cm-editor")) return;
	const key = e.key.toLowerCase();
	if (key === "z" && !e.shiftKey) doc.undo();
	else if (key === "y" || (key === "z" && e.shiftKey)) doc.redo();
	else return;
	e.preventDefault();
}

export function Write() {
	useLayoutEffect(() => {
		document.addEventListener("keydown", onKey);
		return () => {
			document.removeEventListener("keydown", onKey);
			asking.value = null;
			stretching.value = null;
		};
	}, []);
	const ask = asking.value;
	return (
		<div class={`write leaf-${leaf.value}${folded.value ? " folded" : ""}`}>
			<Bar />
			<PictureLeaf />
			<TextLeaf />
			{ask?.name === "pick" && <Picker key={ask.pick.title} pick={ask.pick} />}
			{ask?.name === "form" && <FormDialog form={ask.form} />}
		</div>
	);
}

const faultCount = () => (errors.value > 0 ? ` (${w.write.faults.count(errors.value)})` : "");

function Bar() {
	return (
		<div class="write-bar">
			<fieldset class="leaves" aria-label={w.write.leaves}>
				{(["picture", "text"] as const).map((l) => (
					<Button
						key={l}
						pressed={leaf.value === l}
						onClick={() => {
							leaf.value = l;
						}}
					>
						{w.write[l]}
						{l === "text" && faultCount()}
					</Button>
				))}
			</fieldset>
			<Button disabled={!doc.canUndo.value} onClick={doc.undo} aria-keyshortcuts="Control+Z">
				{w.write.undo}
			</Button>
			<Button disabled={!doc.canRedo.value} onClick={doc.redo} aria-keyshortcuts="Control+Y">
				{w.write.redo}
			</Button>
			{!isBlank.value && always().map((a) => <ActButton key={a.words} act={a} />)}
			<Button
				class="quiet wide-only fold"
				aria-expanded={!folded.value}
				onClick={() => {
					folded.value = !folded.value;
				}}
			>
				{folded.value ? w.write.unfoldText + faultCount() : w.write.foldText}
			</Button>
		</div>
	);
}
