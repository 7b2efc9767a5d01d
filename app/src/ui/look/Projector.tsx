// The projector view: the board as large as the wall allows, the time and one
// sentence. No menus; everything has a key, and leaving has a button.

import { useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { drawing, sheet, stepBack, stepOn } from "../../desk";
import { w } from "../../words";
import { Button } from "../kit";
import { Board } from "../run/Board";
import { ChartFigure } from "../run/ChartView";
import { watchEnd } from "../run/ending";
import { watchHands } from "../run/hands";
import { handKey, taken, toggle } from "../run/keys";
import { Answered, InWords, useLast } from "../run/Reasons";
import { Clock } from "../run/Time";
import { answer } from "../run/why";
import { projecting } from "./projecting";

/** Fills the screen if the browser lets us; the window will do as well. */
function fill(el: HTMLElement) {
	el.requestFullscreen?.().catch(() => {});
	const left = () => {
		if (!document.fullscreenElement) projecting.value = false;
	};
	document.addEventListener("fullscreenchange", left);
	return () => {
		document.removeEventListener("fullscreenchange", left);
		if (document.fullscreenElement) document.exitFullscreen().catch(() => {});
	};
}

/** Wide enough for most rungs in one line: a wall is wide, and a folded rung is hard to follow from the back. */
const leastWidth = 22000;

/**
 * Where the sentence and the chart go: below the board, or beside it, whichever
 * leaves the drawing larger. Its words never become too small to read from the
 * back; then it is scrolled.
 */
function arrange(room: { w: number; h: number }, chart: boolean): { beside: boolean; tallest: number } {
	const d = drawing.value;
	if (!d) return { beside: false, tallest: room.h };
	const heights = [room.h - (chart ? room.h * 0.5 : 230), room.h - 30];
	const scales = [room.w, room.w * 0.55].map((wide, i) => Math.min(wide / d.width, (heights[i] as number) / d.height));
	const beside = (scales[1] as number) > (scales[0] as number);
	const readable = d.height * (96 / 2540) * 1.25;
	return { beside, tallest: Math.max(heights[beside ? 1 : 0] as number, readable) };
}

export function Projector() {
	const ref = useRef<HTMLDivElement>(null);
	const blank = useSignal(false);
	const chart = useSignal(false);
	const size = useSignal({ w: window.innerWidth, h: window.innerHeight });
	useEffect(() => {
		if (!ref.current) return;
		ref.current.focus();
		const leave = fill(ref.current);
		const stops = [watchHands(), watchEnd()];
		const resized = () => {
			size.value = { w: window.innerWidth, h: window.innerHeight };
		};
		window.addEventListener("resize", resized);
		return () => {
			window.removeEventListener("resize", resized);
			for (const stop of stops) stop();
			leave();
		};
	}, []);
	useEffect(() => {
		const flip = { b: blank, B: blank, ".": blank, c: chart, C: chart };
		const key = (e: KeyboardEvent) => projectorKey(e, flip);
		document.addEventListener("keydown", key);
		document.addEventListener("keyup", key);
		return () => {
			document.removeEventListener("keydown", key);
			document.removeEventListener("keyup", key);
		};
	}, []);
	const { beside, tallest } = arrange(size.value, chart.value);
	return (
		<main class={`projector${beside ? " beside" : ""}`} ref={ref} tabIndex={-1} aria-label={w.run.projector.label}>
			<header>
				<h1>{sheet.value?.title || w.untitled}</h1>
				<Clock />
				<Button
					class="quiet"
					label={w.run.projector.leaveLabel}
					onClick={() => {
						projecting.value = false;
					}}
				>
					{w.run.projector.leave}
				</Button>
			</header>
			<div class="projector-board">
				<Board most={6} tallest={tallest} layoutWidth={leastWidth} class="heavier" cards={false} />
			</div>
			{chart.value && (
				<div class="projector-chart">
					<ChartFigure />
				</div>
			)}
			<Sentence />
			<Answered />
			<InWords />
			{blank.value && (
				<button
					type="button"
					class="blank"
					aria-label={w.run.projector.blank}
					onClick={() => {
						blank.value = false;
					}}
				/>
			)}
		</main>
	);
}

function Sentence() {
	const last = useLast();
	return <p class="sentence">{last ? last.sentences.join(" ") : w.run.reasons.nothingYet}</p>;
}

function projectorKey(e: KeyboardEvent, flip: Record<string, { value: boolean }>) {
	if (e.defaultPrevented || (taken(e) && e.key !== "Escape")) return;
	if (e.type === "keyup") {
		handKey(e);
		return;
	}
	const way: Record<string, () => unknown> = {
		PageDown: stepOn,
		ArrowRight: stepOn,
		PageUp: stepBack,
		ArrowLeft: stepBack,
		" ": toggle,
		k: toggle,
		Escape: () => {
			if (answer.value) answer.value = null;
			else projecting.value = false;
		},
	};
	const flipped = flip[e.key];
	if (flipped)
		way[e.key] = () => {
			flipped.value = !flipped.value;
		};
	const go = way[e.key];
	if (handKey(e)) return e.preventDefault();
	if (!go) return;
	e.preventDefault();
	go();
}
