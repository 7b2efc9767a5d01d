// The works that are kept on this machine, one record each.

import type { Mode } from "../desk";
import type { Timed } from "../protocol";
import { drop, keysUnder, readRecord, type Written, write } from "./store";

/** The newest form of record that this desk reads. */
export const workVersion = 1;
/** No more works than these; the oldest go first. */
export const worksKept = 30;

export interface Work {
	format: "tarry work";
	version: number;
	id: string;
	/** Empty for the plain desk, else the lesson that it belongs to. */
	scope: string;
	/** The place of the lesson's circuit; -1 without one. */
	circuit: number;
	name: string;
	title: string;
	text: string;
	/** Its user did something to it: it is worth keeping. */
	touched: boolean;
	/** It began as a copy of a library circuit, and whether its text is another by now. */
	copy: boolean;
	changed: boolean;
	/** The file that it was last saved in, and whether its text is still the same. */
	file: string;
	sameAsFile: boolean;
	log: Timed[];
	to: number;
	script: number;
	mode: Mode;
	/** When it was kept, in milliseconds since 1970. */
	at: number;
}

/** What the list of works shows. */
export type Listed = { id: string; at: number; newer: true } | { id: string; at: number; newer: false; work: Work };

const modes: Mode[] = ["run", "write", "predict", "print"];
const asText = (v: unknown) => (typeof v === "string" ? v : "");
const asNumber = (v: unknown, usual: number) => (typeof v === "number" && Number.isFinite(v) ? v : usual);

/** Reads a record; "newer" if a newer desk wrote it, null if it is none. */
export function readWork(id: string): Work | "newer" | null {
	const r = readRecord(`work.${id}`);
	if (r?.format !== "tarry work") return null;
	if (asNumber(r.version, 0) > workVersion) return "newer";
	if (typeof r.text !== "string") return null;
	return {
		format: "tarry work",
		version: workVersion,
		id,
		scope: asText(r.scope),
		circuit: asNumber(r.circuit, -1),
		name: asText(r.name) || "untitled",
		title: asText(r.title),
		text: r.text,
		touched: r.touched !== false,
		copy: r.copy === true,
		changed: r.changed === true,
		file: asText(r.file),
		sameAsFile: r.sameAsFile === true,
		log: asLog(r.log),
		to: asTime(r.to),
		script: Number.isInteger(r.script) ? (r.script as number) : -1,
		mode: modes.find((m) => m === r.mode) ?? "run",
		at: Math.min(Math.max(asNumber(r.at, 0), 0), 8.64e15),
	};
}

const asTime = (v: unknown) => Math.min(Math.max(Math.round(asNumber(v, 0)), 0), Number.MAX_SAFE_INTEGER);

/** The actions of a record that the engine can read: a broken one costs only itself. */
function asLog(v: unknown): Timed[] {
	if (!Array.isArray(v)) return [];
	const out: Timed[] = [];
	for (const a of v as Partial<Timed>[]) {
		if (!a || typeof a !== "object" || typeof a.verb !== "string" || !Number.isSafeInteger(a.at)) continue;
		const presets = Array.isArray(a.presets) ? a.presets : [];
		out.push({
			at: a.at as number,
			verb: a.verb,
			device: Number.isSafeInteger(a.device) ? (a.device as number) : -1,
			tag: asText(a.tag),
			position: Number.isSafeInteger(a.position) ? (a.position as number) : 0,
			to: asText(a.to),
			presets: [asTime(presets[0]), asTime(presets[1])],
		});
	}
	return out;
}

export const writeWork = (w: Work): Written => write(`work.${w.id}`, JSON.stringify(w));
export const dropWork = (id: string) => drop(`work.${id}`);

/** The works of a scope, newest first. */
export function listWorks(scope: string): Listed[] {
	const out: Listed[] = [];
	for (const id of keysUnder("work.")) {
		const work = readWork(id);
		if (work === "newer") {
			const r = readRecord(`work.${id}`);
			if (asText(r?.scope) === scope) out.push({ id, at: asNumber(r?.at, 0), newer: true });
		} else if (work && work.scope === scope) out.push({ id, at: work.at, newer: false, work });
	}
	return out.sort((a, b) => b.at - a.at);
}

/** The works that are too many: the oldest, but none that is held. Records of a newer desk neither count nor go. */
export function tooMany(scope: string, held: (id: string) => boolean): Work[] {
	const ours = listWorks(scope).flatMap((l) => (l.newer ? [] : [l.work]));
	const free = ours.filter((w) => !held(w.id));
	const over = Math.max(0, ours.length - worksKept);
	return free.slice(Math.max(0, free.length - over));
}

/** What a work is called in a sentence. */
export const called = (w: { title: string; name: string }) => w.title || w.name;
