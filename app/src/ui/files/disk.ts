// Opening and saving files.

import { batch } from "@preact/signals";
import { complain, errors, mayWrite, mode, say } from "../../desk";
import { docName, text } from "../../doc";
import { downloadWork, fileNameOf, openFresh } from "../../keep/keep";
import { type Handle, inFile, type Place } from "../../keep/place";
import { w } from "../../words";

// Browsers that write to the same file again have these; others don't.
interface Pickers {
	showOpenFilePicker?(o: object): Promise<Handle[]>;
	showSaveFilePicker?(o: object): Promise<Handle>;
}
const pickers = window as unknown as Pickers;
const types = [{ description: "tarry", accept: { "text/plain": [".tarry", ".txt"] } }];

/** This browser can write to the same file again. */
export const savesInPlace = typeof pickers.showSaveFilePicker === "function";

/** A circuit is a short text: more than this is something else. */
const largest = 1 << 20;
/** The text of a new work. */
const template = 'circuit "New circuit"\nsupply 24 V dc\n';

const gaveUp = (e: unknown) => e instanceof DOMException && e.name === "AbortError";
const nameOf = (file: string) => file.replace(/\.(tarry|txt)$/i, "") || "circuit";

export const openNew = () => openFresh({ name: w.files.freshName, text: template, mode: "write" });

/** Asks for a file and opens it. */
export async function askOpen() {
	if (!mayWrite.value) return;
	if (!pickers.showOpenFilePicker) return askByInput();
	try {
		const [handle] = await pickers.showOpenFilePicker({ types, excludeAcceptAllOption: false });
		if (handle) await openFile(await handle.getFile(), handle);
	} catch (e) {
		if (!gaveUp(e)) askByInput();
	}
}

function askByInput() {
	const input = document.createElement("input");
	input.type = "file";
	input.accept = ".tarry,.txt,text/plain";
	input.onchange = () => {
		const file = input.files?.[0];
		if (file) openFile(file).catch(complain);
	};
	input.click();
}

/** Opens a file's text as a work of its own, if it is a text. */
export async function openFile(file: File, handle?: Handle) {
	if (file.size > largest) return say(w.files.tooBig(file.name));
	let content: string;
	try {
		content = new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer());
	} catch (e) {
		return say(e instanceof TypeError ? w.files.notText(file.name) : w.files.unreadable(file.name));
	}
	if (content.includes("\u0000") || /^\s*<(!doctype|html|svg|\?xml)/i.test(content)) {
		return say(w.files.notText(file.name));
	}
	if (/^\s*\{[\s\S]*"tarry predictions"/.test(content.slice(0, 2000))) return say(w.files.isPredictions(file.name));
	const unix = content.replace(/\r\n?/g, "\n");
	await openFresh({ name: nameOf(file.name), text: unix, place: { name: file.name, text: unix, handle } });
	if (errors.value > 0 && mayWrite.value) mode.value = "write";
}

/** Saves: to the same file again where the browser can, else by download. */
export async function save() {
	const place = inFile.value;
	if (place?.handle) return writeTo(place.handle);
	if (savesInPlace) return saveAs();
	downloadWork();
}

/** Asks for a place, and saves there. */
export async function saveAs() {
	if (!pickers.showSaveFilePicker) return downloadWork();
	try {
		const handle = await pickers.showSaveFilePicker({ suggestedName: fileNameOf(docName.value), types });
		await writeTo(handle);
	} catch (e) {
		if (!gaveUp(e)) downloadWork();
	}
}

async function writeTo(handle: Handle) {
	const content = text.value;
	try {
		const asked = await handle.requestPermission?.({ mode: "readwrite" });
		if (asked === "denied") throw new Error("denied");
		const out = await handle.createWritable();
		await out.write(content);
		await out.close();
		const place: Place = { name: handle.name, text: content, handle };
		batch(() => {
			inFile.value = place;
			docName.value = nameOf(handle.name);
		});
		say(w.files.saved(handle.name));
	} catch (e) {
		if (!gaveUp(e)) say(w.files.saveFailed, "fault", { words: w.files.download, run: downloadWork });
	}
}
