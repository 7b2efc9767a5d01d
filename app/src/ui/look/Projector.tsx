// The projector view: the board as large as the wall allows, the time and one
// sentence. No menus; everything has a key, and leaving has a button.

import { type Signal, useSignal, useSignalEffect } from "@preact/signals";
import { useEffect, useLayoutEffect, useRef } from "preact/hooks";
import { drawing, frame, sheet, stepBack, stepOn } from "../../desk";
import { w } from "../../words";
import { Button } from "../kit";
import { Board } from "../run/Board";
import { ChartFigure } from "../run/ChartView";
import { watchEnd } from "../run/ending";
import { bestLayout } from "../run/fit";
import { watchHands } from "../run/hands";
import { ask, handKey, taken, toggle, toStart } from "../run/keys";
import { Answered, InWords, useLast } from "../run/Reasons";
import { Hands } from "../run/Strip";
import { Clock, PlayButton, Steps } from "../run/Time";
import { answer, asking } from "../run/why";
import { Told } from "../Told";
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

/** Below this magnification nobody at the back can read the words; then the board scrolls. */
const least = 1.3;

/** Whether the chart goes beside the board or below it: wherever it leaves the drawing larger. */
function beside(room: { w: number; h: number }): boolean {
	const high = room.h * 0.78;
	const next = bestLayout({ w: room.w * 0.54, h: high })?.page.scale ?? 0;
	const below = bestLayout({ w: room.w, h: high * 0.55 })?.page.scale ?? 0;
	return next >= below;
}

/** Scrolls to what has just changed, where the board is higher than its room. */
function useInSight() {
	const was = useRef<boolean[]>([]);
	useSignalEffect(() => {
		const on = frame.value?.on ?? [];
		const device = on.findIndex((x, i) => x !== (was.current[i] ?? x));
		was.current = on;
		if (device < 0) return;
		const part = drawing.peek()?.parts.find((x) => x.device === device && x.kind === "load");
		const box = document.querySelector<HTMLElement>(".projector .drawing");
		if (!part || !box || box.scrollHeight <= box.clientHeight + 4) return;
		box.querySelector(`[data-part="${CSS.escape(part.id)}"]`)?.scrollIntoView({ block: "nearest" });
	});
}

/** An answer explains one instant: it goes as soon as another is shown, and none comes along from elsewhere. */
function useFreshAnswers() {
	const shown = useRef({ answer: answer.peek(), at: 0 });
	useLayoutEffect(() => {
		answer.value = null;
		return () => {
			asking.value = false;
		};
	}, []);
	useSignalEffect(() => {
		const at = frame.value?.now ?? 0;
		if (answer.value !== shown.current.answer) shown.current = { answer: answer.value, at };
		else if (at !== shown.current.at) answer.value = null;
	});
}

/** The size of the window. */
function useWindow() {
	const size = useSignal({ w: window.innerWidth, h: window.innerHeight });
	useEffect(() => {
		const resized = () => {
			size.value = { w: window.innerWidth, h: window.innerHeight };
		};
		window.addEventListener("resize", resized);
		return () => window.removeEventListener("resize", resized);
	}, []);
	return size.value;
}

export function Projector() {
	const ref = useRef<HTMLDivElement>(null);
	const blank = useSignal(false);
	const chart = useSignal(false);
	const size = useWindow();
	useInSight();
	useFreshAnswers();
	useEffect(() => {
		if (!ref.current) return;
		ref.current.focus();
		const leave = fill(ref.current);
		const stops = [watchHands(), watchEnd()];
		return () => {
			for (const stop of stops) stop();
			leave();
		};
	}, []);
	useLayoutEffect(() => {
		const flip = { b: blank, B: blank, ".": blank, c: chart, C: chart };
		const key = (e: KeyboardEvent) => projectorKey(e, flip);
		document.addEventListener("keydown", key);
		document.addEventListener("keyup", key);
		return () => {
			document.removeEventListener("keydown", key);
			document.removeEventListener("keyup", key);
		};
	}, []);
	const place = chart.value ? (beside(size) ? " beside" : " below") : "";
	return (
		<main class={`projector${place}`} ref={ref} tabIndex={-1} aria-label={w.run.projector.label}>
			<div class="projector-board">
				<Board most={8} fit={wall} class="heavier" cards={false} />
			</div>
			{chart.value && (
				<div class="projector-chart">
					<ChartFigure larger={size.w > 1500 && place === " beside" ? 1.3 : 1} fills />
				</div>
			)}
			<div class="projector-now">
				<Clock />
				<Sentence />
			</div>
			<Told />
			<Strip chart={chart} />
			<Why />
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

// Small words are better than half a circuit.
const wall = { h: [], least, smallest: 0.7 };

/** For who stands at the wall with a mouse or a finger: the little that is needed. */
function Strip(p: { chart: Signal<boolean> }) {
	const words = w.run.projector;
	return (
		<footer class="projector-strip">
			<h1>{sheet.value?.title || w.untitled}</h1>
			<Hands />
			<div class="projector-time">
				<PlayButton />
				<Steps />
				<Button
					pressed={p.chart.value}
					onClick={() => {
						p.chart.value = !p.chart.value;
					}}
				>
					{words.chart}
				</Button>
				<Button
					label={words.leaveLabel}
					onClick={() => {
						projecting.value = false;
					}}
				>
					{words.leave}
				</Button>
			</div>
		</footer>
	);
}

/** The answer, over the board but clear of the part that was asked. */
function Why() {
	const of = answer.value?.of;
	const part = drawing.peek()?.parts.find((x) => x.signal === of);
	const box =
		part && document.querySelector(`.projector [data-part="${CSS.escape(part.id)}"]`)?.getBoundingClientRect();
	const low = box && box.bottom > window.innerHeight * 0.45;
	return (
		<div class={`projector-why${low ? " high" : ""}`}>
			<Answered />
		</div>
	);
}

function Sentence() {
	const last = useLast();
	const r = w.run.reasons;
	return <p class="sentence">{asking.value ? r.askPart : last ? last.sentences.join(" ") : r.nothingYet}</p>;
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
		",": stepBack,
		Home: toStart,
		" ": toggle,
		k: toggle,
		K: toggle,
		w: ask,
		W: ask,
		"?": ask,
		Escape: () => {
			if (asking.value) asking.value = false;
			else if (answer.value) answer.value = null;
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
