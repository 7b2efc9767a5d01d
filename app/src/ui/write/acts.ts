// The actions on what is chosen: the strip shows them, keys call them. What
// comes of each is the engine's to say.

import { change, drawing, selected, sheet } from "../../desk";
import type { Change, Device, Part, Rung } from "../../protocol";
import { w } from "../../words";
import { addDevice, addRung, pickFor } from "./ask";
import { showInText } from "./link";
import { asking, byName, leaf, nameOf, stretching, type Target } from "./state";

export interface Act {
	words: string;
	/** The keys that call it, as KeyboardEvent.key, "Alt+" in front if held; the first one is shown. */
	keys: string[];
	run(): void;
}

export interface Group {
	title: string;
	acts: Act[];
}

const s = w.write.strip;
const p = w.write.pick;

/** Puts a contact in parallel from one place to another of its rung. */
export function parallelUpTo(from: Part, place: number) {
	stretching.value = null;
	const contact = Math.min(from.place, place);
	const upto = Math.max(from.place, place);
	pickFor("contact", p.contactBeside(nameOf(from)), (name) => ({
		do: "parallel",
		rung: from.rung,
		contact,
		upto,
		new: name,
	}));
}

function parallel(part: Part, rung: Rung) {
	if (rung.contacts.length < 2) return parallelUpTo(part, part.place);
	stretching.value = part;
}

/** Takes a part away and leaves its rung chosen, so that one can go on from there. */
async function remove(ch: Change, rung: number) {
	if ((await change(ch)) === undefined) return;
	const parts = drawing.value?.parts ?? [];
	if (parts.some((x) => x.id === selected.value)) return;
	const rungs = parts.filter((x) => x.kind === "rung");
	selected.value = (rungs.find((x) => x.rung === rung) ?? rungs[rungs.length - 1])?.id ?? "";
}

/** Contacts that work the other way round, in pairs. */
const partners: Record<string, string> = { no: "nc", notc: "ncto", noto: "nctc", tno: "tnc" };
const makes = Object.keys(partners);
for (const [no, nc] of Object.entries(partners)) partners[nc] = no;

/** Makes a break contact of a make contact, or the other way round, if the device has such a one. */
function otherWay(part: Part, name: string): Act[] {
	const dot = name.lastIndexOf(".") + 1;
	const [tag, word] = [name.slice(0, dot), (/^[a-z]+/.exec(name.slice(dot)) ?? [""])[0]];
	const to = tag + partners[word];
	if (!partners[word] || !sheet.value?.devices[part.device]?.contacts.includes(to)) return [];
	const ch: Change = { do: "replace-contact", rung: part.rung, contact: part.place, new: to };
	return [{ words: makes.includes(word) ? s.makeNC : s.makeNO, keys: ["x"], run: () => void change(ch) }];
}

function contactActs(part: Part, rung: Rung): Act[] {
	const name = nameOf(part);
	const at = { rung: part.rung, contact: part.place };
	const series =
		(before: boolean) =>
		(n: string): Change => ({ do: "series", ...at, before, new: n });
	return [
		{
			words: s.another,
			keys: ["Enter"],
			run: () => pickFor("contact", p.anotherContact(name), (n) => ({ do: "replace-contact", ...at, new: n })),
		},
		...otherWay(part, name),
		{ words: s.before, keys: ["b"], run: () => pickFor("contact", p.contactBefore(name), series(true)) },
		{ words: s.after, keys: ["a"], run: () => pickFor("contact", p.contactAfter(name), series(false)) },
		{ words: s.parallel, keys: ["p"], run: () => parallel(part, rung) },
		{ words: s.remove, keys: ["Delete", "Backspace"], run: () => remove({ do: "delete-contact", ...at }, part.rung) },
	];
}

