// Below the board: what its marks mean, and how large it is shown.

import { useEffect, useState } from "preact/hooks";
import { marksRead } from "../../keep/look";
import { w } from "../../words";
import type { Fit } from "../Drawing";
import { Button, Choice } from "../kit";
import { wholeNow, zoom } from "./fit";

/** At this magnification the smallest words beside a symbol are 11 pixels high. */
const readable = 1.32;

interface Space {
	wide: boolean;
	high: number;
}

/** What is left of the window between the time and the title block, with one line of each above the board. */
function space(): Space {
	const rem = Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
	const foot = document.querySelector<HTMLElement>(".foot")?.offsetHeight ?? 3.5 * rem;
	return { wide: window.innerWidth >= 62 * rem, high: window.innerHeight - foot - 11.5 * rem };
}

/** How the board fits: whole if it can be read then, and with some of the chart below if that is possible. */
export function useBoardFit(): Fit | undefined {
	const [s, set] = useState(space);
	useEffect(() => {
		const resized = () => set(space());
		window.addEventListener("resize", resized);
		return () => window.removeEventListener("resize", resized);
	}, []);
	if (zoom.value === "whole") return { h: [s.high], least: readable, smallest: 0 };
	if (zoom.value === "large" || !s.wide) return undefined;
	return { h: [s.high * 0.5, s.high * 0.65, s.high], least: readable };
}

export function BoardFoot() {
	const m = w.run.marks;
	const z = w.run.zoom;
	const now = zoom.value || (wholeNow.value ? "whole" : "large");
	return (
		<div class="board-foot">
			{marksRead.value ? (
				<Button
					class="quiet marks-ask"
					onClick={() => {
						marksRead.value = false;
					}}
				>
					{m.ask}
				</Button>
			) : (
				<aside class="marks-meaning" aria-label={m.label}>
					<p>{m.text}</p>
					<Button
						class="quiet"
						label={w.desk.dismiss}
						onClick={() => {
							marksRead.value = true;
						}}
					>
						×
					</Button>
				</aside>
			)}
			<Choice
				label={z.label}
				value={now}
				of={[
					{ value: "whole", words: z.whole },
					{ value: "large", words: z.large },
				]}
				onChange={(v) => {
					zoom.value = v;
				}}
			/>
		</div>
	);
}
