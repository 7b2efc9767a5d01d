// Under the revealed answer: how each row comes by its mark, what may be
// behind it, and the press with which that can be looked into.

import type { RowMark } from "../../protocol";
import { w } from "../../words";
import { Button } from "../kit";
import { marked, press, tryPress } from "./marked";

const t = w.mark;

export const rowMark = (row: string): RowMark | undefined => marked.value?.rows.find((r) => r.row === row);

/** Every wrong edge of the row only follows one of another row. */
export const followsOnly = (row: string): boolean => {
	const edges = rowMark(row)?.edges ?? [];
	return edges.length > 0 && edges.every((e) => e.follows);
};

/** What stands behind the first difference of a row, and its points. */
export function RowMarks(p: { row: string; said: string }) {
	const m = rowMark(p.row);
	if (!m) return null;
	const rest = m.edges.filter((e) => e.words !== p.said);
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

export function Diagnosis() {
	const m = marked.value;
	if (!m) return <p class="waking">{t.working}</p>;
	const fits = m.fits.filter((f) => f.explains);
	const near = m.fits.filter((f) => !f.explains);
	return (
		<section class="mark-behind" aria-label={t.behind.title}>
			<h3>{t.behind.title}</h3>
			<p class="mark-text" role="status">
				{m.text} <small>{t.behind.points(m.points, m.of)}</small>
			</p>
			<ul class="mark-fits">
				{fits.map((f) => (
					<li key={f.words}>{f.words}</li>
				))}
			</ul>
			{near.length > 0 && m.points < m.of && (
				<details>
					<summary>{t.behind.near}</summary>
					<ul class="mark-fits">
						{near.map((f) => (
							<li key={f.words}>{f.words}</li>
						))}
					</ul>
				</details>
			)}
			{fits.length > 0 && <small>{t.behind.hint}</small>}
			<NextPress />
		</section>
	);
}

function NextPress() {
	const p = press.value;
	if (p === null) return null;
	if (p === undefined) return <p class="waking">{t.behind.looking}</p>;
	return (
		<div class="mark-next">
			<h4>{t.behind.next}</h4>
			{p.none ? (
				<p>
					{p.case} {p.none}
				</p>
			) : (
				<>
					<p>{p.words}</p>
					<Button class="main" onClick={() => tryPress(p)}>
						{t.behind.tryIt}
					</Button>
				</>
			)}
		</div>
	);
}
