// Predict first: the learner draws what a script will do, then asks for it.

import type { ComponentChildren } from "preact";
import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { type Mode, mayWrite, mode, sheet } from "../../desk";
import { docName, text } from "../../doc";
import { lesson } from "../../lesson";
import { w } from "../../words";
import { Drawing } from "../Drawing";
import { Button, Choice } from "../kit";
import { Notes } from "../lesson/Notes";
import { ChooseChart } from "../mark/Choose";
import { ClassPage } from "../mark/Class";
import { type Task as Kind, task, tasks } from "../mark/task";
import { TellingPage } from "../tell/Telling";
import { Answers, Results } from "./Answers";
import { Attempts } from "./Attempts";
import { Draw } from "./Draw";
import { Figure } from "./Figure";
import { sketched } from "./sketch";
import {
	again,
	asked,
	blank,
	canUndo,
	choose,
	clearAll,
	fine,
	fixed,
	hidden,
	hide,
	lines,
	redraw,
	resized,
	reveal,
	revealed,
	rowsDrawn,
	script,
	tolerance,
	undo,
	widen,
} from "./state";

const t = w.predict;

export function Predict() {
	const kind = task.value;
	return (
		<div class={`predict predict-${kind}`}>
			<header>
				<h2>{kind === "draw" ? t.title : w.mark.task[kind]}</h2>
				{kind === "draw" && <p>{t.lead}</p>}
				<Choice<Kind>
					label={w.mark.tasks}
					value={kind}
					of={tasks.map((k) => ({ value: k, words: w.mark.task[k] }))}
					onChange={(k) => {
						task.value = k;
					}}
				/>
			</header>
			{lesson && kind === "draw" && <Notes folded />}
			{kind === "mark" ? <ClassPage /> : kind === "tell" ? <TellingPage /> : <Learners kind={kind} />}
		</div>
	);
}

/** What learners do, and what they did. */
function Learners(p: { kind: Kind }) {
	const scripts = sheet.value?.scripts ?? [];
	return (
		<>
			{p.kind === "choose" ? (
				<ChooseChart />
			) : (
				<div class="predict-desk">
					<Circuit key={docName.value} />
					<Place>{scripts.length === 0 ? <NoScript /> : <Task />}</Place>
				</div>
			)}
			<Attempts />
		</>
	);
}

/** Nothing can be predicted yet: the ways to a script. */
function NoScript() {
	const way = (to: Mode, words: string) => (
		<Button
			onClick={() => {
				mode.value = to;
			}}
		>
			{words}
		</Button>
	);
	return (
		<>
			<p>{t.noScripts}</p>
			<div class="predict-tools">
				{mayWrite.value && way("write", t.writeScript)}
				{way("run", t.recordScript)}
			</div>
		</>
	);
}

/** Smaller than this the rungs scroll within their box: nothing is gained by words that nobody can read. */
const smallest = 0.55;
/** Magnification at which a circuit that was asked to be larger is read with ease. */
const large = 1.1;

/** The circuit at rest: beside the chart, or on a phone above it, folded once it has been looked at. */
function Circuit() {
	const [larger, setLarger] = useState(false);
	const [open] = useState(() => !matchMedia("(max-width: 40rem)").matches || !sketched(text.value));
	return (
		<details class={`predict-circuit ${larger ? "larger" : ""}`} open={open}>
			<summary>{t.circuit}</summary>
			<Button class="quiet" pressed={larger} onClick={() => setLarger(!larger)}>
				{t.larger}
			</Button>
			<Drawing parts="none" rest most={1.6} unfolded={larger ? large : smallest} />
		</details>
	);
}

