// Keeping: what is on the desk is written to the browser's storage shortly
// after each change and when the page goes away, so that a reload, a closed
// lid or a crash loses nothing. See works.ts for the records and tabs.ts for
// how tabs stay out of each other's way.

import { effect, signal } from "@preact/signals";
import {
	frame,
	type Message,
	type Mode,
	mayWrite,
	message,
	mode,
	openKept,
	openText,
	playing,
	ready,
	say,
	scriptPlace,
	sessionLog,
	sheet,
} from "../desk";
import { docName, text } from "../doc";
import { lessonAt, lessonKey } from "../lesson";
import { download } from "../ui/kit";
import { w } from "../words";
import { inFile, keepFile, type Place } from "./place";
import { freshName, read, write } from "./store";
import { heldElsewhere, hold, letGo, lostToAnother, seemsHeld, watchTabs } from "./tabs";
import {
	called,
	dropWork,
	type Listed,
	listWorks,
	readWork,
	tooMany,
	type Work,
	workVersion,
	writeWork,
} from "./works";

/** Whether the work on the desk is kept, and if not, why. */
export const keeping = signal<"waiting" | "kept" | "full" | "forbidden">("waiting");
/** Grows when the list of works changes. */
export const worksChanged = signal(0);

let id = "";
/** The text as it was opened; null once it was touched in an earlier visit. */
let untouchedText: string | null = null;
let openedName = "";
let openedLog = 0;
/** The work began as a copy of a library circuit; its text was another already when it was opened. */
let copyOf = false;
let changedBefore = false;
/** The text as it came onto the desk. */
let cameAs = "";
/** While a work comes onto the desk, the run on the board is still that of the one before: this is its own. */
let incoming: Pick<Work, "log" | "to" | "script" | "mode" | "touched"> | undefined;
let told = false;
let lastWritten = "";
/** Works that the storage refused: they last as long as the page. */
const unkept = new Map<string, Work>();

const touched = () =>
	untouchedText === null ||
	text.value !== untouchedText ||
	docName.value !== openedName ||
	sessionLog().length !== openedLog;
/** The lesson and circuit that the desk's work belongs to; in a lesson other works belong to it as well. */
const scope = lessonKey;

/** A copy of a library circuit whose text is another by now. */
export const copyChanged = () => copyOf && (changedBefore || text.value !== cameAs);

/** The name of the work on the desk, for the list. */
export const presentWork = () => id;

function snapshot(): Work {
	return {
		format: "tarry work",
		version: workVersion,
		id,
		scope,
		circuit: lessonAt.value,
		name: docName.value,
		title: sheet.value?.title ?? "",
		text: text.value,
		touched: touched(),
		copy: copyOf,
		changed: copyChanged(),
		file: inFile.value?.name ?? "",
		sameAsFile: inFile.value?.text === text.value,
		log: sessionLog(),
		to: frame.value?.now ?? 0,
		script: scriptPlace.value,
		mode: mode.value,
		at: 0,
		...incoming,
	};
}

/** Writes what is on the desk, if anything changed. */
export function keepNow() {
	if (timer) clearTimeout(timer);
	timer = undefined;
	if (!ready.value || !id) return;
	if (lostToAnother()) {
		// Another tab took the work while this one slept: go on with a copy.
		takeID(freshName());
		say(w.files.copied);
	}
	const work = snapshot();
	const content = JSON.stringify(work);
	if (content === lastWritten && keeping.value === "kept") return;
	const how = writeWork({ ...work, at: Date.now() });
	if (how === "ok") {
		const first = lastWritten === "";
		lastWritten = content;
		keeping.value = "kept";
		unkept.delete(id);
		if (first) makeRoom();
		return;
	}
	keeping.value = how;
	if (told) return;
	told = true;
	say(w.files[how], "fault", { words: w.files.download, run: downloadWork });
}

/** Works that were let go and of which nothing has been said yet. */
let gone: Work[] = [];

/** Lets the oldest works go when there are too many; `tell` says so. */
function makeRoom() {
	const old = tooMany(scope, (other) => other === id || seemsHeld(other));
	for (const x of old) dropWork(x.id);
	gone = [...gone, ...old];
	worksChanged.value++;
}

