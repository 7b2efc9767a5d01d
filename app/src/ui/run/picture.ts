// The chart's picture: redrawn by the engine only when something new is on it;
// in between a blank sheet that hides the time to come moves aside.

import { effect, signal } from "@preact/signals";
import { frame, generation, playing } from "../../desk";
import { CallError, call } from "../../engine";
import type { Chart, Frame } from "../../protocol";
import { svgNodes } from "../kit";
import { placeOf, type Stretch, stretchFor } from "./window";

/** Seconds of the run that the chart shows; 0 for all. */
export const shownSeconds = signal(30);
/** The rows chosen, in order; empty for the usual ones. */
export const chosenRows = signal<string[]>([]);

const afterEdit = 150;
const mostOften = 125;
/** A chart that takes long is drawn less often: the board comes first. */
const share = 8;

/** What a chart is shown with: each as wide as the chart, moved across it. */
export interface ChartElements {
	svg: SVGSVGElement;
	/** The names of the rows, over everything. */
	names: SVGSVGElement;
	/** Hides the time to come. */
	veil: HTMLElement;
	/** Carries the cursor's line and handle. */
	track: HTMLElement;
}

/** Which rows go first where there isn't room for all: timers' times, then contacts, then coils from the head on. */
const weight = (row: string) => (row.endsWith(".elapsed") ? 2 : row.includes(".") || row === "supply" ? 1 : 0);

/** The rows that matter most of those on a chart, in their order, so that it is no higher than this. */
function rowsThatFit(c: Chart, tallest: number): string[] {
	const list = c.plan.rows;
	let rows = list.map((r, i) => ({ name: r.name, high: (list[i + 1]?.top ?? c.plan.bottom) - r.top }));
	let over = c.height - tallest;
	for (const least of [2, 1, 0]) {
		const going = rows.filter((r) => weight(r.name) === least);
		if (least > 0) going.reverse();
		for (const r of going) {
			if (over <= 0 || rows.length === 1) break;
			over -= r.high;
			rows = rows.filter((x) => x !== r);
		}
	}
	return rows.map((r) => r.name);
}

export class ChartPicture {
	/** The chart that stands, for what lies over it. */
	readonly chart = signal<Chart | null>(null);
	/** Why there is none. */
	readonly refused = signal("");
	/** How far the run was known when the chart that stands was asked for. */
	private drawnTo = 0;
	private stretch: Stretch | undefined;
	private width = 0;
	/** How high it may become; 0 for any. */
	private tallest = 0;
	/** The usual rows that fit that height; empty while that isn't known, or no matter. */
	private fitting: string[] = [];
	private fittingFor = "";
	private drawn = "";
	private busy = false;
	private lastAt = 0;
	private cost = 0;
	private seen = true;
	private waitedFor = -1;
	private due: ReturnType<typeof setTimeout> | undefined;
	private stops: (() => void)[] = [];
	/** Set while the cursor is dragged: the window must not move under it. */
	hold = false;

	constructor(private on: ChartElements) {
		this.stops.push(
			effect(() => {
				generation.value;
				shownSeconds.value;
				chosenRows.value;
				playing.value;
				if (frame.value) this.follow(frame.value);
			}),
		);
	}

	stop() {
		for (const s of this.stops) s();
		clearTimeout(this.due);
	}

	/** Tells how wide the chart may be, and how high; 0 for any. */
	room(width: number, tallest = 0) {
		this.width = width;
		this.tallest = tallest;
		const f = frame.peek();
		if (f) this.follow(f);
	}

	/** A chart that is out of sight needs no redrawing. */
	inSight(seen: boolean) {
		this.seen = seen;
		if (seen) this.again();
	}

