// A row for each answer: its mark, what may be behind it, and room for a mark
// of one's own.

import { useState } from "preact/hooks";
import { say } from "../../desk";
import type { ClassAnswer } from "../../protocol";
import { w } from "../../words";
import { Button } from "../kit";
import { sureWords } from "../predict/Answers";
import { nameOf, overrule } from "./answers";
import { Fits } from "./Diagnosis";

const t = w.mark.mark;

export function AnswerTable(p: { list: ClassAnswer[] }) {
	const c = t.columns;
	return (
		<div class="predict-table">
			<table class="mark-answers">
				<thead>
					<tr>
						{[c.learner, c.item, c.mark, c.finding, c.behind].map((h) => (
							<th key={h} scope="col">
								{h}
							</th>
						))}
					</tr>
				</thead>
				<tbody>
					{p.list.map((a) => (
						<Rows key={`${a.learner}\n${a.item}`} of={a} />
					))}
				</tbody>
			</table>
		</div>
	);
}

function Rows(p: { of: ClassAnswer }) {
	const a = p.of;
	const [open, setOpen] = useState(false);
	const fits = a.fits.filter((f) => f.explains);
	const ownMark = a.overruled || a.rows.some((r) => r.overruled);
	return (
		<>
			<tr class="first">
				<th scope="row">
					{nameOf(a.learner)}
					<Button
						class="quiet"
						aria-expanded={open}
						label={t.detailsLabel(nameOf(a.learner), a.item)}
						onClick={() => setOpen(!open)}
					>
						{t.details}
					</Button>
				</th>
				<td>{a.item}</td>
				<td class="mark-mark">
					{t.points(a.points, a.of)}
					{ownMark && <small>{t.overruled}</small>}
				</td>
				<td>{a.finding}</td>
				<td>{fits.length === 0 ? t.noIdea : <Behind of={fits.flatMap((f) => f.readings.map((r) => r.name))} />}</td>
			</tr>
			{open && (
				<tr class="mark-open">
					<td colSpan={5}>
						<Details of={a} />
					</td>
				</tr>
			)}
		</>
	);
}

const mostNames = 3;

/** The first few names; all of them stand in the details. */
function Behind(p: { of: string[] }) {
	const names = [...new Set(p.of)];
	return (
		<>
			{names
				.slice(0, mostNames)
				.map((n) => `“${n}”`)
				.join(", ")}
			{names.length > mostNames && " …"}
		</>
	);
}

function Details(p: { of: ClassAnswer }) {
	const a = p.of;
	return (
		<div class="mark-details">
			<Fits of={a.fits.filter((f) => f.explains)} />
			<p>
				<b>{t.toLearner}</b> {a.text}
			</p>
			{a.rows.map((r) => (
				<div key={r.row} class="mark-row">
					<p>
						{r.words} {r.sure && <small>{sureWords(r.sure)}</small>}
					</p>
					<ul class="mark-edges">
						{r.edges.map((e) => (
							<li key={e.words}>
								{e.follows && <b>{w.mark.right.follows}</b>} {e.words}
							</li>
						))}
					</ul>
					<Own of={a} signal={r.row} mark={r.points} note={r.note} />
				</div>
			))}
			<div class="mark-row">
				<p>
					{t.whole} <b>{t.points(a.points, a.of)}</b> {a.note}
				</p>
				<Own of={a} signal="" mark={a.points} note={a.note} />
			</div>
		</div>
	);
}

/** Room for a mark of one's own. */
function Own(p: { of: ClassAnswer; signal: string; mark: number; note: string }) {
	const [typed, setTyped] = useState("");
	const [note, setNote] = useState(p.note);
	const what = `${nameOf(p.of.learner)}, ${p.signal || p.of.item}`;
	const put = () => {
		const n = typed.trim() === "" ? p.mark : Number(typed);
		if (!Number.isSafeInteger(n) || n < 0) return say(t.badMark);
		overrule({ learner: p.of.learner, item: p.of.item, signal: p.signal, mark: n, note: note.trim() });
		setTyped("");
	};
	return (
		<div class="mark-own">
			<input
				class="mark-number"
				inputMode="numeric"
				value={typed}
				placeholder={String(p.mark)}
				aria-label={t.yours(what)}
				autocomplete="off"
				onInput={(e) => setTyped(e.currentTarget.value)}
			/>
			<input
				value={note}
				placeholder={t.note}
				aria-label={t.noteLabel(what)}
				autocomplete="off"
				onInput={(e) => setNote(e.currentTarget.value)}
			/>
			<Button label={t.overruleLabel(what)} onClick={put}>
				{t.overrule}
			</Button>
		</div>
	);
}
