// What is to be printed, and its pages as the engine drew them.

import { effect, signal } from "@preact/signals";
import { mode, scriptPlace, sheet, view } from "../../desk";
import * as doc from "../../doc";
import { CallError, call } from "../../engine";
import type { Printed, SheetsRequest } from "../../protocol";
import { w } from "../../words";

const place = "tarry.header";

function recall(): { college: string; author: string } {
	try {
		const data = JSON.parse(localStorage.getItem(place) ?? "null");
		const text = (v: unknown) => (typeof v === "string" ? v.slice(0, 200) : "");
		return { college: text(data?.college), author: text(data?.author) };
	} catch {
		return { college: "", author: "" };
	}
}

const header = recall();
export const college = signal(header.college);
export const author = signal(header.author);

/** Keeps what stands on every sheet, where the browser lets us. */
export function keepHeader() {
	try {
		localStorage.setItem(place, JSON.stringify({ college: college.value, author: author.value }));
	} catch {
		// A browser that keeps nothing asks again next time.
	}
}

/** The day as the sheets write it: year, month, day. */
function today(): string {
	const d = new Date();
	const two = (n: number) => String(n).padStart(2, "0");
	return `${d.getFullYear()}-${two(d.getMonth() + 1)}-${two(d.getDate())}`;
}

export const date = signal(today());
export const paper = signal<SheetsRequest["paper"]>("a4");
/** Place of the script, -1 for all. */
export const script = signal(0);
export const offered = signal<{ name: string; words: string }[]>([]);
export const parts = signal<string[]>([]);
export const printed = signal<Printed | null>(null);
export const problem = signal("");
export const drawing = signal(false);

export const request = (): SheetsRequest => ({
	parts: parts.value,
	paper: paper.value,
	script: script.value,
	college: college.value.trim(),
	author: author.value.trim(),
	date: date.value.trim(),
});

/** Asks once which sheets there are. */
async function offer() {
	if (offered.value.length > 0) return;
	const about = await call("about", {});
	if (offered.value.length > 0) return;
	offered.value = about.parts;
	parts.value = about.parts.map((p) => p.name);
}

export function choosePart(name: string, yes: boolean) {
	parts.value = offered.value.map((p) => p.name).filter((n) => (n === name ? yes : parts.value.includes(n)));
}

let latest = 0;

/** Why a call failed, for reading. A lost engine is told by the desk itself. */
export function reason(e: unknown): string {
	if (e instanceof CallError && e.kind === "lost") return "";
	return e instanceof Error ? e.message : String(e);
}

async function drawPages() {
	const mine = ++latest;
	drawing.value = true;
	try {
		await offer();
		if (parts.value.length === 0) {
			printed.value = null;
			problem.value = w.print.chooseOne;
			return;
		}
		const r = await call("sheets", request());
		if (mine !== latest) return;
		printed.value = r;
		problem.value = "";
	} catch (e) {
		if (mine !== latest) return;
		printed.value = null;
		const why = reason(e);
		problem.value = why && w.print.failed(why);
	} finally {
		if (mine === latest) drawing.value = false;
	}
}

let waiting: ReturnType<typeof setTimeout> | undefined;
let lastSheet: unknown;

// The pages are drawn anew a moment after the last change, and only while they
// are looked at.
effect(() => {
	const s = sheet.value;
	if (mode.value !== "print" || !s) return;
	// Named here so that each of them is watched.
	void [request(), view.value, doc.text.value];
	if (s !== lastSheet) {
		const wanted = Math.max(scriptPlace.peek(), 0);
		if (lastSheet === undefined || script.peek() >= s.scripts.length)
			script.value = wanted < s.scripts.length ? wanted : 0;
		lastSheet = s;
	}
	drawing.value = true;
	if (waiting) clearTimeout(waiting);
	waiting = setTimeout(drawPages, 250);
});
