// The latest message, on the foot of the page above all that stands there. It
// goes with the next thing that the user does, once there was time to read it.

import { useEffect, useRef } from "preact/hooks";
import { message, mode, ready, selected } from "../desk";
import { engineState } from "../engine";
import { downloadWork } from "../keep/keep";
import { w } from "../words";
import { Button } from "./kit";

/** So long it stays in any case; longer if there is something to choose. */
const least = 4000;
const leastWithChoice = 10_000;

/** Lets a message go with the next press or key after its time; a fault waits to be dismissed. */
function useLeaving(ref: { current: HTMLElement | null }) {
	const m = message.value;
	useEffect(() => {
		if (!m || m.kind === "fault") return;
		const since = performance.now();
		const done = (e: Event) => {
			if (ref.current?.contains(e.target as Node)) return;
			if (performance.now() - since < (m.action ? leastWithChoice : least)) return;
			if (message.peek() === m) message.value = null;
		};
		document.addEventListener("pointerdown", done, true);
		document.addEventListener("keydown", done, true);
		return () => {
			document.removeEventListener("pointerdown", done, true);
			document.removeEventListener("keydown", done, true);
		};
	}, [m]);
}

/** Keeps the message off what stands above the title block: the hands, or the strip for the chosen part. */
function useStrip() {
	const any = message.value !== null;
	useEffect(() => {
		if (!any) return;
		const measure = () => {
			const foot = document.querySelector(".foot")?.getBoundingClientRect().top ?? window.innerHeight;
			const tops = [...document.querySelectorAll<HTMLElement>(".mode-write .strip, .mode-run .hands")]
				.filter((e) => getComputedStyle(e).position === "sticky")
				.map((e) => e.getBoundingClientRect().top)
				.filter((top) => top < foot);
			const high = Math.max(0, foot - Math.min(foot, ...tops));
			document.documentElement.style.setProperty("--strip", `${Math.min(high, window.innerHeight * 0.7)}px`);
		};
		const soon = requestAnimationFrame(measure);
		window.addEventListener("scroll", measure, { passive: true });
		window.addEventListener("resize", measure);
		return () => {
			cancelAnimationFrame(soon);
			window.removeEventListener("scroll", measure);
			window.removeEventListener("resize", measure);
		};
	}, [any, mode.value, selected.value]);
}

/** The latest message; it is read out when it changes. */
export function Told() {
	const ref = useRef<HTMLDivElement>(null);
	useLeaving(ref);
	useStrip();
	// That the engine was started again is no longer true once it is lost.
	const stale = engineState.value === "lost" && message.value?.text === w.desk.renewed;
	const m = stale ? null : message.value;
	return (
		<div class="told" role="status" aria-live="polite" ref={ref}>
			{engineState.value === "lost" && (
				<p class="fault">
					{ready.value ? w.desk.lost : w.desk.never}
					{ready.value && <Button onClick={downloadWork}>{w.files.download}</Button>}
				</p>
			)}
			{m && (
				<p class={m.kind}>
					{m.text}
					{m.action && <Button onClick={m.action.run}>{m.action.words}</Button>}
					<Button
						class="quiet"
						label={w.desk.dismiss}
						onClick={() => {
							message.value = null;
						}}
					>
						×
					</Button>
				</p>
			)}
		</div>
	);
}
