// The rows to draw in: what fingers, mouse, pen and keys do, and the line.

import { signal } from "@preact/signals";
import { useRef } from "preact/hooks";
import type { Chart, Nanos, Plan, PlanRow } from "../../protocol";
import { w } from "../../words";
import { Figure } from "./Figure";
import { clearFrom, flipFrom, type Line, levelAt, paint, stretches } from "./line";
import { atOf, xOf } from "./place";
import {
	caretOf,
	end,
	focused,
	lineFor,
	lines,
	putCaret,
	restOf,
	setLine,
	showLine,
	undo,
	unit,
	wordFor,
} from "./state";

const t = w.predict;

/** The chart with the learner's lines over it. */
export function Draw(p: { chart: Chart }) {
	const rows = p.chart.plan.rows.filter((r) => r.blank);
	return (
		<Figure chart={p.chart} name={t.chartName}>
			<svg class="predict-lines" viewBox={`0 0 ${p.chart.width} ${p.chart.height}`} aria-hidden="true">
				{rows.map((r) => (
					<Drawn key={r.name} chart={p.chart} row={r} line={lines.value[r.name]} />
				))}
			</svg>
			{rows.map((r) => (
				<Strip key={r.name} chart={p.chart} row={r} />
			))}
			<Readout rows={rows} />
		</Figure>
	);
}

/** What is being drawn at the moment. `low` says that the row lies where the readout usually stands. */
const drawing = signal<{ row: string; on: boolean; from: Nanos; to: Nanos; low: boolean } | null>(null);

/** The instants of a stroke, clear of the row and of the finger on it. */
function Readout(p: { rows: PlanRow[] }) {
	const d = drawing.value;
	const row = p.rows.find((r) => r.name === d?.row);
	if (!d || !row) return null;
	return (
		<p class={`predict-readout${d.low ? " low" : ""}`} aria-hidden="true">
			{t.stroke(row.name, wordFor(row, d.on), d.from, d.to)}
		</p>
	);
}

/** A learner's line: heavy while on, thin while off, as on every chart. Before the first stroke there is none. */
function Drawn(p: { chart: Chart; row: PlanRow; line: Line | undefined }) {
	const { plan } = p.chart;
	const x = (at: Nanos) => xOf(plan, at);
	const caretPath = `M${x(caretOf(p.row.name))} ${p.row.high - 120}V${p.row.low + 120}`;
	return (
		<g>
			{p.line && <Levels row={p.row} line={p.line} x={x} />}
			{focused.value === p.row.name && <path class="caret" d={caretPath} />}
		</g>
	);
}

function Levels(p: { row: PlanRow; line: Line; x(at: Nanos): number }) {
	const { row, line, x } = p;
	const path = (on: boolean) =>
		stretches(line, on, end.value)
			.map((s) => `M${x(s.from)} ${on ? row.high : row.low}H${x(s.to)}`)
			.join("");
	const steps = line.edges.map((e) => `M${x(e)} ${row.high}V${row.low}`).join("");
	return (
		<>
			{stretches(line, true, end.value).map((s) => (
				<rect
					key={s.from}
					class="wash"
					x={x(s.from)}
					width={Math.max(0, x(s.to) - x(s.from))}
					y={row.high}
					height={row.low - row.high}
				/>
			))}
			<path class="off" d={path(false) + steps} />
			<path class="on" d={path(true)} />
		</>
	);
}

interface Stroke {
	pointer: number;
	from: Nanos;
	/** The row's line, and all lines, as they were. */
	line: Line;
	before: Record<string, Line>;
	/** It has left its first square: it is no touch any more. */
	dragged: boolean;
}

/** The square that an instant lies in. */
function square(at: Nanos): [Nanos, Nanos] {
	const n = Math.min(Math.floor(at / unit.value), Math.ceil(end.value / unit.value) - 1);
	return [n * unit.value, Math.min((n + 1) * unit.value, end.value)];
}

/**
 * What a stroke draws: a touch changes its square. A drag that begins on the
 * last square of a stretch, or goes back from its first, makes it longer; one
 * that begins within it takes away.
 */
function strokeOn(s: Stroke, to: Nanos): boolean {
	const [first, next] = square(s.from);
	if (!levelAt(s.line, first)) return true;
	if (!s.dragged) return false;
	const ends = s.line.edges.some((e) => e > first && e <= next);
	const begins = first === 0 ? s.line.start : s.line.edges.includes(first);
	return ends || (begins && to < first);
}

/** The squares of a stroke, from the first's beginning to the last's end. */
const reach = (s: Stroke, to: Nanos): [Nanos, Nanos] => [
	square(Math.min(s.from, to))[0],
	square(Math.max(s.from, to))[1],
];

const painted = (s: Stroke, to: Nanos): Line => paint(s.line, ...reach(s, to), strokeOn(s, to), end.value);

/** How near the top of the window a row hides the readout, in pixels. */
const highUp = 90;

