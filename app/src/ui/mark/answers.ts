// The answers that were opened, the marks that a human gave instead, and what
// the engine makes of both.

import { effect, signal } from "@preact/signals";
import { complain, say } from "../../desk";
import { text } from "../../doc";
import { call } from "../../engine";
import type { Class, ClassRequest, Overrule } from "../../protocol";
import { w } from "../../words";
import { bytes, download } from "../kit";
import { asFile, attempts } from "../predict/store";
import { task } from "./task";

interface Kept {
	files: { name: string; text: string }[];
	/** How the overrules were, oldest first, the present ones last. */
	history: Overrule[][];
	/** Milliseconds. */
	tolerance: number;
	hidden: boolean;
}

const place = "tarry.answers";
const version = 1;
const mostBytes = 8 << 20;
const mostUndo = 100;

export const files = signal<Kept["files"]>([]);
const history = signal<Overrule[][]>([[]]);
export const tolerance = signal(500);
export const hidden = signal(false);
export const kept = signal(true);
export const result = signal<Class | null>(null);
export const working = signal(false);

export const overrules = () => history.value[history.value.length - 1] ?? [];
export const canUndo = () => history.value.length > 1;

const isText = (v: unknown): v is string => typeof v === "string";
const isFile = (v: unknown): v is Kept["files"][number] => {
	const f = v as Partial<Kept["files"][number]> | null;
	return isText(f?.name) && isText(f?.text);
};
const isOverrule = (v: unknown): v is Overrule => {
	const o = v as Partial<Overrule> | null;
	return isText(o?.learner) && isText(o?.item) && isText(o?.signal) && isText(o?.note) && Number.isSafeInteger(o?.mark);
};

function recall() {
	try {
		const k = JSON.parse(sessionStorage.getItem(place) ?? "null");
		if (k?.version !== version) return;
		if (Array.isArray(k.files)) files.value = k.files.filter(isFile);
		if (Array.isArray(k.history) && k.history.length > 0 && k.history.every(Array.isArray))
			history.value = k.history.map((list: unknown[]) => list.filter(isOverrule));
		if (k.tolerance in w.mark.mark.tolerances) tolerance.value = k.tolerance;
		hidden.value = k.hidden === true;
	} catch {
		kept.value = false;
	}
}
recall();

effect(() => {
	const k = { version, files: files.value, history: history.value, tolerance: tolerance.value, hidden: hidden.value };
	try {
		sessionStorage.setItem(place, JSON.stringify(k));
		kept.value = true;
	} catch {
		kept.value = false;
	}
});

const request = (form: ClassRequest["form"] = ""): ClassRequest => ({
	files: files.value,
	tolerance: tolerance.value * 1e6,
	overrules: overrules(),
	form,
	hidden: hidden.value,
});

let marking = 0;

// Marked anew whenever anything that counts has changed, while it is looked at.
effect(() => {
	const r = request();
	void text.value; // a table is marked against the circuit on the desk
	if (task.value !== "mark") return;
	void mark(r);
});

async function mark(r: ClassRequest) {
	const mine = ++marking;
	if (r.files.length === 0) {
		result.value = null;
		return;
	}
	working.value = true;
	try {
		const c = await call("class", r);
		if (mine === marking) result.value = c;
	} catch (e) {
		complain(e);
	} finally {
		if (mine === marking) working.value = false;
	}
}

/** Opens files of answers; one of a name that is open already takes its place. */
export async function open(list: FileList | null) {
	for (const f of [...(list ?? [])]) {
		if (f.size > mostBytes) {
			say(w.mark.mark.tooBig(f.name));
			continue;
		}
		try {
			put(f.name, await f.text());
		} catch {
			say(w.mark.mark.unreadable(f.name));
		}
	}
}

function put(name: string, content: string) {
	files.value = [...files.value.filter((f) => f.name !== name), { name, text: content }];
}

export function addOwn() {
	if (attempts.value.length > 0) put(w.mark.mark.ownName, asFile());
}

export function putAway() {
	files.value = [];
	history.value = [[]];
}

function setOverrules(list: Overrule[]) {
	history.value = [...history.value, list].slice(-mostUndo);
}

export function overrule(o: Overrule) {
	const others = overrules().filter((x) => x.learner !== o.learner || x.item !== o.item || x.signal !== o.signal);
	setOverrules([...others, o]);
}

export function undo() {
	if (canUndo()) history.value = history.value.slice(0, -1);
}

export async function openOverrules(file: File | undefined) {
	if (!file) return;
	if (file.size > mostBytes) return say(w.mark.mark.tooBig(file.name));
	try {
		const r = await call("overrules", { text: await file.text() });
		if (r.list.length > 0) setOverrules([...overrules(), ...r.list]);
		if (r.problems.length > 0) say(r.problems.join(" "));
	} catch (e) {
		complain(e);
	}
}

export async function save(form: ClassRequest["form"]) {
	try {
		const f = await call("classfile", request(form));
		download(f.name, f.type, bytes(f.data));
	} catch (e) {
		complain(e);
	}
}

/** What a learner is called on the screen: the name, or a number in the order of the answers. */
export function nameOf(learner: string): string {
	if (!hidden.value) return learner;
	const all = [...new Set(result.value?.answers.map((a) => a.learner) ?? [])];
	return w.mark.mark.hidden(all.indexOf(learner) + 1);
}