/** The room for the task. Its width is known before the first chart is asked for: one that is redrawn moves under the hand. */
function Place(p: { children: ComponentChildren }) {
	const box = useRef<HTMLDivElement>(null);
	useLayoutEffect(() => {
		const b = box.current;
		if (!b) return;
		resized(b.clientWidth);
		const watch = new ResizeObserver(() => resized(b.clientWidth));
		watch.observe(b);
		return () => watch.disconnect();
	}, []);
	return (
		<div class="predict-task" ref={box}>
			{p.children}
		</div>
	);
}

function Task() {
	const shown = revealed.value;
	return (
		<>
			<Setup />
			{shown ? <Figure chart={shown.chart} name={t.revealed} /> : <Sketch />}
			{shown ? <Results /> : blank.value && <Answers />}
			{shown ? (
				<div class="predict-foot">
					<Button class="main" onClick={again}>
						{t.again}
					</Button>
				</div>
			) : (
				blank.value && <Foot />
			)}
		</>
	);
}

/** What is to be predicted. */
function Setup() {
	const scripts = sheet.value?.scripts ?? [];
	const locked = revealed.value !== null;
	return (
		<div class="predict-setup">
			<label>
				{t.script}
				<select value={script.value} onChange={(e) => choose(Number(e.currentTarget.value))}>
					{scripts.map((s, i) => (
						<option key={s.name} value={i}>
							{s.name}
						</option>
					))}
				</select>
			</label>
			{fixed.value ? <p>{t.fixedRows}</p> : !locked && asked.value.length > 0 && <RowPicker />}
			<Choice
				label={t.width}
				value={widen.value}
				of={[1, 2, 4].map((n) => ({ value: n, words: t.widths[n] ?? "" }))}
				onChange={(n) => {
					widen.value = n;
					redraw();
				}}
			/>
		</div>
	);
}

function RowPicker() {
	return (
		<details class="predict-rows">
			<summary>
				{t.rows} <small>{t.rowsChosen(hidden.value.length, asked.value.length)}</small>
			</summary>
			<fieldset>
				<legend class="unseen">{t.rows}</legend>
				{asked.value.map((r) => (
					<label key={r.name}>
						<input
							type="checkbox"
							checked={hidden.value.includes(r.name)}
							onChange={(e) => hide(r.name, e.currentTarget.checked)}
						/>
						{r.name}
					</label>
				))}
			</fieldset>
		</details>
	);
}

/** The chart to draw on. */
function Sketch() {
	const chart = blank.value;
	if (!chart) {
		return (
			<p class="waking">{hidden.value.length > 0 ? t.working : asked.value.length > 0 ? t.noneChosen : t.noRows}</p>
		);
	}
	return (
		<>
			<Draw chart={chart} />
			<div class="predict-tools">
				<Button disabled={!canUndo.value} onClick={undo}>
					{t.undo}
				</Button>
				<Button class="quiet" onClick={clearAll}>
					{t.clearAll}
				</Button>
				<label class="switch">
					<input
						type="checkbox"
						checked={fine.value}
						onChange={(e) => {
							fine.value = e.currentTarget.checked;
						}}
					/>
					{t.fine}
				</label>
				<small>{t.square(chart.plan.square)}</small>
			</div>
			<details class="predict-how">
				<summary>{t.how}</summary>
				<p>{t.howPointer}</p>
				<p id="predict-how-keys">{t.howKeys}</p>
				<p id="predict-how-text">{t.howText}</p>
			</details>
		</>
	);
}

function Foot() {
	const untouched = rowsDrawn.value.filter((r) => !lines.value[r.name]).map((r) => r.name);
	return (
		<div class="predict-foot">
			<Choice
				label={t.tolerance}
				value={tolerance.value}
				of={[25, 50, 100].map((n) => ({ value: n, words: t.tolerances[n] ?? "" }))}
				onChange={(n) => {
					tolerance.value = n;
				}}
			/>
			{untouched.length > 0 && <p>{t.untouched(untouched.join(", "))}</p>}
			<Button class="main" onClick={reveal}>
				{t.reveal}
			</Button>
		</div>
	);
}
