// The strip of the board's time: run, stand, go on by one cause, who operates.

import { useComputed, useSignal } from "@preact/signals";
import {
	frame,
	mayWrite,
	pause,
	playing,
	scriptPlace,
	sheet,
	speed,
	speeds,
	start,
	stepBack,
	stepOn,
} from "../../desk";
import { w } from "../../words";
import { Button } from "../kit";
import { startOver } from "./hands";
import { Keep } from "./Keep";
import { toggle, toStart } from "./keys";
import { asking } from "./why";

/** The time now, in figures that don't jump about. */
export function Clock() {
	const now = frame.value?.now ?? 0;
	// Time that runs shows tenths; standing, it shows what it exactly is.
	const exact = String(now / 1e9).split(".")[1]?.length ?? 0;
	const digits = playing.value ? (speed.value < 0.5 ? 2 : 1) : Math.min(3, Math.max(1, exact));
	return (
		<output class="clock" aria-label={w.run.time.now} aria-live="off">
			{w.run.clock(now, digits)}
		</output>
	);
}

/** Why time stands, or what is special about it, in words. */
function timeWords(): string {
	const t = w.run.time;
	const f = frame.value;
	if (!f) return "";
	if (asking.value) return w.run.reasons.ask;
	if (f.ended && f.now >= f.known) return t.ended(f.ended);
	if (playing.value) return f.dropped || t.runs;
	if (f.now < f.known) return `${t.past(w.run.span(f.known))} ${f.dropped}`;
	if (f.now === 0) return scriptPlace.value < 0 ? t.fresh : t.freshScript;
	return `${t.stands} ${f.dropped}`;
}

/** What is used all the time; it stays in sight. */
export function TimeStrip() {
	const words = useComputed(timeWords);
	return (
		<section class="time" aria-label={w.run.time.label}>
			<PlayButton />
			<Clock />
			<Steps />
			<WhyHere />
			<Speed />
			<p class="time-words">{words}</p>
		</section>
	);
}

/** Who operates, and all that begins or ends a run. */
export function RunStrip() {
	const t = w.run.time;
	const first = useComputed(() => (frame.value?.back ?? -1) < 0);
	return (
		<section class="time-more" aria-label={t.runLabel}>
			<Who />
			<Button title={t.homeLabel} aria-keyshortcuts="Home" disabled={first.value} onClick={toStart}>
				{t.home}
			</Button>
			<Button title={t.overLabel} onClick={startOver}>
				{t.over}
			</Button>
			{mayWrite.value && <KeepButton />}
		</section>
	);
}

/** On a small screen the question must be at hand wherever the board is scrolled to. */
function WhyHere() {
	const r = w.run.reasons;
	return (
		<Button
			class="why why-here"
			title={r.whyLabel}
			pressed={asking.value}
			onClick={() => {
				asking.value = !asking.value;
			}}
		>
			{r.why}
		</Button>
	);
}

export function PlayButton() {
	const t = w.run.time;
	const over = useComputed(() => !!frame.value?.ended && frame.value.now >= frame.value.known);
	return (
		<Button class="play" aria-keyshortcuts="k" disabled={over.value && !playing.value} onClick={toggle}>
			{playing.value ? t.pause : t.play}
		</Button>
	);
}

function Speed() {
	const t = w.run.time;
	return (
		<label class="speed">
			<span>{t.speed}</span>
			<select
				value={speed.value}
				onChange={(e) => {
					speed.value = Number(e.currentTarget.value);
				}}
			>
				{speeds.map((s) => (
					<option key={s} value={s}>
						{t.times(s)}
					</option>
				))}
			</select>
		</label>
	);
}

export function Steps() {
	const t = w.run.time;
	const first = useComputed(() => (frame.value?.back ?? -1) < 0);
	return (
		<div class="steps">
			<Button label={t.backLabel} aria-keyshortcuts="ArrowLeft" disabled={first.value} onClick={stepBack}>
				{t.back}
			</Button>
			<Button label={t.nextLabel} aria-keyshortcuts="ArrowRight" onClick={stepOn}>
				{t.next}
			</Button>
		</div>
	);
}

/** Who moves the hands: you, or one of the text's scripts. */
function Who() {
	const list = sheet.value?.scripts ?? [];
	if (list.length === 0) return null;
	return (
		<label class="who">
			<span>{w.run.scripts.label}</span>
			<select
				value={scriptPlace.value}
				onChange={(e) => {
					const to = Number(e.currentTarget.value);
					start(to, to >= 0);
				}}
			>
				<option value={-1}>{w.run.scripts.free}</option>
				{list.map((s, i) => (
					<option key={s.name} value={i}>
						{w.run.scripts.script(s.name)}
					</option>
				))}
			</select>
		</label>
	);
}

function KeepButton() {
	const open = useSignal(false);
	return (
		<>
			<Button
				onClick={() => {
					pause();
					open.value = true;
				}}
			>
				{w.run.scripts.keep}
			</Button>
			{open.value && (
				<Keep
					onClose={() => {
						open.value = false;
					}}
				/>
			)}
		</>
	);
}
