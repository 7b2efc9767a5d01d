// The drawing: the circuit at rest as the engine drew it, the marks of the
// board's state over it, and real buttons over the parts that can be touched.

import { useSignalEffect } from "@preact/signals";
import type { ButtonHTMLAttributes, ComponentChildren } from "preact";
import { useEffect, useLayoutEffect, useRef } from "preact/hooks";
import { drawing, frame, marks, roomFor, sheet } from "../desk";
import type { Box, Drawing as DrawingData, Frame, Part } from "../protocol";
import { w } from "../words";
import { svgNodes } from "./kit";
import { MarksLayer, RingsLayer } from "./run/paint";

export interface DrawingProps {
	/** Which parts get a button: all, contacts and loads only, or none. */
	parts?: "all" | "symbols" | "none";
	/** Id of the selected part. */
	selected?: string;
	/** A part was clicked, tapped or chosen by key. */
	onPart?(part: Part, event: Event): void;
	/** More attributes and handlers of a part's button. */
	partProps?(part: Part): ButtonHTMLAttributes<HTMLButtonElement> & Record<`data-${string}`, string | undefined>;
	/** The state that is spoken behind a part's words; called for each frame. */
	partState?(part: Part, f: Frame): { words: string; pressed?: boolean };
	/** Largest magnification over natural size. */
	most?: number;
	/** Highest it may become, in pixels. */
	tallest?: number;
	/** The width in 1/100 mm to lay it out for, whatever room there is; it is scaled then. */
	layoutWidth?: number;
	/** No marks of the board's state: the drawing at rest. */
	rest?: boolean;
	class?: string;
	/** Stands over the drawing; places are in percent of it (see `percent`). */
	children?: ComponentChildren;
}

/** Pixels of one unit at natural size. */
const natural = 96 / 2540;

/** Below this magnification nobody can read the words. */
const least = 0.95;

/** Where a box stands on the drawing, in percent, for things laid over it. */
export function percent(b: Box, d: DrawingData) {
	return {
		left: `${((b.x + b.w / 2) / d.width) * 100}%`,
		top: `${((b.y + b.h / 2) / d.height) * 100}%`,
		width: `${(b.w / d.width) * 100}%`,
		height: `${(b.h / d.height) * 100}%`,
	};
}

export function Drawing(p: DrawingProps) {
	const room = useRef<HTMLDivElement>(null);
	const page = useRef<HTMLDivElement>(null);
	const d = drawing.value;
	const most = p.most ?? 1.6;
	const fixed = p.layoutWidth;
	useEffect(() => {
		const r = room.current;
		if (!r) return;
		if (fixed) return roomFor(fixed);
		const measure = () => {
			if (r.clientWidth > 0) roomFor(Math.floor(r.clientWidth / (natural * wishedScale(r.clientWidth, most))));
		};
		const watch = new ResizeObserver(measure);
		watch.observe(r);
		return () => watch.disconnect();
	}, [most, fixed]);
	useLayoutEffect(() => {
		if (!page.current || !d) return;
		const widest = d.width * natural * most;
		const byHeight = (tallestFor(p.tallest, d) * d.width) / d.height;
		const wide = Math.floor(Math.min(widest, byHeight));
		page.current.style.width = `min(100%, ${wide}px)`;
		// What would be too small to read scrolls within its own box.
		page.current.style.minWidth = p.tallest ? "" : `${Math.min(wide, Math.ceil(d.width * natural * least))}px`;
	}, [d, most, p.tallest]);
	return (
		<div class={`drawing ${p.class ?? ""}`} ref={room}>
			<div class="drawing-page" ref={page}>
				<Picture rest={p.rest ?? false} />
				{d && p.parts !== "none" && <Parts {...p} d={d} />}
				{p.children}
			</div>
		</div>
	);
}

/**
 * How high it may become in pixels: what was asked for, else so that it fits
 * the window if its words stay large enough for that.
 */
function tallestFor(asked: number | undefined, d: DrawingData): number {
	return asked ?? Math.max(window.innerHeight * 0.68, d.height * natural * 1.3);
}

/** A phone gets a narrower layout rather than smaller words. */
function wishedScale(pixels: number, most: number): number {
	return Math.min(most, pixels < 600 ? 1.25 : 1.6);
}

