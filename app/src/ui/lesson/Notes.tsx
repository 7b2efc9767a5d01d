// The notes of the circuit on the desk: what it teaches, what to try, what to
// say, what is easily got wrong. The engine reads them from the text.

import { sheet } from "../../desk";
import { lesson } from "../../lesson";
import { w } from "../../words";

type Word = "aim" | "try" | "say" | "trap";
const order: Word[] = ["aim", "try", "say", "trap"];
/** In a lesson these give answers away: the learner unfolds them. */
const later: Word[] = ["say", "trap"];

function Group(p: { word: Word; texts: string[] }) {
	const list =
		p.texts.length === 1 ? (
			<p>{p.texts[0]}</p>
		) : (
			<ul>
				{p.texts.map((t) => (
					<li key={t}>{t}</li>
				))}
			</ul>
		);
	if (lesson && later.includes(p.word)) {
		return (
			<details class={`note note-${p.word}`}>
				<summary>{w.files.notes[p.word]}</summary>
				{list}
			</details>
		);
	}
	return (
		<section class={`note note-${p.word}`} aria-label={w.files.notes[p.word]}>
			<h3>{w.files.notes[p.word]}</h3>
			{list}
		</section>
	);
}

/** All notes in a fold; in a lesson it stands open. Cautions stand at the head of the page. */
export function Notes() {
	const notes = sheet.value?.notes ?? [];
	const groups = order
		.map((word) => ({ word, texts: notes.filter((n) => n.word === word).map((n) => n.text) }))
		.filter((g) => g.texts.length > 0);
	if (groups.length === 0) return null;
	return (
		<details class="notes" open={lesson !== null}>
			<summary>{w.files.notes.title}</summary>
			<div class="notes-body">
				{groups.map((g) => (
					<Group key={g.word} word={g.word} texts={g.texts} />
				))}
			</div>
		</details>
	);
}