function loadActs(part: Part): Act[] {
	const name = nameOf(part);
	const at = { rung: part.rung, load: part.place };
	return [
		{
			words: s.another,
			keys: ["Enter"],
			run: () => pickFor("load", p.anotherLoad(name), (n) => ({ do: "replace-load", ...at, new: n })),
		},
		{
			words: s.beside,
			keys: ["a"],
			run: () => pickFor("load", p.loadBeside(name), (n) => ({ do: "add-load", rung: part.rung, new: n })),
		},
		{ words: s.remove, keys: ["Delete", "Backspace"], run: () => remove({ do: "delete-load", ...at }, part.rung) },
	];
}

function rungActs(place: number, rung: Rung, whole: boolean): Act[] {
	const count = sheet.value?.rungs.length ?? 0;
	const move = (to: number) => {
		if (to >= 0 && to < count) change({ do: "move-rung", rung: place, to });
	};
	const list: Act[] = [
		{ words: s.rungBelow, keys: ["n"], run: () => addRung(place) },
		{ words: s.rungAbove, keys: ["N"], run: () => addRung(place - 1) },
	];
	if (place > 0) list.push({ words: s.up, keys: ["Alt+ArrowUp"], run: () => move(place - 1) });
	if (place < count - 1) list.push({ words: s.down, keys: ["Alt+ArrowDown"], run: () => move(place + 1) });
	if (!whole) return list;
	const atEnd = () =>
		pickFor("contact", p.contactAtEnd(rung.number), (n) => ({ do: "series", rung: place, contact: -1, new: n }));
	return [
		{ words: s.addContact, keys: ["a", "Enter"], run: atEnd },
		...list,
		{
			words: s.remove,
			keys: ["Delete", "Backspace"],
			run: () => remove({ do: "delete-rung", rung: place }, place),
		},
	];
}

function deviceActs(d: Device, lone: boolean): Act[] {
	const form = (ask: "rename" | "label" | "setting" | "kind") => () => {
		asking.value = { name: "form", form: { ask, device: d } };
	};
	const list: Act[] = [
		{ words: s.rename, keys: ["t"], run: form("rename") },
		{ words: s.label, keys: ["l"], run: form("label") },
	];
	if (d.presets[0] > 0) list.push({ words: s.setting, keys: ["s"], run: form("setting") });
	list.push({ words: s.kind, keys: ["k"], run: form("kind") });
	if (lone) {
		list.push({ words: s.remove, keys: ["Delete"], run: () => change({ do: "delete-device", tag: d.tag }) });
	}
	return list;
}

/** What can be done with what is chosen. */
export function actsFor(t: Target): Group[] {
	const out: Group[] = [];
	if (t.part && t.rung) {
		const { part, rung } = t;
		if (part.kind === "contact") out.push({ title: s.contact(nameOf(part)), acts: contactActs(part, rung) });
		if (part.kind === "load") out.push({ title: s.load(nameOf(part)), acts: loadActs(part) });
		out.push({ title: s.rung(rung.number), acts: rungActs(part.rung, rung, part.kind === "rung") });
	}
	if (t.device) out.push({ title: s.device(t.device.tag), acts: deviceActs(t.device, !t.part) });
	const inText = () => {
		leaf.value = "text";
		showInText(true);
	};
	out[out.length - 1]?.acts.push({ words: s.inText, keys: ["g"], run: inText });
	return out;
}

/** What can always be done. */
export function always(): Act[] {
	const title = () => {
		asking.value = { name: "form", form: { ask: "title" } };
	};
	return [
		{ words: s.addRung, keys: ["n"], run: () => addRung(-2) },
		{ words: s.addDevice, keys: ["d"], run: addDevice },
		{ words: s.title, keys: ["h"], run: title },
	];
}

/** Runs the act of a key; false if there is none. */
export function actByKey(t: Target, key: string): boolean {
	const all = [...actsFor(t).flatMap((g) => g.acts), ...always()];
	const act = all.find((a) => a.keys.includes(key));
	act?.run();
	return act !== undefined;
}

/** Chooses a device by name: its part on the drawing, or itself if it has none. */
export function chooseDevice(tag: string, part: Part | undefined) {
	byName.value = part ? "" : tag;
	selected.value = part?.id ?? "";
	showInText(false);
}