/** What a finger, a mouse or a pen does on a row. */
function usePointer(plan: Plan, name: string) {
	const stroke = useRef<Stroke | null>(null);
	const at = (e: PointerEvent) => {
		const box = (e.currentTarget as HTMLElement).getBoundingClientRect();
		return atOf(plan, plan.left + ((e.clientX - box.left) / box.width) * (plan.right - plan.left));
	};
	const draw = (e: PointerEvent, s: Stroke, to: Nanos) => {
		const [first, last] = reach(s, to);
		const low = (e.currentTarget as HTMLElement).getBoundingClientRect().top < highUp;
		drawing.value = { row: name, on: strokeOn(s, to), from: first, to: last, low };
		showLine(name, painted(s, to));
	};
	const down = (e: PointerEvent) => {
		if (e.button !== 0 || stroke.current) return;
		const from = at(e);
		(e.currentTarget as HTMLElement).setPointerCapture(e.pointerId);
		stroke.current = { pointer: e.pointerId, from, line: lineFor(name), before: lines.value, dragged: false };
		draw(e, stroke.current, from);
	};
	const move = (e: PointerEvent) => {
		const s = stroke.current;
		if (s?.pointer !== e.pointerId) return;
		const to = at(e);
		s.dragged ||= square(to)[0] !== square(s.from)[0];
		draw(e, s, to);
	};
	const up = (e: PointerEvent) => {
		const s = stroke.current;
		if (s?.pointer !== e.pointerId) return;
		stroke.current = null;
		drawing.value = null;
		putCaret(name, Math.min(Math.round(at(e) / unit.value) * unit.value, end.value));
		if (e.type === "pointerup") {
			const to = at(e);
			s.dragged ||= square(to)[0] !== square(s.from)[0];
			setLine(name, painted(s, to), s.before);
		} else lines.value = s.before; // the page was scrolled instead
	};
	return { onPointerDown: down, onPointerMove: move, onPointerUp: up, onPointerCancel: up };
}

/** The focus goes from row to row by arrow: the mark comes along. */
let alongRows = false;

/** By Tab the mark stands at the start; from outside the window the focus comes back to where it was. */
function entered(e: FocusEvent, name: string) {
	const byKey = (e.currentTarget as HTMLElement).matches(":focus-visible");
	if (byKey && !alongRows && e.relatedTarget) putCaret(name, 0);
	alongRows = false;
	focused.value = name;
}

/** One row to draw in. It fills the plot's width; the page scrolls upright under a finger. */
function Strip(p: { chart: Chart; row: PlanRow }) {
	const { plan, width, height } = p.chart;
	const name = p.row.name;
	const line = lineFor(name);
	const caret = caretOf(name);
	const pointer = usePointer(plan, name);
	const top = p.row.high - 150;
	const tall = p.row.low + 150 - top;
	return (
		<div
			class="predict-strip"
			role="slider"
			tabIndex={0}
			data-row={name}
			aria-label={t.rowLine(name)}
			aria-describedby="predict-how-keys"
			aria-valuemin={0}
			aria-valuemax={Math.ceil(end.value / unit.value)}
			aria-valuenow={Math.round(caret / unit.value)}
			aria-valuetext={t.caret(caret, wordFor(p.row, levelAt(line, caret)))}
			style={{
				left: `${(100 * plan.left) / width}%`,
				width: `${(100 * (plan.right - plan.left)) / width}%`,
				top: `${(100 * top) / height}%`,
				height: `${(100 * tall) / height}%`,
			}}
			{...pointer}
			onKeyDown={(e) => keys(e, name, plan)}
			onFocus={(e) => entered(e, name)}
			onBlur={() => {
				focused.value = "";
			}}
		/>
	);
}

/** The instant one square on or back from the mark. */
function neighbour(from: Nanos, by: 1 | -1): Nanos {
	const u = unit.value;
	const n = by > 0 ? Math.floor(from / u) + 1 : Math.ceil(from / u) - 1;
	return Math.min(Math.max(n * u, 0), end.value);
}

function sideways(name: string, by: 1 | -1, drawing: boolean) {
	const from = caretOf(name);
	const to = neighbour(from, by);
	putCaret(name, to);
	// Onwards draws on, backwards takes away, as typing and rubbing out do.
	if (drawing) setLine(name, paint(lineFor(name), Math.min(from, to), Math.max(from, to), by > 0, end.value));
}

/** To the next row, at the same instant. */
function upright(from: HTMLElement, name: string, by: 1 | -1) {
	const all = [...(from.parentElement?.querySelectorAll<HTMLElement>(".predict-strip") ?? [])];
	const to = all[all.indexOf(from) + by];
	if (!to) return;
	putCaret(to.dataset.row ?? "", caretOf(name));
	alongRows = true;
	to.focus();
}

/** Scrolls a chart that is wider than the screen to the mark. */
function keepInSight(strip: HTMLElement, plan: Plan, at: Nanos) {
	const box = strip.closest<HTMLElement>(".predict-scroll");
	if (!box || box.scrollWidth <= box.clientWidth) return;
	const x = strip.offsetLeft + ((xOf(plan, at) - plan.left) / (plan.right - plan.left)) * strip.offsetWidth;
	if (at === 0) box.scrollLeft = 0;
	else if (x < box.scrollLeft + 48) box.scrollLeft = x - 48;
	else if (x > box.scrollLeft + box.clientWidth - 48) box.scrollLeft = x + 48 - box.clientWidth;
}

function keys(e: KeyboardEvent, name: string, plan: Plan) {
	const here = e.currentTarget as HTMLElement;
	const caret = caretOf(name);
	if ((e.ctrlKey || e.metaKey) && e.key.toLowerCase() === "z") undo();
	else if (e.ctrlKey || e.metaKey || e.altKey) return;
	else if (e.key === "ArrowRight") sideways(name, 1, e.shiftKey);
	else if (e.key === "ArrowLeft") sideways(name, -1, e.shiftKey);
	else if (e.key === "ArrowDown") upright(here, name, 1);
	else if (e.key === "ArrowUp") upright(here, name, -1);
	else if (e.key === "Home") putCaret(name, 0);
	else if (e.key === "End") putCaret(name, end.value);
	else if (e.key === " ") setLine(name, flipFrom(lineFor(name), Math.min(caret, end.value - 1), end.value));
	else if (e.key === "Delete") setLine(name, clearFrom(lineFor(name), caret, restOf(name)));
	else return;
	keepInSight(here, plan, caretOf(name));
	e.preventDefault();
	e.stopPropagation();
}
