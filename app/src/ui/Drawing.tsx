// The drawing: the circuit at rest as the engine drew it, the marks of the
// board's state over it, and real buttons over the parts that can be touched.

import { useSignalEffect } from "@preact/signals";
import type { ButtonHTMLAttributes, ComponentChildren } from "preact";
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import { drawing, frame, marks, roomFor, sheet, view } from "../desk";
import { textSize } from "../keep/look";
import type { Box, Clock, Drawing as DrawingData, Frame, Mark, Part } from "../protocol";
import { w } from "../words";
import { bestPage, onPage, type Page, paged, pageOf, putOn, type Room, trimmed } from "./run/columns";
import { bestLayout, layouts, tryLayouts, wholeNow } from "./run/fit";
import { GroupsLayer, RingsLayer, svgElement } from "./run/paint";

export interface Fit {
	h: number[];
	least: number;
	smallest?: number;
}

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
	/**
	 * Lay it out so that the whole of it fills the room: as wide as its box, and as
	 * high as the first of these in pixels that will do (none: as its box). Should its
	 * words become smaller than `least` times their natural size, and no room leaves
	 * them at `smallest` either, it stays larger and is scrolled.
	 */
	fit?: Fit | undefined;
	/**
	 * Lay it out as wide as it takes, so that no rung is folded, and show it as small
	 * as this to have it fit; smaller it is scrolled.
	 */
	unfolded?: number;
	/** No marks of the board's state: the drawing at rest. */
	rest?: boolean;
	class?: string;
	/** Stands over the drawing; places are in percent of it (see `percent`). */
	children?: ComponentChildren;
}

/** Pixels of one unit at natural size, which goes with the text of the page. */
export const naturalSize = () => (96 / 2540) * (textSize.value === "large" ? 1.25 : 1);

/** Below this magnification nobody can read the words. */
const least = 0.95;

/** Where a box stands on the drawing, in percent, for things laid over it. */
export function percent(box: Box, d: DrawingData) {
	paged.value;
	const page = pageOf(d);
	const b = onPage(box, d);
	return {
		left: `${((b.x + b.w / 2) / page.width) * 100}%`,
		top: `${((b.y + b.h / 2) / page.height) * 100}%`,
		width: `${(b.w / page.width) * 100}%`,
		height: `${(b.h / page.height) * 100}%`,
	};
}

export function Drawing(p: DrawingProps) {
	const room = useRef<HTMLDivElement>(null);
	const box = useRef<HTMLDivElement>(null);
	const d = drawing.value;
	const most = p.most ?? 1.6;
	const natural = naturalSize();
	const size = useRoom(room);
	const fitting = useFit(p.fit, size, natural, most);
	const fits = fitting !== undefined;
	// Only rungs leave paper at their right.
	const trim = p.unfolded && view.value.layout === "rungs";
	const page = d ? putOn(d, fitting ? bestPage(d, fitting) : trim ? trimmed(d) : undefined) : undefined;
	useEffect(() => {
		// While a fitting layout is looked for, the one that stands will do.
		if (size.w > 0 && !fits) roomFor(p.unfolded ? 0 : Math.floor(size.w / (natural * wishedScale(size.w, most))));
	}, [size.w, most, fits, natural, layouts.value, p.unfolded]);
	useLayoutEffect(() => {
		if (!box.current || !d || !page) return;
		paged.value = keyOf(page);
		const { width, least } = sizes(page, p, natural, most, fits);
		box.current.style.width = `min(100%, ${width}px)`;
		// What would be too small to read scrolls within its own box.
		box.current.style.minWidth = least ? `${least}px` : "";
	});
	return (
		<div
			class={`drawing ${p.class ?? ""}`}
			ref={room}
			// Without parts to go to, the box itself must be reachable, for it may scroll.
			{...(p.parts === "none" && { tabIndex: 0, role: "img", "aria-label": d?.words })}
		>
			<div class="drawing-page" ref={box}>
				<Picture rest={p.rest ?? false} page={page} />
				{d && p.parts !== "none" && <Parts {...p} d={d} />}
				{p.children}
			</div>
		</div>
	);
}

interface Size {
	w: number;
	h: number;
}

/** The inner size of the drawing's box in pixels. */
function useRoom(room: { current: HTMLDivElement | null }): Size {
	const [size, setSize] = useState<Size>({ w: 0, h: 0 });
	useEffect(() => {
		const r = room.current;
		if (!r) return;
		const measure = () => {
			const { paddingLeft, paddingRight, paddingTop, paddingBottom } = getComputedStyle(r);
			const w = Math.floor(r.clientWidth - Number.parseFloat(paddingLeft) - Number.parseFloat(paddingRight));
			const h = Math.floor(r.clientHeight - Number.parseFloat(paddingTop) - Number.parseFloat(paddingBottom));
			setSize((was) => (was.w === w && was.h === h ? was : { w, h }));
		};
		const watch = new ResizeObserver(measure);
		watch.observe(r);
		return () => watch.disconnect();
	}, []);
	return size;
}

/** Times the height of its box that a drawing may take rather than be too small. */
const taller = [1, 1.3, 1.7, 2.2, 3, 4];

