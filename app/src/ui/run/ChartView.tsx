// The chart below the board, with a cursor that can be taken to any instant.

import { useComputed, useSignal } from "@preact/signals";
import { useEffect, useRef, useState } from "preact/hooks";
import { frame, goTo, stepBack, stepOn } from "../../desk";
import type { Chart } from "../../protocol";
import { w } from "../../words";
import { naturalSize } from "../Drawing";
import { Button, Choice } from "../kit";
import { savePicture } from "../print/PictureDialog";
import { ChartPicture, chosenRows, shownSeconds } from "./picture";
import { Rows } from "./Rows";
import { askWhy, signalOfRow } from "./why";
import { timeAt } from "./window";

/** Pixels of a unit: the chart's words a little larger than in print. */
const perUnit = (room: number, larger: number) => naturalSize() * (room < 600 ? 1.1 : 1.25) * larger;

/**
 * The chart's picture with all that is laid over it. On the wall it is `larger`,
 * and where its box has a height it `fills` that: with the rows that matter first.
 */
export function ChartFigure(p: { larger?: number; fills?: boolean }) {
	const natural = naturalSize();
	const room = useRef<HTMLDivElement>(null);
	const svg = useRef<SVGSVGElement>(null);
	const names = useRef<SVGSVGElement>(null);
	const veil = useRef<HTMLDivElement>(null);
	const track = useRef<HTMLDivElement>(null);
	const [picture, setPicture] = useState<ChartPicture | null>(null);
	useEffect(() => {
		if (!svg.current || !names.current || !veil.current || !track.current || !room.current) return;
		const on = { svg: svg.current, names: names.current, veil: veil.current, track: track.current };
		const made = new ChartPicture(on);
		const box = room.current;
		const watch = new ResizeObserver(() => {
			const unit = perUnit(box.clientWidth, p.larger ?? 1);
			const head = Number.parseFloat(getComputedStyle(box).paddingTop);
			made.room(Math.floor(box.clientWidth / unit), p.fills ? (box.clientHeight - head) / unit : 0);
		});
		watch.observe(box);
		const sight = new IntersectionObserver((list) => made.inSight(list.at(-1)?.isIntersecting ?? true));
		sight.observe(box);
		setPicture(made);
		return () => {
			watch.disconnect();
			sight.disconnect();
			made.stop();
		};
	}, [natural, p.larger, p.fills]);
	const chart = picture?.chart.value;
	return (
		<div class="chart-room" ref={room}>
			{picture?.refused.value && <p>{picture.refused.value}</p>}
			<div class="chart-area">
				<svg ref={svg} class="picture chart-svg" aria-hidden="true" />
				<div ref={veil} class="veil" />
				<svg ref={names} class="picture chart-names" aria-hidden="true" />
				{chart && picture && <Plot chart={chart} picture={picture} />}
				{chart && picture && <Labels chart={chart} />}
				<div ref={track} class="cursor-track">
					<Cursor plan={chart ?? null} />
				</div>
			</div>
			<ChartWords chart={chart ?? null} />
		</div>
	);
}

/** The chart in words, for those who don't see it; it changes only when time stands. */
function ChartWords(p: { chart: Chart | null }) {
	return (
		<section class="unseen" aria-label={w.run.chart.inWords}>
			<p>{p.chart?.words}</p>
		</section>
	);
}

/** The names of the rows: a touch asks why. */
function Labels(p: { chart: Chart }) {
	const { plan, width, height } = p.chart;
	// On a chart below 120 mm the names stand over their rows.
	const narrow = width < 12000;
	const pct = (x: number, of: number) => `${(x / of) * 100}%`;
	return (
		<>
			{plan.rows.map((r) => (
				<button
					type="button"
					key={r.name}
					class="row-why"
					aria-label={w.run.chart.why(r.name)}
					title={w.run.chart.why(r.name)}
					style={{
						left: 0,
						top: pct(narrow ? r.top - 230 : r.top, height),
						width: pct(narrow ? width * 0.6 : plan.left - 200, width),
						height: pct(narrow ? 620 : r.bottom - r.top, height),
					}}
					onClick={() => askWhy(signalOfRow(r.name))}
				/>
			))}
		</>
	);
}

