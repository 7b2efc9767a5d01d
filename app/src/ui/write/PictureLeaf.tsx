// The picture side: the drawing with all its parts, the strip of what can be
// done, and below them the devices and the scripts.

import { useEffect, useRef } from "preact/hooks";
import { drawing, selected, sheet } from "../../desk";
import type { Part } from "../../protocol";
import { w } from "../../words";
import { Drawing } from "../Drawing";
import { actByKey, actsFor, chooseDevice, parallelUpTo } from "./acts";
import { Blank, isBlank } from "./Blank";
import { showInText } from "./link";
import { partOfDevice } from "./place";
import { Scripts } from "./Scripts";
import { Strip } from "./Strip";
import { asking, byName, stretching, target } from "./state";

/** The part that the user chose; one that a change left chosen is none. */
let chosen = "";

function choose(id: string) {
	chosen = id;
	byName.value = "";
	selected.value = id;
	showInText(false);
}

/** A part was touched: it becomes the chosen one, or the end of a stretch, or is asked about. */
function onPart(part: Part, e: Event) {
	const from = stretching.value;
	if (from) {
		if (part.kind === "contact" && part.rung === from.rung) return parallelUpTo(from, part.place);
		stretching.value = null;
	}
	const byKey = (e as MouseEvent).detail === 0;
	// A click on what was just put in must not ask for another in its place.
	if (selected.value === part.id && (byKey || chosen === part.id)) return actsFor(target.value)[0]?.acts[0]?.run();
	choose(part.id);
}

function leave() {
	if (stretching.value) stretching.value = null;
	else selected.value = "";
}

/** Keys on the picture. A part's own Enter is its click, and comes to onPart. */
function onKey(e: KeyboardEvent) {
	const at = e.target as HTMLElement;
	if (asking.value || e.ctrlKey || e.metaKey || at.closest("input, textarea, select, dialog, .cm-editor")) return;
	if (e.key === "Escape") return leave();
	if (e.key === "Enter" || e.key === " ") return;
	const id = at.dataset.part;
	// A key means the part that has the focus.
	const acts = e.key.length === 1 || e.altKey || e.key === "Delete" || e.key === "Backspace";
	if (id && selected.value !== id && acts) choose(id);
	if (actByKey(target.value, e.altKey ? `Alt+${e.key}` : e.key)) e.preventDefault();
}

/** Scrolls a part to where neither the bar nor the strip lies over it. */
function keepInSight(part: HTMLElement) {
	const strip = part.closest(".write")?.querySelector<HTMLElement>(".strip")?.offsetHeight ?? 0;
	const foot = document.querySelector<HTMLElement>(".title-block")?.offsetHeight ?? 0;
	part.style.scrollMargin = `5rem 0 ${strip + foot + 16}px`;
	part.scrollIntoView({ block: "nearest" });
}

/** After a change the keyboard goes on from what the change left chosen. */
function useFocus(place: { current: HTMLElement | null }) {
	const id = selected.value;
	const d = drawing.value;
	if (id !== chosen) chosen = "";
	const open = asking.value;
	useEffect(() => {
		if (!id || open) return;
		const part = place.current?.querySelector<HTMLElement>(`[data-part="${CSS.escape(id)}"]`);
		if (!part) return;
		keepInSight(part);
		const at = document.activeElement;
		const lost = !at || at === document.body || at.classList.contains("part") || at.classList.contains("act");
		if (lost) part.focus({ preventScroll: true });
	}, [id, d, open]);
}

export function PictureLeaf() {
	const place = useRef<HTMLDivElement>(null);
	useFocus(place);
	useEffect(() => {
		// Keys count wherever the focus is on this side, also when nothing has it.
		const listen = (e: KeyboardEvent) => {
			const at = e.target as Node;
			if (at === document.body || place.current?.contains(at)) onKey(e);
		};
		document.addEventListener("keydown", listen);
		return () => document.removeEventListener("keydown", listen);
	}, []);
	return (
		<div class="picture-leaf" ref={place}>
			{isBlank.value ? (
				<Blank />
			) : (
				<>
					<section class="picture-place" aria-label={w.write.pictureLabel}>
						<Drawing parts="all" selected={selected.value} onPart={onPart} rest />
					</section>
					<Strip />
					<Devices />
					<Scripts />
				</>
			)}
		</div>
	);
}

/** All devices by name, also those that stand on no rung. */
function Devices() {
	const list = sheet.value?.devices ?? [];
	if (list.length === 0) return null;
	return (
		<details class="listing">
			<summary>
				{w.write.devices} ({list.length})
			</summary>
			<ul class="device-list">
				{list.map((d, i) => {
					const part = partOfDevice(drawing.value, i);
					return (
						<li key={d.tag}>
							<button
								type="button"
								aria-pressed={target.value.device?.tag === d.tag}
								onClick={() => chooseDevice(d.tag, part)}
							>
								<b>{d.tag}</b> {d.label} <small>{part ? d.words : `${d.words}, ${w.write.unused}`}</small>
							</button>
						</li>
					);
				})}
			</ul>
		</details>
	);
}
