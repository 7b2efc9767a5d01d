// The chart's picture: redrawn by the engine only when something new is on it;
// in between a blank sheet that hides the time to come moves aside.

import { effect, signal } from "@preact/signals";
import { frame, generation, playing } from "../../desk";
import { CallError, call } from "../../engine";
import type { Chart, Frame } from "../../protocol";
import { svgNodes } from "../kit";
import { svgElement } from "./paint";
import { placeOf, type Stretch, stretchFor } from "./window";

/** Seconds of the run that the chart shows; 0 for all. */
export const shownSeconds = signal(30);
/** The rows chosen, in order; empty for the usual ones. */
export const chosenRows = signal<string[]>([]);

const mostOften = 125;
/** A chart that takes long is drawn less often: the board comes first. */
const share = 8;

export class ChartPicture {
	/** The chart that stands, for what lies over it. */
	readonly chart = signal<Chart | null>(null);
	/** Why there is none. */
	readonly refused = signal("");
	private svg: SVGSVGElement;
	private veil = svgElement("rect", { class: "veil" });
	private line = svgElement("g", { class: "chart-cursor" });
	private stretch: Stretch | undefined;
	private width = 0;
	private drawn = "";
	private busy = false;
	private lastAt = 0;
	private cost = 0;
	private seen = true;
	private due: ReturnType<typeof setTimeout> | undefined;
	private stops: (() => void)[] = [];
	/** Set while the cursor is dragged: the window must not move under it. */
	hold = false;

	constructor(
		svg: SVGSVGElement,
		private handle: () => HTMLElement | null,
	) {
		this.svg = svg;
		this.line.append(svgElement("path", { class: "cursor-line" }));
		this.stops.push(
			effect(() => {
				generation.value;
				shownSeconds.value;
				chosenRows.value;
				if (frame.value) this.follow(frame.value);
			}),
		);
	}

	stop() {
		for (const s of this.stops) s();
		clearTimeout(this.due);
	}

	/** Tells how wide the chart may be. */
	room(width: number) {
		this.width = width;
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
		if (this.width <= 0 || (!this.seen && this.drawn)) return;
		const next =
			this.hold && this.stretch ? this.stretch : stretchFor(shownSeconds.peek(), f.now, f.known, f.from, this.stretch);
		const key = `${next.from} ${next.to} ${f.events} ${this.width} ${generation.peek()} ${chosenRows.peek().join()} ${f.from}`;
		if (key === this.drawn || this.busy || this.due !== undefined) return;
		const wait = playing.peek() ? this.lastAt + Math.max(mostOften, this.cost * share) - performance.now() : 0;
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
		try {
			const c = await call("chart", {
				script: -1,
				rows: chosenRows.peek(),
				from: next.from,
				to: next.to,
				width: this.width,
				blank: [],
				given: [],
				square: 0,
				uncut: true,
			});
			this.put(c);
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
		const { svg, veil, line } = this;
		svg.setAttribute("viewBox", `0 0 ${c.width} ${c.height}`);
		const nodes = svgNodes(c.svg);
		// The drawing has the same ids; here nothing asks for them.
		for (const n of nodes) for (const x of [n, ...n.querySelectorAll("[id]")]) x.removeAttribute("id");
		veil.setAttribute("y", String(c.plan.top - 100));
		veil.setAttribute("height", String(c.plan.bottom - c.plan.top + 50));
		line.firstElementChild?.setAttribute("d", `M0 0V${c.plan.bottom + 100}`);
		// On a narrow chart the rows' names stand where the time to come would.
		const names = nodes.filter((n) => n.classList.contains("row-label"));
		svg.replaceChildren(...nodes.filter((n) => !names.includes(n)), veil, ...names, line);
		this.chart.value = c;
		const f = frame.peek();
		if (f) this.moveCursor(f);
	}

	private moveCursor(f: Frame) {
		const c = this.chart.peek();
		if (!c) return;
		// What is known stays to be seen when the cursor goes back into it.
		const known = placeOf(c.plan, Math.max(f.known, f.now));
		this.veil.setAttribute("x", known.toFixed(1));
		this.veil.setAttribute("width", Math.max(0, c.width - known).toFixed(1));
		const x = placeOf(c.plan, f.now);
		this.line.setAttribute("transform", `translate(${x.toFixed(1)} 0)`);
		const h = this.handle();
		if (h) h.style.left = `${((x / c.width) * 100).toFixed(3)}%`;
	}
}