/** The field in which the cursor can be dragged. */
function Plot(p: { chart: Chart; picture: ChartPicture }) {
	const { plan, width } = p.chart;
	const drag = (e: PointerEvent) => {
		const box = (e.currentTarget as HTMLElement).getBoundingClientRect();
		const x = plan.left + ((e.clientX - box.left) / box.width) * (plan.right - plan.left);
		const f = frame.peek();
		// Beyond what is known nothing has happened yet: only time gets there.
		if (f) goTo(Math.round(Math.max(f.from, Math.min(timeAt(plan, x), f.known)) / 1e6) * 1e6);
	};
	const stop = () => {
		p.picture.hold = false;
	};
	return (
		<div
			class="plot"
			style={{
				left: `${(plan.left / width) * 100}%`,
				width: `${((plan.right - plan.left) / width) * 100}%`,
				// The flag above and the scale below belong to it.
				top: "-1.6rem",
				bottom: 0,
			}}
			onPointerDown={(e) => {
				if (e.button !== 0) return;
				e.preventDefault();
				e.currentTarget.setPointerCapture(e.pointerId);
				p.picture.hold = true;
				drag(e);
			}}
			onPointerMove={(e) => {
				if (e.currentTarget.hasPointerCapture(e.pointerId)) drag(e);
			}}
			onPointerUp={stop}
			onPointerCancel={stop}
			onLostPointerCapture={stop}
		/>
	);
}

/** The cursor's handle: a slider for the keyboard, a flag with the time for all. */
function Cursor(p: { plan: Chart | null }) {
	const words = useComputed(() => w.run.clock(frame.value?.now ?? 0, 1)).value;
	const known = useComputed(() => Math.ceil((frame.value?.known ?? 0) / 1e8) / 10).value;
	const now = useComputed(() => Math.floor((frame.value?.now ?? 0) / 1e8) / 10).value;
	return (
		<div
			class="cursor-handle"
			role="slider"
			tabIndex={0}
			aria-label={w.run.chart.cursor}
			aria-valuemin={0}
			aria-valuemax={Math.max(known, now)}
			aria-valuenow={now}
			aria-valuetext={words}
			onKeyDown={(e) => slide(e, p.plan?.plan.square ?? 1e9)}
			// Taken by the flag, the cursor is dragged as anywhere on the chart.
			onPointerDown={(e) => {
				const plot = e.currentTarget.closest(".chart-area")?.querySelector(".plot");
				plot?.dispatchEvent(new PointerEvent("pointerdown", e));
			}}
		>
			{words}
		</div>
	);
}

function slide(e: KeyboardEvent, square: number) {
	const f = frame.peek();
	if (!f || e.altKey || e.metaKey || e.ctrlKey) return;
	const step = e.shiftKey ? square : square / 10;
	const to: Record<string, () => void> = {
		ArrowLeft: () => goTo(Math.max(f.from, f.now - step)),
		ArrowDown: () => goTo(Math.max(f.from, f.now - step)),
		ArrowRight: () => goTo(Math.min(f.known, f.now + step)),
		ArrowUp: () => goTo(Math.min(f.known, f.now + step)),
		Home: () => goTo(f.from),
		End: () => goTo(f.known),
		PageUp: stepBack,
		PageDown: stepOn,
	};
	const go = to[e.key];
	if (!go) return;
	e.preventDefault();
	e.stopPropagation();
	go();
}

export function ChartView() {
	const menu = useSignal(false);
	const c = w.run.chart;
	return (
		<section class="chart" aria-label={c.label}>
			<div class="chart-head">
				<h2>{c.label}</h2>
				<Choice
					label={c.window}
					value={shownSeconds.value}
					of={[10, 30, 120, 0].map((value) => ({ value, words: c.windows[value] ?? "" }))}
					onChange={(v) => {
						shownSeconds.value = v;
					}}
				/>
				<Button
					onClick={() => {
						menu.value = true;
					}}
				>
					{c.rows}
				</Button>
				<Button onClick={() => savePicture("chart")}>{w.files.savePicture}</Button>
			</div>
			<ChartFigure />
			{menu.value && (
				<Rows
					chosen={chosenRows}
					onClose={() => {
						menu.value = false;
					}}
				/>
			)}
		</section>
	);
}
