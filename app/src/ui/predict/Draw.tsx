// The rows to draw in: what fingers, mouse, pen and keys do, and the line.

import { useRef } from "preact/hooks";
import type { Chart, Nanos, Plan, PlanRow } from "../../protocol";
import { w } from "../../words";
import { Figure } from "./Figure";
import { clearFrom, flipFrom, type Line, levelAt, paint, stretches } from "./line";
import { atOf, xOf } from "./place";
import { caret, end, focused, lineFor, lines, setLine, showLine, undo, unit, wordFor } from "./state";

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
		</Figure>
	);
}

/** A learner's line: heavy while on, thin while off, as on every chart. Before the first stroke there is none. */
function Drawn(p: { chart: Chart; row: PlanRow; line: Line | undefined }) {
	const { plan } = p.chart;
	const x = (at: Nanos) => xOf(plan, at);
	const caretPath = `M${x(caret.value)} ${p.row.high - 120}V${p.row.low + 120}`;
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
	on: boolean;
}

/** The square that an instant lies in. */
function square(at: Nanos): [Nanos, Nanos] {
	const n = Math.min(Math.floor(at / unit.value), Math.ceil(end.value / unit.value) - 1);
	return [n * unit.value, Math.min((n + 1) * unit.value, end.value)];
}

/** What a finger, a mouse or a pen does on a row. */
function usePointer(plan: Plan, name: string) {
	const stroke = useRef<Stroke | null>(null);
	const at = (e: PointerEvent) => {
		const box = (e.currentTarget as HTMLElement).getBoundingClientRect();
		return atOf(plan, plan.left + ((e.clientX - box.left) / box.width) * (plan.right - plan.left));
	};
	const painted = (s: Stroke, to: Nanos) => {
		const [a, b] = [square(Math.min(s.from, to)), square(Math.max(s.from, to))];
		return paint(s.line, a[0], b[1], s.on, end.value);
	};
	const down = (e: PointerEvent) => {
		if (e.button !== 0 || stroke.current) return;
		const from = at(e);
		(e.currentTarget as HTMLElement).setPointerCapture(e.pointerId);
		const line = lineFor(name);
		const on = !levelAt(line, square(from)[0]);
		stroke.current = { pointer: e.pointerId, from, line, before: lines.value, on };
		showLine(name, painted(stroke.current, from));
	};
	const move = (e: PointerEvent) => {
		const s = stroke.current;
		if (s?.pointer === e.pointerId) showLine(name, painted(s, at(e)));
	};
	const up = (e: PointerEvent) => {
		const s = stroke.current;
		if (s?.pointer !== e.pointerId) return;
		stroke.current = null;
		caret.value = Math.min(Math.round(at(e) / unit.value) * unit.value, end.value);
		if (e.type === "pointerup") setLine(name, painted(s, at(e)), s.before);
		else lines.value = s.before; // the page was scrolled instead
	};
	return { onPointerDown: down, onPointerMove: move, onPointerUp: up, onPointerCancel: up };
}

/** One row to draw in. It fills the plot's width; the page scrolls upright under a finger. */
function Strip(p: { chart: Chart; row: PlanRow }) {
	const { plan, width, height } = p.chart;
	const name = p.row.name;
	const line = lineFor(name);
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
			aria-valuenow={Math.round(caret.value / unit.value)}
			aria-valuetext={t.caret(caret.value, wordFor(p.row, levelAt(line, caret.value)))}
			style={{
				left: `${(100 * plan.left) / width}%`,
				width: `${(100 * (plan.right - plan.left)) / width}%`,
				top: `${(100 * top) / height}%`,
				height: `${(100 * tall) / height}%`,
			}}
			{...pointer}
			onKeyDown={(e) => keys(e, name)}
			onFocus={() => {
				focused.value = name;
			}}
			onBlur={() => {
				focused.value = "";
			}}
		>
			<b class="predict-tag" aria-hidden="true">
				{name}
			</b>
		</div>
	);
}

/** The instant one square on or back from the mark. */
function neighbour(by: 1 | -1): Nanos {
	const u = unit.value;
	const n = by > 0 ? Math.floor(caret.value / u) + 1 : Math.ceil(caret.value / u) - 1;
	return Math.min(Math.max(n * u, 0), end.value);
}

function sideways(name: string, by: 1 | -1, drawing: boolean) {
	const from = caret.value;
	const to = neighbour(by);
	caret.value = to;
	// Onwards draws on, backwards takes away, as typing and rubbing out do.
	if (drawing) setLine(name, paint(lineFor(name), Math.min(from, to), Math.max(from, to), by > 0, end.value));
}

function upright(from: HTMLElement, by: 1 | -1) {
	const all = [...(from.parentElement?.querySelectorAll<HTMLElement>(".predict-strip") ?? [])];
	all[all.indexOf(from) + by]?.focus();
}

function keys(e: KeyboardEvent, name: string) {
	const here = e.currentTarget as HTMLElement;
	if ((e.ctrlKey || e.metaKey) && e.key.toLowerCase() === "z") undo();
	else if (e.ctrlKey || e.metaKey || e.altKey) return;
	else if (e.key === "ArrowRight") sideways(name, 1, e.shiftKey);
	else if (e.key === "ArrowLeft") sideways(name, -1, e.shiftKey);
	else if (e.key === "ArrowDown") upright(here, 1);
	else if (e.key === "ArrowUp") upright(here, -1);
	else if (e.key === "Home") caret.value = 0;
	else if (e.key === "End") caret.value = end.value;
	else if (e.key === " ") setLine(name, flipFrom(lineFor(name), Math.min(caret.value, end.value - 1), end.value));
	else if (e.key === "Delete") setLine(name, clearFrom(lineFor(name), caret.value));
	else return;
	e.preventDefault();
	e.stopPropagation();
}
