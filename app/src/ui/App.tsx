// The whole page: one sheet of paper with a title block along its foot, in
// which the reader chooses what to do.

import { type Mode, mayWrite, message, mode, ready, sheet } from "../desk";
import { engineState } from "../engine";
import { downloadWork } from "../keep/keep";
import { w } from "../words";
import { FaultBar } from "./FaultBar";
import { FileCells } from "./files/Files";
import { Button } from "./kit";
import { Cautions } from "./lesson/Cautions";
import { FirstHint } from "./lesson/FirstHint";
import { LessonHead } from "./lesson/LessonHead";
import { LookCell, Projector, projecting } from "./look/Look";
import { Predict } from "./predict/Predict";
import { Print } from "./print/Print";
import { Run } from "./run/Run";
import { Write } from "./write/Write";

export function App() {
	if (projecting.value) return <Projector />;
	return (
		<div class="sheet">
			<main class={`paper mode-${mode.value}`} aria-busy={!ready.value}>
				<Cautions />
				<Told />
				<LessonHead />
				<FirstHint />
				<FaultBar />
				{ready.value ? <Area mode={mode.value} /> : engineState.value !== "lost" && <Waking />}
			</main>
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

/** The latest message; it is read out when it changes. */
function Told() {
	// That the engine was started again is no longer true once it is lost.
	const stale = engineState.value === "lost" && message.value?.text === w.desk.renewed;
	const m = stale ? null : message.value;
	return (
		<div class="told" role="status" aria-live="polite">
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
							aria-current={mode.value === m ? "page" : undefined}
							onClick={() => {
								mode.value = m;
							}}
						>
							{w.modes[m]}
						</button>
					))}
			</nav>
			<FileCells />
			<LookCell />
		</footer>
	);
}
