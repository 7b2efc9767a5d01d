// Files dropped on the page, and the keys for files.

import { signal } from "@preact/signals";
import { complain, mayWrite, say } from "../../desk";
import type { Handle } from "../../keep/place";
import { w } from "../../words";
import { askOpen, openFile, save } from "./disk";

/** A file hangs over the page. */
export const dropping = signal(false);

const hasFiles = (e: DragEvent) => e.dataTransfer?.types.includes("Files") ?? false;

/** Takes files that are dropped anywhere: otherwise the browser would leave the page for them. */
export function takeDrops() {
	window.addEventListener("dragover", over, true);
	window.addEventListener("dragleave", (e) => {
		if (e.relatedTarget === null) dropping.value = false;
	});
	window.addEventListener("drop", (e) => dropped(e).catch(complain), true);
	window.addEventListener("keydown", key);
}

function over(e: DragEvent) {
	if (!hasFiles(e)) return;
	e.preventDefault();
	dropping.value = mayWrite.value;
}

async function dropped(e: DragEvent) {
	dropping.value = false;
	if (!hasFiles(e)) return;
	e.preventDefault();
	e.stopPropagation();
	if (!mayWrite.value) return say(w.files.noDrop);
	const item = [...(e.dataTransfer?.items ?? [])].find((i) => i.kind === "file") as
		| (DataTransferItem & { getAsFileSystemHandle?(): Promise<Handle & { kind: string }> })
		| undefined;
	// Both must be asked for before the event is over.
	const file = item?.getAsFile();
	const asked = item?.getAsFileSystemHandle?.();
	const handle = await asked?.catch(() => undefined);
	if (file) await openFile(file, handle?.kind === "file" ? handle : undefined);
}

function key(e: KeyboardEvent) {
	if (!(e.ctrlKey || e.metaKey) || e.altKey || e.shiftKey || !mayWrite.value) return;
	if (e.key === "s") save().catch(complain);
	else if (e.key === "o") askOpen().catch(complain);
	else return;
	e.preventDefault();
}