/** Has the drawing laid out so that it fills its room; gives the room it takes, or none if it couldn't be read then. */
function useFit(fit: DrawingProps["fit"], size: Size, natural: number, most: number): Room | undefined {
	const { symbols, layout, noWords } = view.value;
	const of = sheet.value;
	useEffect(() => {
		if (fit) tryLayouts();
	}, [!fit, of, symbols, layout, noWords]);
	const tried = fit && size.w > 0 ? rooms(fit, size, natural).map((r) => ({ r, best: bestLayout(r) })) : [];
	const scaleOf = (t: (typeof tried)[number]) => Math.min(t.best?.page.scale ?? 0, most);
	const largest = tried.reduce((a, t) => (a && scaleOf(a) >= scaleOf(t) ? a : t), tried[0]);
	const last = largest && fit && scaleOf(largest) >= (fit.smallest ?? fit.least) ? largest : undefined;
	const found = tried.find((t) => scaleOf(t) >= (fit?.least ?? 0)) ?? last;
	const width = found?.best?.width ?? -1;
	useEffect(() => {
		if (width >= 0) roomFor(width);
		if (fit) wholeNow.value = width >= 0;
	}, [width, layouts.value, !fit]);
	return found?.r;
}

/** The rooms to try, the best one first. */
function rooms(fit: { h: number[] }, size: Size, natural: number): Room[] {
	const room = (h: number, columns?: number): Room => ({
		w: size.w / natural,
		h: Math.max(100, h) / natural,
		...(columns ? { columns } : {}),
	});
	if (fit.h.length === 0) return taller.map((k) => room(k * size.h));
	// On paper that is also read and scrolled, columns are worth it only if there is no other way.
	return [...fit.h.map((h) => room(h, 1)), ...fit.h.map((h) => room(h))];
}

/** How wide the page may become, and how wide it must be at least; in pixels. */
function sizes(page: Page, p: DrawingProps, natural: number, most: number, fits: boolean) {
	const widest = page.width * natural * most;
	if (fits) return { width: Math.floor(Math.min(widest, page.width * natural * page.scale)), least: 0 };
	// So high that it fits the window, if its words stay large enough for that.
	const readable = page.height * natural * Math.max(1.3, p.fit?.least ?? 0);
	const tallest = p.fit ? readable : Math.max(window.innerHeight * 0.68, readable);
	const width = Math.floor(Math.min(widest, (tallest * page.width) / page.height));
	return { width, least: Math.min(width, Math.ceil(page.width * natural * (p.unfolded ?? least))) };
}

/** A phone gets a narrower layout rather than smaller words. */
function wishedScale(pixels: number, most: number): number {
	return Math.min(most, pixels < 600 ? 1.25 : 1.6);
}

/** One column of the picture: the nodes that are drawn, and the layers of what moves. */
interface Layers {
	rest: GroupsLayer;
	marks: GroupsLayer;
	rings: RingsLayer;
}

interface Built {
	/** Tells pages of one drawing apart. */
	key: string;
	list: Layers[];
}
const keyOf = (page: Page) => JSON.stringify([page.width, page.columns]);

function show(list: Layers[], marked: Mark[], clocks: Clock[]) {
	for (const l of list) {
		l.marks.show(marked);
		l.rings.show(clocks);
	}
}

/** The picture itself. Only effects touch what is in it: no rendering for each frame. */
function Picture(p: { rest: boolean; page: Page | undefined }) {
	const svg = useRef<SVGSVGElement>(null);
	const layers = useRef<({ of: DrawingData } & Built) | null>(null);
	useSignalEffect(() => {
		const d = drawing.value;
		const s = svg.current;
		if (!s || !d) return;
		if (layers.current?.of !== d) layers.current = { of: d, ...build(s, d, pageOf(d), layers.current) };
		show(layers.current.list, p.rest ? [] : marks.value, p.rest ? [] : (frame.value?.clocks ?? []));
	});
	useLayoutEffect(() => {
		const d = drawing.peek();
		if (!svg.current || !d || !p.page || (layers.current?.of === d && layers.current.key === keyOf(p.page))) return;
		layers.current = { of: d, ...build(svg.current, d, p.page, layers.current) };
		show(layers.current.list, p.rest ? [] : marks.peek(), p.rest ? [] : (frame.peek()?.clocks ?? []));
	});
	return <svg ref={svg} class="picture" aria-hidden="true" />;
}

/** Puts a drawing into the picture, column by column; what stood there and is the same stays. */
function build(s: SVGSVGElement, d: DrawingData, page: Page, was: Built | null): Built {
	s.setAttribute("viewBox", `0 0 ${page.width} ${page.height}`);
	const list = page.columns.map((_, i) => {
		const { rest, marks } = was?.list[i] ?? { rest: new GroupsLayer("rest"), marks: new GroupsLayer("marks") };
		rest.show(d.groups);
		return { rest, marks, rings: new RingsLayer(d) };
	});
	const built = { key: keyOf(page), list };
	const [only] = list;
	if (only && list.length === 1) {
		s.replaceChildren(only.rest.group, only.marks.group, only.rings.group);
		return built;
	}
	s.replaceChildren(
		...page.columns.flatMap((c, i) => {
			const { rest, marks, rings } = list[i] as Layers;
			const high = c.to - c.from;
			const view = { x: c.x, y: c.top, width: d.width, height: high, viewBox: `0 ${c.from} ${d.width} ${high}` };
			const column = svgElement("svg", view);
			column.append(rest.group, marks.group, rings.group);
			if (i === 0) return [column];
			const names = svgElement("g", { transform: `translate(${c.x} 0)` });
			names.append(...[...rest.group.querySelectorAll(":scope > .rail-name")].map((n) => n.cloneNode(true)));
			return [column, names];
		}),
	);
	return built;
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
