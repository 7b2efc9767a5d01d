// The whole page: one sheet of paper with a title block along its foot, in
// which the reader chooses what to do.

import { useEffect, useLayoutEffect, useRef } from "preact/hooks";
import { arriving, type Mode, mayWrite, mode, ready, sheet } from "../desk";
import { engineState } from "../engine";
import { w } from "../words";
import { FaultBar } from "./FaultBar";
import { FileCells } from "./files/Files";
import { Cautions } from "./lesson/Cautions";
import { FirstHint } from "./lesson/FirstHint";
import { LessonHead } from "./lesson/LessonHead";
import { closed } from "./lesson/lock";
import { LookCell, Projector, projecting } from "./look/Look";
import { Predict } from "./predict/Predict";
import { Print } from "./print/Print";
import { Run } from "./run/Run";
import { Told } from "./Told";
import { Write } from "./write/Write";

export function App() {
	const area = mode.value;
	// Another area begins at its head.
	useLayoutEffect(() => window.scrollTo(0, 0), [area]);
	if (projecting.value) return <Projector />;
	return (
		<div class="sheet">
			<main class={`paper mode-${mode.value}`} aria-busy={!ready.value || arriving.value > 0}>
				<Cautions />
				<LessonHead />
				<FirstHint />
				<FaultBar />
				{ready.value ? <Area mode={mode.value} /> : engineState.value !== "lost" && <Waking />}
			</main>
			<Foot />
		</div>
	);
}

/** What stays at the foot of the window: the title block, and messages over it. */
function Foot() {
	const ref = useRef<HTMLDivElement>(null);
	useEffect(() => {
		const foot = ref.current;
		if (!foot) return;
		const watch = new ResizeObserver(() => {
			// On a low window it scrolls away with the page.
			const high = getComputedStyle(foot).position === "sticky" ? foot.offsetHeight : 0;
			document.documentElement.style.setProperty("--foot", `${high}px`);
		});
		watch.observe(foot);
		return () => watch.disconnect();
	}, []);
	return (
		<div class="foot" ref={ref}>
			<Told />
			<TitleBlock />
		</div>
	);
}

function Area(p: { mode: Mode }) {
	switch (p.mode) {
		case "write":
			return <Write />;
		case "predict":
			return <Predict />;
		case "print":
			return <Print />;
		default:
			return <Run />;
	}
}

function Waking() {
	return (
		<p class="waking" role="status">
			{w.desk.waking}
		</p>
	);
}

const modes: Mode[] = ["run", "write", "predict", "print"];

function TitleBlock() {
	const s = sheet.value;
	return (
		<footer class="title-block">
			<div class="cell name">
				<h1>{s?.title || w.untitled}</h1>
				<small>{s?.station}</small>
			</div>
			<nav class="cell modes" aria-label={w.modesLabel}>
				{modes
					.filter((m) => m !== "write" || mayWrite.value)
					.map((m) => (
						<button
							type="button"
							key={m}
							disabled={closed.value && m !== "predict"}
							aria-describedby={closed.value ? "modes-closed" : undefined}
							aria-current={mode.value === m ? "page" : undefined}
							onClick={() => {
								mode.value = m;
							}}
						>
							{w.modes[m]}
						</button>
					))}
				{closed.value && <small id="modes-closed">{w.files.lesson.closed}</small>}
			</nav>
			<FileCells />
			<LookCell />
		</footer>
	);
}
