// What is chosen and what is being asked while a circuit is written.

import { computed, signal } from "@preact/signals";
import { drawing, selected, sheet } from "../../desk";
import type { Device, Part, Rung } from "../../protocol";

/** On a narrow screen: which leaf lies on top. */
export const leaf = signal<"picture" | "text">("picture");
/** On a wide screen: the text is folded away. */
export const folded = signal(false);

/** The tag of a device that was chosen by name and stands on no rung; else empty. */
export const byName = signal("");

/** A dialog that is open; one at a time. */
export const asking = signal<{ name: "pick"; pick: Pick } | { name: "form"; form: Form } | null>(null);

/** A contact was chosen to put another in parallel; how far it reaches is still open. */
export const stretching = signal<Part | null>(null);

/** What a picker is for, and what happens with the choice; false leaves it open. */
export interface Pick {
	want: "contact" | "load" | "device";
	title: string;
	/** "No contact" may be chosen. */
	orNone?: boolean;
	/** Tags that an earlier step has taken already. */
	taken?: string[];
	take(choice: Choice): Promise<boolean> | boolean;
}

export interface Choice {
	/** A contact, a load or a tag; empty for none. */
	name: string;
	/** The new device's line, if it is one. */
	declare?: string;
	device?: { tag: string; kind: string; label: string };
}

export type Form =
	| { ask: "rename" | "label" | "setting" | "kind"; device: Device }
	| { ask: "title" }
	| { ask: "script"; name: string };

export interface Target {
	part?: Part;
	rung?: Rung;
	device?: Device;
}

/** What is chosen now. */
export const target = computed<Target>(() => {
	const s = sheet.value;
	if (!s) return {};
	const part = drawing.value?.parts.find((p) => p.id === selected.value);
	if (part) return { part, rung: s.rungs[part.rung], device: s.devices[part.device] };
	return { device: s.devices.find((d) => d.tag === byName.value) };
});

/** The name of a part as a rung writes it. */
export function nameOf(part: Part): string {
	const r = sheet.value?.rungs[part.rung];
	const own = part.kind === "contact" ? r?.contacts[part.place] : part.kind === "load" ? r?.loads[part.place] : "";
	return own || part.signal || part.id;
}

/** With a finger a list is wanted first, not a keyboard over it. */
export const byFinger = () => matchMedia("(pointer: coarse)").matches;
