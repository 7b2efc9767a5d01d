// What happened and why, in sentences.

import { useComputed, useSignal, useSignalEffect } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { drawing, frame, goTo, sheet, steps } from "../../desk";
import type { Instant } from "../../protocol";
import { w } from "../../words";
import { Button } from "../kit";
import { answer, asking } from "./why";

/** The latest instant at which something happened, up to the one shown. */
export function useLast() {
	return useComputed<Instant | undefined>(() => steps.value.at(-1)).value;
}

/** The sentence of the moment, large. */
export function JustNow() {
	const last = useLast();
	const r = w.run.reasons;
	return (
		<section class="just-now" aria-label={r.justNow}>
			{last ? (
				<p>
					<span class="at">{w.run.span(last.at)}</span> {last.sentences.join(" ")}
				</p>
			) : (
				<p>{r.nothingYet}</p>
			)}
			<Told />
		</section>
	);
}

/** Says what happens, at most once a second: a screen reader can't keep up with more. */
export function Told() {
	const words = useSignal("");
	const told = useRef(-1);
	const due = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
	useSignalEffect(() => {
		steps.value;
		due.current ??= setTimeout(() => {
			due.current = undefined;
			const list = steps.peek();
			const last = list.at(-1)?.at ?? -1;
			const fresh = list.filter((s) => s.at > told.current).slice(-2);
			const say = fresh.length > 0 ? fresh : last < told.current ? list.slice(-1) : [];
			if (say.length > 0) words.value = say.flatMap((s) => s.sentences).join(" ");
			told.current = last;
		}, 1000);
	});
	useEffect(() => () => clearTimeout(due.current), []);
	return (
		<p class="unseen" aria-live="polite">
			{words}
		</p>
	);
}

/** The button that makes the next touch a question. */
export function WhyButton() {
	const r = w.run.reasons;
	return (
		<div class="why-ask">
			<Button
				class="why"
				title={r.whyLabel}
				pressed={asking.value}
				aria-keyshortcuts="w"
				onClick={() => {
					asking.value = !asking.value;
				}}
			>
				{r.why}
			</Button>
			<p role="status">{asking.value ? r.ask : r.askHint}</p>
		</div>
	);
}

/** The answer to a why. */
export function Answered() {
	const a = answer.value;
	const ref = useRef<HTMLElement>(null);
	const r = w.run.reasons;
	useEffect(() => {
		if (!a) return;
		ref.current?.focus({ preventScroll: true });
		ref.current?.scrollIntoView({ block: "nearest" });
	}, [a]);
	if (!a) return null;
	return (
		<section class="answer" tabIndex={-1} ref={ref} aria-label={r.whyOf(a.of)}>
			<div class="answer-head">
				<h2>
					{a.title}: {a.value}
				</h2>
				<Button
					class="quiet"
					label={w.desk.close}
					onClick={() => {
						answer.value = null;
					}}
				>
					×
				</Button>
			</div>
			{a.answer.map((s) => (
				<p key={s}>{s}</p>
			))}
			{a.story.length > 0 && (
				<details open>
					<summary>{r.story}</summary>
					<ol>
						{a.story.map((s) => (
							<li key={s}>{s}</li>
						))}
					</ol>
				</details>
			)}
		</section>
	);
}

/** All steps so far, newest first; each leads to its instant. */
export function Story() {
	const r = w.run.reasons;
	const list = steps.value;
	if (list.length === 0) return null;
	return (
		<section class="story" aria-label={r.steps}>
			<h2>{r.steps}</h2>
			<ol>
				{[...list].reverse().map((s) => (
					<li key={s.at}>
						<button type="button" onClick={() => goTo(s.at)} title={r.goTo(w.run.span(s.at))}>
							<span class="at">{w.run.span(s.at)}</span>
							<span>{s.sentences.join(" ")}</span>
						</button>
					</li>
				))}
			</ol>
		</section>
	);
}

/** What the learner should look at. */
export function Notices() {
	const r = w.run.reasons;
	// A new list comes with each frame; its length and end tell of something new.
	const state = useComputed(() => {
		const list = frame.value?.notices ?? [];
		return `${list.length} ${list.at(-1)?.at ?? 0}`;
	});
	state.value;
	const list = frame.peek()?.notices ?? [];
	if (list.length === 0) return null;
	return (
		<section class="notices" aria-label={r.notices}>
			<h2>{r.notices}</h2>
			<ul>
				{[...list].reverse().map((n) => (
					<li key={`${n.at} ${n.text} ${n.devices.join()}`}>
						<p>
							<span class="at">{w.run.span(n.at)}</span> {n.text}{" "}
							<small>{n.devices.map((d) => sheet.value?.devices[d]?.tag).join(", ")}</small>
						</p>
						<Button onClick={() => goTo(n.at)} label={`${r.lookThere}: ${w.run.span(n.at)}`}>
							{r.lookThere}
						</Button>
					</li>
				))}
			</ul>
		</section>
	);
}

/** The board for those who don't see it. */
export function InWords() {
	const words = useComputed(() => frame.value?.words ?? "");
	return (
		<section class="unseen" aria-label={w.run.words.label}>
			<h2>{w.run.words.board}</h2>
			<p>{words}</p>
			<h2>{w.run.words.drawing}</h2>
			<p>{drawing.value?.words}</p>
		</section>
	);
}