/** The picture itself. Only effects touch what is in it: no rendering for each frame. */
function Picture(p: { rest: boolean }) {
	const svg = useRef<SVGSVGElement>(null);
	const layers = useRef<{ of: DrawingData; marks: MarksLayer; rings: RingsLayer } | null>(null);
	useSignalEffect(() => {
		const d = drawing.value;
		const s = svg.current;
		if (!s || !d) return;
		if (layers.current?.of !== d) {
			layers.current = { of: d, marks: new MarksLayer(), rings: new RingsLayer(d) };
			s.setAttribute("viewBox", `0 0 ${d.width} ${d.height}`);
			const { marks, rings } = layers.current;
			s.replaceChildren(...svgNodes(d.svg), marks.group, rings.group);
		}
		layers.current.marks.show(p.rest ? [] : marks.value);
		layers.current.rings.show(p.rest ? [] : (frame.value?.clocks ?? []));
	});
	return <svg ref={svg} class="picture" aria-hidden="true" />;
}

function Parts(p: DrawingProps & { d: DrawingData }) {
	const box = useRef<HTMLFieldSetElement>(null);
	const list = p.d.parts.filter((x) => p.parts === "all" || x.kind !== "rung");
	const speak = p.partState;
	useSignalEffect(() => {
		const f = frame.value;
		if (!f || !box.current || !speak || drawing.value !== p.d) return;
		speakStates(box.current, list, (x) => speak(x, f));
	});
	return (
		<fieldset
			class="parts"
			ref={box}
			aria-label={w.run.partsLabel}
			onKeyDown={(e) => moveFocus(e, list, box.current)}
			onFocusIn={(e) => roam(e.target as HTMLElement, box.current)}
		>
			{list.map((x, i) => (
				<button
					type="button"
					key={x.id}
					class={`part part-${x.kind}${x.id === p.selected ? " selected" : ""}`}
					data-part={x.id}
					data-tag={sheet.value?.devices[x.device]?.tag}
					aria-label={x.words}
					tabIndex={(p.selected ? x.id === p.selected : i === 0) ? 0 : -1}
					style={percent(x.box, p.d)}
					onClick={(e) => p.onPart?.(x, e)}
					{...p.partProps?.(x)}
				/>
			))}
		</fieldset>
	);
}

/** Puts the states into the buttons' labels, touching only those that differ. */
function speakStates(box: HTMLElement, list: Part[], state: (x: Part) => { words: string; pressed?: boolean }) {
	const buttons = box.querySelectorAll<HTMLButtonElement>("button.part");
	for (let i = 0; i < list.length; i++) {
		const b = buttons[i];
		const x = list[i] as Part;
		if (!b || b.dataset.part !== x.id) continue;
		const s = state(x);
		const label = s.words ? `${x.words}, ${s.words}` : x.words;
		if (b.getAttribute("aria-label") !== label) b.setAttribute("aria-label", label);
		if (s.pressed === undefined) continue;
		const pressed = String(s.pressed);
		if (b.getAttribute("aria-pressed") !== pressed) b.setAttribute("aria-pressed", pressed);
	}
}

/** The drawing is one stop of the Tab key; within it the arrow keys go about. */
function roam(to: HTMLElement, box: HTMLElement | null) {
	if (!box || !to.classList.contains("part")) return;
	for (const b of box.querySelectorAll<HTMLElement>('button.part[tabindex="0"]')) b.tabIndex = -1;
	to.tabIndex = 0;
}

const ways: Record<string, [number, number]> = {
	ArrowLeft: [-1, 0],
	ArrowRight: [1, 0],
	ArrowUp: [0, -1],
	ArrowDown: [0, 1],
};

function moveFocus(e: KeyboardEvent, list: Part[], box: HTMLElement | null) {
	const way = ways[e.key];
	if (!way || e.altKey || e.ctrlKey || e.metaKey || !box) return;
	const from = list.find((x) => x.id === (e.target as HTMLElement).dataset.part);
	if (!from) return;
	e.preventDefault();
	e.stopPropagation();
	const to = nearest(from, list, way);
	if (to) box.querySelector<HTMLElement>(`[data-part="${CSS.escape(to.id)}"]`)?.focus();
}

/** The part that lies next in a direction; what lies straight ahead counts as nearer. */
function nearest(from: Part, list: Part[], [dx, dy]: [number, number]): Part | undefined {
	let best: Part | undefined;
	let least = Number.POSITIVE_INFINITY;
	for (const x of list) {
		const ax = x.box.x + x.box.w / 2 - from.box.x - from.box.w / 2;
		const ay = x.box.y + x.box.h / 2 - from.box.y - from.box.h / 2;
		const ahead = ax * dx + ay * dy;
		const aside = Math.abs(ax * dy + ay * dx);
		if (x === from || ahead <= 50) continue;
		const cost = ahead + 2.5 * aside;
		if (cost < least) {
			least = cost;
			best = x;
		}
	}
	return best;
}
