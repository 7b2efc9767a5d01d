// Marking for the instructor: files of answers, their marks, the class.

import { useRef } from "preact/hooks";
import { sheet } from "../../desk";
import type { Class } from "../../protocol";
import { w } from "../../words";
import { Button, Choice, download } from "../kit";
import { attempts } from "../predict/store";
import { AnswerTable } from "./AnswerTable";
import {
	addOwn,
	canUndo,
	files,
	hidden,
	kept,
	nameOf,
	open,
	openOverrules,
	overrules,
	putAway,
	result,
	save,
	tolerance,
	undo,
	working,
} from "./answers";

const t = w.mark.mark;

export function ClassPage() {
	const c = result.value;
	return (
		<div class="mark-class">
			<p class="mark-lead">{t.lead}</p>
			{!kept.value && <p role="alert">{t.notKept}</p>}
			<Tools />
			{working.value && !c && <p class="waking">{w.mark.working}</p>}
			{files.value.length === 0 && <HowTable />}
			{c && (
				<div aria-busy={working.value}>
					<p role="status">{c.about}</p>
					<Problems of={c} />
					{c.answers.length > 0 && (
						<>
							<Picture of={c} />
							<h3>{t.answersTitle}</h3>
							<Overrules />
							<AnswerTable list={c.answers} />
						</>
					)}
				</div>
			)}
		</div>
	);
}

/** The row that an example asks about: the last of the chart, where the outcome stands. */
const exampleRow = () => (sheet.value?.rows ?? []).findLast((r) => !r.endsWith(".elapsed")) ?? "H1";

/** How a table of answers must look, while there is none. */
function HowTable() {
	const table = t.table.example(exampleRow());
	return (
		<section class="mark-how" aria-label={t.table.title}>
			<p>{t.none}</p>
			<h3>{t.table.title}</h3>
			<pre>{table.split("\n", 2).join("\n")}</pre>
			<dl>
				{t.table.columns.map(([name, means]) => (
					<div key={name}>
						<dt>{name}</dt>
						<dd>{means}</dd>
					</div>
				))}
			</dl>
			<Button onClick={() => download(t.table.file, "text/csv;charset=utf-8", table)}>{t.table.save}</Button>
		</section>
	);
}

/** A button that opens files through the browser's own dialog. */
function Opener(p: { words: string; many?: boolean; accept: string; onFiles(list: FileList | null): void }) {
	const input = useRef<HTMLInputElement>(null);
	return (
		<>
			<Button onClick={() => input.current?.click()}>{p.words}</Button>
			<input
				ref={input}
				type="file"
				multiple={p.many}
				accept={p.accept}
				hidden
				aria-label={p.words}
				onChange={(e) => {
					p.onFiles(e.currentTarget.files);
					e.currentTarget.value = "";
				}}
			/>
		</>
	);
}

function Tools() {
	const any = files.value.length > 0;
	return (
		<div class="predict-setup mark-tools">
			<Opener words={t.open} many accept=".json,.csv,.txt" onFiles={(list) => void open(list)} />
			{attempts.value.length > 0 && <Button onClick={addOwn}>{t.own}</Button>}
			{any && (
				<>
					<Choice
						label={t.tolerance}
						value={tolerance.value}
						of={[0, 250, 500, 1000].map((n) => ({ value: n, words: t.tolerances[n] ?? "" }))}
						onChange={(n) => {
							tolerance.value = n;
						}}
					/>
					<label class="switch">
						<input
							type="checkbox"
							checked={hidden.value}
							onChange={(e) => {
								hidden.value = e.currentTarget.checked;
							}}
						/>
						{t.hide}
					</label>
					<Button onClick={() => window.print()}>{t.print}</Button>
					<Button onClick={() => void save("csv")}>{t.saveCsv}</Button>
					<Button onClick={() => void save("json")}>{t.saveJson}</Button>
					<Button class="quiet" onClick={() => confirm(t.clearSure) && putAway()}>
						{t.clear}
					</Button>
				</>
			)}
		</div>
	);
}

function Overrules() {
	const n = overrules().length;
	return (
		<div class="predict-setup mark-tools">
			{n > 0 && <span role="status">{t.count(n)}</span>}
			<Button disabled={!canUndo()} onClick={undo}>
				{t.undo}
			</Button>
			<Button disabled={n === 0} onClick={() => void save("overrules")}>
				{t.saveOverrules}
			</Button>
			<Opener words={t.openOverrules} accept=".json" onFiles={(list) => void openOverrules(list?.[0])} />
		</div>
	);
}

function Problems(p: { of: Class }) {
	const { problems } = p.of;
	if (problems.length === 0) return null;
	if (hidden.value) return <p>{t.problemsHidden(problems.length)}</p>;
	return (
		<details class="mark-problems" open>
			<summary>{t.problems(problems.length)}</summary>
			<ul>
				{problems.map((x) => (
					<li key={x}>{x}</li>
				))}
			</ul>
		</details>
	);
}

const mostSure = 6;

/** Who was certain and wrong: a line for each answer, the first few in sight. */
function Sure(p: { of: Class["sure"] }) {
	const answers = new Map<string, Class["sure"]>();
	for (const s of p.of) {
		const key = `${s.learner}\n${s.item}`;
		answers.set(key, [...(answers.get(key) ?? []), s]);
	}
	const list = [...answers].map(([key, rows]) => <SureAnswer key={key} of={rows} />);
	if (list.length === 0) return <p>{t.sureNone}</p>;
	return (
		<>
			<ul class="mark-sure">{list.slice(0, mostSure)}</ul>
			{list.length > mostSure && (
				<details>
					<summary>{t.sureMore(list.length - mostSure)}</summary>
					<ul class="mark-sure">{list.slice(mostSure)}</ul>
				</details>
			)}
		</>
	);
}

function SureAnswer(p: { of: Class["sure"] }) {
	const first = p.of[0];
	if (!first) return null;
	const rows = p.of.map((s) => s.row).join(", ");
	return (
		<li>
			<b>{t.sureRow(nameOf(first.learner), first.item, rows)}</b>{" "}
			<small>{first.readings.map((r) => `“${r.name}”`).join(", ")}</small>
		</li>
	);
}

/** The class: sure and wrong first, then what may be behind the answers, most learners first. */
function Picture(p: { of: Class }) {
	const c = p.of;
	return (
		<section class="mark-picture" aria-label={t.classTitle}>
			<h3>{t.classTitle}</h3>
			<div class="mark-columns">
				<div>
					<h4>{t.sureTitle}</h4>
					<Sure of={c.sure} />
				</div>
				<div>
					<h4>{t.ideasTitle}</h4>
					{c.ideas.length === 0 && <p>{t.ideasNone}</p>}
					<ol class="mark-ideas">
						{c.ideas.map((i) => (
							<li key={i.id}>
								<b>{i.name}</b> <small>{i.words}</small>
							</li>
						))}
					</ol>
				</div>
				<div>
					<h4>{t.nextTitle}</h4>
					<p>{c.ask ? <b>{c.ask}</b> : t.nextNone}</p>
					{c.presses && <p>{c.presses}</p>}
					<h4>{t.itemsTitle}</h4>
					<ul class="mark-ideas">
						{c.items.map((i) => (
							<li key={i.name}>
								<b>{i.name}</b> <small>{i.words}</small>
							</li>
						))}
					</ul>
				</div>
			</div>
		</section>
	);
}