/** Says what became of the works on opening another one; nothing if there is nothing to say. */
export function tell(what = "", action?: Message["action"]) {
	const lost = gone;
	gone = [];
	const also = lost.length > 0 ? w.files.letGo(lost.map(called)) : "";
	const texts = [what, message.value?.text ?? "", also].filter(Boolean);
	if (!what && !also) return;
	const fetch = () => {
		for (const x of lost) download(fileNameOf(x.name), "text/plain", x.text);
	};
	say(texts.join(" "), "note", action ?? (also ? { words: w.files.download, run: fetch } : undefined));
}

let timer: ReturnType<typeof setTimeout> | undefined;
function soon() {
	if (!timer) timer = setTimeout(keepNow, playing.peek() ? 1500 : 300);
}

/** A name that any file system takes. */
export function fileNameOf(name: string): string {
	// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what file systems refuse.
	const plain = name.replace(/[\\/:*?"<>|\u0000-\u001f]+/g, "-").replace(/^[.\s]+|[.\s]+$/g, "");
	return `${plain || "circuit"}.tarry`;
}

/** Hands the text to the browser as a file. */
export function downloadWork() {
	const name = fileNameOf(docName.value);
	download(name, "text/plain;charset=utf-8", text.value);
	inFile.value = { name, text: text.value };
	say(w.files.downloaded(name));
}

function takeID(next: string) {
	id = next;
	lastWritten = "";
	hold(id);
	write("work", id, "session");
}

/** Leaves the present work: keeps it if anything was done to it, and tells which it was. */
function leave(): Work | undefined {
	if (!id || !ready.value) return undefined;
	keepNow();
	if (!touched()) {
		dropWork(id);
		return undefined;
	}
	const work = snapshot();
	if (keeping.value !== "kept") unkept.set(id, { ...work, at: Date.now() });
	return work;
}

/** Offers the way back after something else was opened. */
function offerBack(before: Work | undefined) {
	if (!before) return tell();
	const now = sheet.value?.title || docName.value;
	const run = () => void openWork(before.id);
	if (now !== called(before)) {
		tell(w.files.opened(now, called(before)), { words: w.files.goBack(called(before)), run });
	} else tell(w.files.openedTwin(now, docName.value), { words: w.files.goBackTwin, run });
}

/** A name that no other kept work has: a second one gets "-2". */
function freeName(name: string): string {
	const taken = new Set(recentWorks().flatMap((l) => (!l.newer && l.id !== id && l.work.touched ? [l.work.name] : [])));
	let free = name;
	for (let n = 2; taken.has(free); n++) free = `${name}-${n}`;
	return free;
}

/** The name that the work has from its title. */
let byTitle = "";

/** Gives the work the name of its title, unless its user has named it already. */
export function nameByTitle(title: string) {
	const slug = title
		.normalize("NFKD")
		.replace(/\p{M}+/gu, "")
		.toLowerCase()
		.replace(/[^\p{L}\p{N}]+/gu, "-")
		.replace(/^-+|-+$/g, "")
		.slice(0, 60);
	const unnamed = docName.value === byTitle || docName.value.replace(/-\d+$/, "") === w.files.freshName;
	if (!slug || !unnamed || inFile.value) return;
	byTitle = freeName(slug);
	docName.value = byTitle;
}

/** Something to be put on the desk as a work of its own. */
export interface Fresh {
	name: string;
	text: string;
	mode?: Mode;
	/** The place of the lesson's circuit; nothing for other works. */
	circuit?: number;
	/** The file that it came from. */
	place?: Place;
	/** It is a copy of a library circuit. */
	copy?: boolean;
	/** Says nothing about the work before. */
	quiet?: boolean;
}

/** The run stands as it was given, with a script ahead perhaps: that is nothing to keep yet. */
export function asGiven() {
	openedLog = sessionLog().length;
}

/** Opens something as a new work; the present one is kept, and returned if anything was done to it. */
export async function openFresh(f: Fresh): Promise<Work | undefined> {
	const before = leave();
	incoming = { log: [], to: 0, script: -1, mode: f.mode ?? "run", touched: false };
	message.value = null;
	try {
		takeID(freshName());
		// A file keeps its own name, and a lesson's circuit the lesson's.
		const name = f.place || f.circuit !== undefined ? f.name : freeName(f.name);
		untouchedText = f.text;
		openedName = name;
		copyOf = f.copy === true;
		changedBefore = false;
		cameAs = f.text;
		byTitle = "";
		openedLog = 0;
		lessonAt.value = f.circuit ?? -1;
		keepFile(f.place);
		await openText(name, f.text);
		mode.value = f.mode ?? "run";
	} finally {
		incoming = undefined;
	}
	keepNow();
	offerBack(f.quiet ? undefined : before);
	return before;
}

/** Opens a kept work; one that another tab holds is opened as a copy. False if there is no such work. */
export async function openWork(wanted: string, quiet = false): Promise<boolean> {
	const work = unkept.get(wanted) ?? readWork(wanted);
	if (work === null || work === "newer") return false;
	const elsewhere = (await heldElsewhere([wanted])).has(wanted);
	const before = wanted === id ? undefined : leave();
	const { log, to, script, touched } = work;
	incoming = { log, to, script, mode: work.mode, touched };
	message.value = null;
	try {
		takeID(elsewhere ? freshName() : wanted);
		untouchedText = work.touched ? null : work.text;
		openedName = work.name;
		copyOf = work.copy;
		changedBefore = work.changed;
		cameAs = work.text;
		byTitle = "";
		lessonAt.value = work.circuit;
		keepFile(undefined);
		if (work.file) inFile.value = { name: work.file, text: work.sameAsFile ? work.text : null };
		await openKept(work.name, work.text, work);
		asGiven();
		mode.value = work.mode === "write" && !mayWrite.value ? "run" : work.mode;
	} finally {
		incoming = undefined;
	}
	keepNow();
	if (elsewhere) tell(w.files.copied);
	else if (!quiet) offerBack(before);
	return true;
}

/** The work that this tab had before it was loaded again, or the latest that no tab holds; `filter` says which will do. */
export async function workToResume(filter: (w: Work) => boolean): Promise<{ work: Work; same: boolean } | undefined> {
	const mine = read("work", "session");
	const own = mine ? readWork(mine) : null;
	if (own && own !== "newer" && own.scope === scope && filter(own)) return { work: own, same: true };
	const works = listWorks(scope).flatMap((l) => (l.newer ? [] : [l.work]));
	const held = await heldElsewhere(works.map((x) => x.id));
	const latest = works.find((x) => filter(x) && !held.has(x.id));
	return latest && { work: latest, same: false };
}

/** All works of this desk, newest first. */
export function recentWorks(): Listed[] {
	const held: Listed[] = [...unkept.values()].map((work) => ({ id: work.id, at: work.at, newer: false, work }));
	return [...held, ...listWorks(scope)].sort((a, b) => b.at - a.at);
}

/** A newer desk has kept works that this one can't read. */
export const newerKept = () => listWorks(scope).some((l) => l.newer);

/** Deletes a kept work that isn't on the desk; it can be brought back. */
export function removeWork(work: Work) {
	if (work.id === id) return;
	dropWork(work.id);
	unkept.delete(work.id);
	worksChanged.value++;
	const again = () => {
		writeWork(work);
		worksChanged.value++;
		say(w.files.broughtBack(called(work)));
	};
	say(w.files.removed(called(work)), "note", { words: w.files.bringBack, run: again });
}

/** Begins to keep. */
export function watchDesk() {
	watchTabs();
	effect(() => {
		// Whatever of these changes is a reason to keep.
		[text.value, docName.value, frame.value, mode.value, scriptPlace.value, inFile.value, ready.value];
		soon();
	});
	document.addEventListener("visibilitychange", () => {
		if (document.visibilityState === "hidden") keepNow();
	});
	window.addEventListener("pagehide", () => {
		keepNow();
		letGo();
	});
	window.addEventListener("pageshow", (e) => {
		if (e.persisted && id) {
			if (seemsHeld(id)) takeID(freshName());
			else hold(id);
		}
	});
	window.addEventListener("beforeunload", (e) => {
		// What is kept, or safe in a file, needs no question.
		const lost = keeping.value === "full" || keeping.value === "forbidden";
		const open = lost && untouchedText !== text.value && inFile.value?.text !== text.value;
		if (open || unkept.size > 0) e.preventDefault();
	});
}
