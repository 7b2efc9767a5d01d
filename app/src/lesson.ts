// A lesson: what `tarry pack` put into the file. It is data alone; nothing in
// it is ever run or taken for markup.

import { computed, signal } from "@preact/signals";

/** The newest form of lesson that this desk reads. */
export const lessonVersion = 1;

export interface LessonCircuit {
	name: string;
	text: string;
	/** Rows to be predicted before a script runs; empty for none. */
	predict: string[];
	/** Place of the script to begin with; -1 for a free run. */
	script: number;
	/** Width of a learner's squares in nanoseconds; 0 for whatever fits the chart. */
	square: number;
}

export interface Lesson {
	format: "tarry lesson";
	version: number;
	title: string;
	editor: boolean;
	/** No lesson, but the whole desk with the first circuit on it. */
	plain?: boolean;
	circuits: LessonCircuit[];
}

const isText = (v: unknown): v is string => typeof v === "string";

/** A circuit of the lesson with all its fields, or null if it holds no text. */
function circuit(v: Partial<LessonCircuit> | null, place: number): LessonCircuit | null {
	if (!v || !isText(v.text)) return null;
	return {
		name: isText(v.name) && v.name !== "" ? v.name : `circuit-${place + 1}`,
		text: v.text,
		predict: Array.isArray(v.predict) ? v.predict.filter(isText) : [],
		script: Number.isInteger(v.script) ? (v.script as number) : -1,
		square: Number.isSafeInteger(v.square) && (v.square as number) > 0 ? (v.square as number) : 0,
	};
}

/** Reads what the file holds: a lesson, nothing, or something that this desk can't read. */
export function readLesson(packed: string): { lesson: Lesson | null; plain?: LessonCircuit; unread: boolean } {
	try {
		const data = JSON.parse(packed) as Partial<Lesson> | null;
		if (data === null) return { lesson: null, unread: false };
		const known = data.format === "tarry lesson" && typeof data.version === "number" && data.version <= lessonVersion;
		if (!known || !Array.isArray(data.circuits)) return { lesson: null, unread: true };
		const circuits = data.circuits.map(circuit).filter((c) => c !== null);
		if (circuits.length === 0) return { lesson: null, unread: true };
		if (data.plain === true) return { lesson: null, plain: circuits[0], unread: false };
		return {
			lesson: {
				format: "tarry lesson",
				version: data.version as number,
				title: isText(data.title) ? data.title : "",
				editor: data.editor === true,
				circuits,
			},
			unread: false,
		};
	} catch {
		return { lesson: null, unread: true };
	}
}

const packed = document.getElementById("lesson")?.textContent ?? "null";
const found = readLesson(packed);
/** The lesson in this file, null if it is the plain desk. */
export const lesson = found.lesson;
/** The circuit that the whole desk was opened on, if it was. */
export const openedOn = found.plain;
/** The file holds a lesson that this desk can't read. */
export const lessonUnread = found.unread;

/** Place of the lesson's circuit that is on the desk; -1 when something else is. */
export const lessonAt = signal(-1);
/** The lesson's circuit that is on the desk, null without one. */
export const lessonCircuit = computed(() => lesson?.circuits[lessonAt.value] ?? null);

/** A name for this lesson, the same each time that the same file is opened: what it holds is what counts. */
export const lessonKey = lesson ? hash(packed) : "";

function hash(s: string): string {
	let h = 0x811c9dc5;
	for (let i = 0; i < s.length; i++) h = Math.imul(h ^ s.charCodeAt(i), 0x01000193) >>> 0;
	return `${h.toString(36)}-${s.length.toString(36)}`;
}
