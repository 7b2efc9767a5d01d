// The predictions of the session, and their files.

import { useRef, useState } from "preact/hooks";
import { say } from "../../desk";
import * as doc from "../../doc";
import { openFresh } from "../../keep/keep";
import { lesson } from "../../lesson";
import { w } from "../../words";
import { Button, download } from "../kit";
import { closed } from "../lesson/lock";
import { sureWords } from "./Answers";
import { fromDecimal } from "./line";
import { show } from "./state";
import { type Attempt, type AttemptRow, asFile, asTable, attempts, forget, kept, learner, readFile } from "./store";

const t = w.predict.list;
const mostBytes = 8 << 20;

export function Attempts() {
	const list = attempts.value;
	return (
		<section class="predict-list" aria-label={t.title}>
			<h3>{t.title}</h3>
			{!kept.value && <p>{t.notKept}</p>}
			{list.length === 0 ? <p>{t.none}</p> : <Table list={list} />}
			<div class="predict-files">
				<label>
					{t.learner}
					<input
						value={learner.value}
						autocomplete="off"
						aria-describedby="predict-learner-note"
						onInput={(e) => {
							learner.value = e.currentTarget.value;
						}}
					/>
				</label>
				<small id="predict-learner-note">{t.learnerNote}</small>
				<Button disabled={list.length === 0} onClick={() => save("json")}>
					{t.saveJson}
				</Button>
				<Button disabled={list.length === 0} onClick={() => save("csv")}>
					{t.saveCsv}
				</Button>
				<Opener />
				<Button class="quiet" disabled={list.length === 0} onClick={() => confirm(t.clearSure) && forget()}>
					{t.clear}
				</Button>
			</div>
		</section>
	);
}

function save(form: "json" | "csv") {
	const name = `${doc.docName.value || w.untitled} ${w.modes.predict.toLowerCase()}.${form}`.replace(
		/[\\/:*?"<>|]/g,
		"-",
	);
	if (form === "json") download(name, "application/json", asFile());
	else download(name, "text/csv;charset=utf-8", asTable());
}

/** Reads a file of predictions; it goes through the browser's own file dialog. */
function Opener() {
	const input = useRef<HTMLInputElement>(null);
	const read = async (file: File | undefined) => {
		if (!file) return;
		if (file.size > mostBytes) return say(t.tooBig);
		try {
			say(readFile(file.name, await file.text()).text);
		} catch {
			say(t.unreadable);
		}
	};
	return (
		<>
			<Button onClick={() => input.current?.click()}>{t.open}</Button>
			<input
				ref={input}
				type="file"
				accept=".json,application/json"
				hidden
				aria-label={t.open}
				onChange={(e) => {
					read(e.currentTarget.files?.[0]);
					e.currentTarget.value = "";
				}}
			/>
		</>
	);
}

function Table(p: { list: Attempt[] }) {
	const c = t.columns;
	return (
		<div class="predict-table">
			<table>
				<thead>
					<tr>
						{[c.at, c.script, c.row, c.sure, c.result].map((h) => (
							<th key={h} scope="col">
								{h}
							</th>
						))}
					</tr>
				</thead>
				<tbody>
					{[...p.list].reverse().map((a) => (
						<Rows key={`${a.at} ${a.file ?? ""}`} of={a} />
					))}
				</tbody>
			</table>
		</div>
	);
}

/** What came of a row. */
function came(r: AttemptRow): string {
	if (r.right) return w.predict.right;
	if (r.undrawn) return w.predict.notDrawn;
	const at = r.firstWrong === null ? undefined : fromDecimal(r.firstWrong);
	if (r.follows) return at === undefined ? w.mark.right.followOn : t.followOn(at);
	return at === undefined ? w.predict.wrong : t.firstWrong(at);
}

/** The lines of one attempt. */
function Rows(p: { of: Attempt }) {
	const { of } = p;
	const many = of.rows.length || 1;
	const about = [of.learner, of.file && t.from(of.file)].filter(Boolean).join(", ");
	return (
		<>
			{of.rows.map((r, i) => (
				<tr key={r.row} class={i === 0 ? "first" : ""}>
					{i === 0 && (
						<>
							<td rowSpan={many}>
								{t.clock(of.at)}
								{about && <small>{about}</small>}
								<Show of={of} />
							</td>
							<td rowSpan={many}>{of.script}</td>
						</>
					)}
					<td>{r.row}</td>
					<td>{sureWords(r.sure)}</td>
					<td>{came(r)}</td>
				</tr>
			))}
		</>
	);
}

/** Brings an attempt back onto the chart; one of another text needs that text first. */
function Show(p: { of: Attempt }) {
	const [busy, setBusy] = useState(false);
	const put = async () => {
		if (!(await show(p.of))) say(t.gone);
	};
	const go = async () => {
		if (closed.value) return say(w.files.lesson.closed); // it would show the answer
		if (p.of.text !== doc.text.value) {
			if (lesson && !lesson.editor) return say(t.otherLesson);
			const run = async () => {
				await openFresh({ name: p.of.circuit, text: p.of.text, mode: "predict" });
				await put();
			};
			return say(t.otherText, "note", { words: t.openText, run });
		}
		setBusy(true);
		await put();
		setBusy(false);
	};
	return (
		<Button disabled={busy} label={t.showLabel(p.of.script, p.of.at)} onClick={go}>
			{t.show}
		</Button>
	);
}