	/** Goes with a frame: moves the cursor, and has the chart redrawn if it must be. */
	private follow(f: Frame) {
		this.moveCursor(f);
		// Out of sight it may wait until time stands; then it may be printed.
		if (this.width <= 0 || (!this.seen && this.drawn && playing.peek())) return;
		const next =
			this.hold && this.stretch ? this.stretch : stretchFor(shownSeconds.peek(), f.now, f.known, f.from, this.stretch);
		const form = `${this.width} ${this.tallest} ${generation.peek()} ${chosenRows.peek().join()}`;
		if (form !== this.fittingFor) this.fitting = [];
		this.fittingFor = form;
		const key = `${next.from} ${next.to} ${f.events} ${f.from} ${form} ${this.fitting.join()}`;
		if (key === this.drawn || this.busy || this.due !== undefined) return;
		let wait = playing.peek() ? this.lastAt + Math.max(mostOften, this.cost * share) - performance.now() : 0;
		if (this.drawn && this.waitedFor !== generation.peek()) {
			// The text was changed: who types on wants the drawing first.
			this.waitedFor = generation.peek();
			wait = Math.max(wait, afterEdit);
		}
		if (wait > 0) {
			this.due = setTimeout(() => this.again(), wait);
			return;
		}
		this.draw(next, key);
	}

	private again() {
		clearTimeout(this.due);
		this.due = undefined;
		const f = frame.peek();
		if (f) this.follow(f);
	}

	private async draw(next: Stretch, key: string) {
		this.busy = true;
		this.drawn = key;
		this.stretch = next;
		this.lastAt = performance.now();
		const known = frame.peek()?.known ?? 0;
		try {
			const c = await call("chart", {
				script: -1,
				rows: chosenRows.peek().length > 0 ? chosenRows.peek() : this.fitting,
				from: next.from,
				to: next.to,
				width: this.width,
				blank: [],
				given: [],
				square: 0,
				uncut: true,
			});
			this.drawnTo = known;
			const tooHigh = this.tallest > 0 && c.height > this.tallest && chosenRows.peek().length === 0;
			const fewer = tooHigh ? rowsThatFit(c, this.tallest) : [];
			if (fewer.length > 0 && fewer.length < c.plan.rows.length) this.fitting = fewer;
			else this.put(c);
			this.cost = performance.now() - this.lastAt;
			this.refused.value = "";
		} catch (e) {
			// Rows of another circuit are no reason to show nothing.
			if (chosenRows.peek().length > 0) chosenRows.value = [];
			else if (e instanceof CallError && e.kind === "input") this.refused.value = e.message;
		} finally {
			this.busy = false;
			this.again();
		}
	}

	private put(c: Chart) {
		const { svg, names, veil } = this.on;
		const nodes = svgNodes(c.svg);
		// The drawing has the same ids; here nothing asks for them.
		for (const n of nodes) for (const x of [n, ...n.querySelectorAll("[id]")]) x.removeAttribute("id");
		// On a narrow chart the rows' names stand where the time to come would.
		const labels = nodes.filter((n) => n.classList.contains("row-label"));
		for (const s of [svg, names]) s.setAttribute("viewBox", `0 0 ${c.width} ${c.height}`);
		svg.replaceChildren(...nodes.filter((n) => !labels.includes(n)));
		names.replaceChildren(...labels);
		veil.style.top = `${((c.plan.top - 100) / c.height) * 100}%`;
		veil.style.height = `${((c.plan.bottom - c.plan.top + 50) / c.height) * 100}%`;
		this.chart.value = c;
		const f = frame.peek();
		if (f) this.moveCursor(f);
	}

	/** Moves what lies over the picture; the picture itself is not painted anew. */
	private moveCursor(f: Frame) {
		const c = this.chart.peek();
		if (!c) return;
		// What is known stays to be seen when the cursor goes back into it. What
		// has happened since the chart was drawn is not on it yet.
		const reach = f.events === c.events ? Math.max(f.known, f.now) : Math.min(this.drawnTo, Math.max(f.known, f.now));
		const share = (at: number) => `translateX(${((placeOf(c.plan, at) / c.width) * 100).toFixed(3)}%)`;
		this.on.veil.style.transform = share(reach);
		this.on.track.style.transform = share(f.now);
	}
}
