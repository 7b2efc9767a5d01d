// The learner's lines in words, how sure they are, and what came of it.

import { useEffect, useRef, useState } from "preact/hooks";
import { selected } from "../../desk";
import type { Nanos } from "../../protocol";
import { w } from "../../words";
import { Button, Choice } from "../kit";
import { Diagnosis, followsOnly, RowMarks } from "../mark/Diagnosis";
import { keepInSight } from "../run/insight";
import { askWhy } from "../run/why";
import { inWords, readAnswer } from "./answer";
import { flipFrom } from "./line";
import {
	atReveal,
	blank,
	dropLine,
	end,
	explain,
	lineFor,
	lines,
	revealed,
	rowsDrawn,
	setLine,
	sure,
	wordFor,
} from "./state";
import type { Sure } from "./store";

const t = w.predict;
type Row = (typeof rowsDrawn.value)[number];

/** Room for what the learner says of each row. */
export function Answers() {
	const rows = rowsDrawn.value;
	return (
		<section class="predict-answers" aria-label={t.answers}>
			<h3>{t.answers}</h3>
			{rows.length > 1 && <SureOf label={t.sureAll} rows={rows.map((r) => r.name)} />}
			<ul>
				{rows.map((r) => (
					<li key={r.name}>
						<Answer row={r} />
						<SureOf label={t.sure(r.name)} rows={[r.name]} />
					</li>
				))}
			</ul>
		</section>
	);
}

function SureOf(p: { label: string; rows: string[] }) {
	const values = new Set(p.rows.map((r) => sure.value[r] ?? ""));
	const value = values.size === 1 ? ([...values][0] as Sure) : "";
	return (
		<Choice<Sure>
			label={p.label}
			value={value}
			of={(["guess", "fairly", "certain"] as const).map((v) => ({ value: v, words: t.sures[v] }))}
			onChange={(v) => {
				sure.value = { ...sure.value, ...Object.fromEntries(p.rows.map((r) => [r, v])) };
			}}
		/>
	);
}

/** A row's line in words: the same line that is drawn. */
function Answer(p: { row: Row }) {
	const { row } = p;
	const line = lineFor(row.name);
	// A row that nothing was drawn in says nothing, so that "never" can be said of it.
	const drawn = lines.value[row.name] ? inWords(line, row.words, end.value) : "";
	const [typed, setTyped] = useState(drawn);
	const [problem, setProblem] = useState("");
	useEffect(() => {
		setTyped(drawn);
		setProblem("");
	}, [drawn]);
	const commit = () => {
		if (!blank.value || typed === drawn) return;
		if (typed.trim() === "") return dropLine(row.name);
		const read = readAnswer(typed, row.words, end.value);
		if ("problem" in read) setProblem(read.problem);
		else {
			setLine(row.name, read);
			setTyped(inWords(read, row.words, end.value));
			setProblem("");
		}
	};
	const id = `predict-answer-${row.name}`;
	return (
		<div class="predict-answer">
			<label for={id}>{row.name}</label>
			<input
				id={id}
				value={typed}
				aria-label={t.answer(row.name)}
				aria-invalid={problem !== ""}
				aria-describedby={problem ? `${id}-problem` : "predict-how-text"}
				placeholder={t.undrawn}
				autocomplete="off"
				spellcheck={false}
				onInput={(e) => setTyped(e.currentTarget.value)}
				onChange={commit}
				onBlur={commit}
				onKeyDown={(e) => e.key === "Enter" && commit()}
			/>
			<Button
				label={t.startsLabel(row.name, wordFor(row, line.start))}
				onClick={() => setLine(row.name, flipFrom(line, 0, end.value))}
			>
				{t.starts(wordFor(row, line.start))}
			</Button>
			<Button class="quiet" label={t.clearLabel(row.name)} onClick={() => dropLine(row.name)}>
				{t.clear}
			</Button>
			<p class="problem" id={`${id}-problem`} role="alert">
				{problem}
			</p>
		</div>
	);
}

/** Brings the first difference into sight, with the heading if both fit. */
function showResult(head: HTMLElement) {
	head.focus({ preventScroll: true });
	const first = head.parentElement?.querySelector("li.wrong") ?? head.nextElementSibling;
	first?.scrollIntoView({ block: "nearest" });
	head.scrollIntoView({ block: "nearest" });
}

/** What came of it, a sentence for each row. */
export function Results() {
	const rows = revealed.value?.rows ?? [];
	const head = useRef<HTMLHeadingElement>(null);
	useEffect(() => {
		if (head.current && atReveal()) showResult(head.current);
	}, []);
	return (
		<section class="predict-results" aria-label={t.revealed}>
			<h3 ref={head} tabIndex={-1}>
				{t.revealed}
			</h3>
			<p role="status">{t.tally(rows.filter((r) => r.right).length, rows.length)}</p>
			<ul>
				{rows.map((r) => (
					<li key={r.row} class={r.right ? "right" : "wrong"}>
						<p>
							<b class="verdict">{r.right ? t.right : followsOnly(r.row) ? w.mark.right.followOn : t.wrong}</b>
							<b>{r.row}</b>
							<small>{sureWords(sure.value[r.row] ?? "", t.sureNotSaid)}</small>
						</p>
						<p>{r.words}</p>
						{!r.right && lines.value[r.row] && <RowMarks row={r.row} said={r.words} at={r.at} />}
						<Thought sure={sure.value[r.row] ?? ""} right={r.right} follows={followsOnly(r.row)} />
						{r.at >= 0 && (
							<Button label={t.whyLabel(r.row, r.at)} onClick={() => void showWhy(r.row, r.at)}>
								{t.why}
							</Button>
						)}
					</li>
				))}
			</ul>
			<Diagnosis />
		</section>
	);
}

/** Goes to the run at the instant in question, and has the row's why answered there. */
async function showWhy(row: string, at: Nanos) {
	await explain(row, at);
	await askWhy(row);
	keepInSight(selected.value);
}

export const sureWords = (s: Sure, unsaid = t.notSaid) => (s ? t.sures[s] : unsaid);

/** What sureness and result say together; nothing of a row that only follows another. */
function Thought(p: { sure: Sure; right: boolean; follows: boolean }) {
	const { guessRight, certainWrong, fairlyWrong } = t.thought;
	const right = { guess: guessRight, fairly: "", certain: "", "": "" };
	const wrong = { guess: "", fairly: fairlyWrong, certain: certainWrong, "": "" };
	const words = p.follows ? "" : (p.right ? right : wrong)[p.sure];
	return words ? <p>{words}</p> : null;
}
