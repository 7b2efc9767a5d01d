// Under the revealed answer: how each row comes by its mark, what may be
// behind it, and the press with which that can be looked into.

import { effect, untracked } from "@preact/signals";
import { sheet } from "../../desk";
import { text } from "../../doc";
import type { Fit, Nanos, RowMark } from "../../protocol";
import { w } from "../../words";
import { Button } from "../kit";
import { decimal } from "../predict/line";
import { answered } from "../predict/state";
import { edgesOf, noteFollows } from "../predict/store";
import { marked, press, tryPress } from "./marked";

const t = w.mark;

export const rowMark = (row: string): RowMark | undefined => marked.value?.rows.find((r) => r.row === row);

/** Every wrong edge of the row only follows one of another row. */
export const followsOnly = (row: string): boolean => {
	const edges = rowMark(row)?.edges ?? [];
	return edges.length > 0 && edges.every((e) => e.follows);
};

/** What stands behind the first difference of a row, which was told already, and its points. */
export function RowMarks(p: { row: string; said: string; at: Nanos }) {
	const m = rowMark(p.row);
	if (!m) return null;
	const rest = m.edges.filter((e) => e.words !== p.said && e.at !== p.at);
	return (
		<>
			{rest.length > 0 && (
				<ul class="mark-edges">
					{rest.map((e) => (
						<li key={e.words}>
							<b>{e.follows ? t.right.follows : t.right.also}</b> {e.words}
						</li>
					))}
				</ul>
			)}
			<p class="mark-points">{m.words}</p>
		</>
	);
}

/** Ideas, each once with what it believes, and how much they explain. */
export function Fits(p: { of: Fit[] }) {
	const told = new Set<string>();
	const fresh = (id: string) => !told.has(id) && told.add(id);
	return (
		<ul class="mark-fits">
			{p.of.map((f) => (
				<li key={f.readings.map((r) => r.id).join()}>
					{f.readings.map((r) => (
						<p key={r.id}>
							<b>“{r.name}”</b> {fresh(r.id) && r.belief}
						</p>
					))}
					<p>{f.words}</p>
				</li>
			))}
		</ul>
	);
}

export function Diagnosis() {
	const m = marked.value;
	if (!m) return <p class="waking">{t.working}</p>;
	const fits = m.fits.filter((f) => f.explains);
	const near = m.fits.filter((f) => !f.explains);
	const ideas = new Set(fits.flatMap((f) => f.readings.map((r) => r.id)));
	return (
		<section class="mark-behind" aria-label={t.behind.title}>
			<h3>{t.behind.title}</h3>
			<p class="mark-text" role="status">
				{m.text} <small>{t.behind.points(m.points, m.of)}</small>
			</p>
			{fits.length > 0 && <Fits of={fits} />}
			{near.length > 0 && m.points < m.of && (
				<details>
					<summary>{t.behind.near}</summary>
					<Fits of={near} />
				</details>
			)}
			{fits.length > 0 && <small>{t.behind.hint}</small>}
			<NextPress several={ideas.size > 1} />
		</section>
	);
}

function NextPress(p: { several: boolean }) {
	const found = press.value;
	if (found === null) return null;
	if (found === undefined) return <p class="waking">{t.behind.looking}</p>;
	return (
		<div class="mark-next">
			<h4>{p.several ? t.behind.nextApart : t.behind.next}</h4>
			{found.none ? (
				<p>
					{!p.several && found.case} {found.none}
				</p>
			) : (
				<>
					<p>{found.words}</p>
					<Button class="main" onClick={() => tryPress(found)}>
						{t.behind.tryIt}
					</Button>
				</>
			)}
		</div>
	);
}

// Rows that only follow are no errors of their own: the list of predictions says so too.
effect(() => {
	const m = marked.value;
	if (!m) return;
	untracked(() => {
		const { script, given, tolerance } = answered();
		const of = {
			text: text.value,
			script: sheet.value?.scripts[script]?.name ?? "",
			tolerance: decimal(tolerance),
			rows: given.map((g) => ({ row: g.row, start: g.start, edges: edgesOf(g) })),
		};
		noteFollows(of, m.rows.map((r) => r.row).filter(followsOnly));
	});
});
