// The notes of the circuit on the desk: what it teaches, what to try, what to
// say, what is easily got wrong. The engine reads them from the text.

import { mayWrite, sheet } from "../../desk";
import { lesson } from "../../lesson";
import { w } from "../../words";
import { unrevealed } from "./lock";

type Word = "aim" | "try" | "say" | "trap";
const order: Word[] = ["aim", "try", "say", "trap"];
/** In a lesson this gives answers away: the learner unfolds it, and before the reveal it isn't there. */
const later: Word = "trap";

/** Whether a note is for whoever reads this page: a learner gets none of the teacher's, nor what can't be done here. */
function fits(word: Word, text: string): boolean {
	if (!lesson) return true;
	if (word === "say") return false;
	if (word === "trap") return !unrevealed.value;
	return word !== "try" || mayWrite.value || !w.files.notes.needsWrite.test(text);
}

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
	if (lesson && p.word === later) {
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

/** All notes in a fold; in a lesson it stands open where there is room. Cautions stand at the head of the page. */
export function Notes(p: { folded?: boolean }) {
	const notes = sheet.value?.notes ?? [];
	const groups = order
		.map((word) => ({ word, texts: notes.filter((n) => n.word === word && fits(word, n.text)).map((n) => n.text) }))
		.filter((g) => g.texts.length > 0);
	if (groups.length === 0) return null;
	return (
		<details class="notes" open={lesson !== null && !p.folded}>
			<summary>{w.files.notes.title}</summary>
			<div class="notes-body">
				{groups.map((g) => (
					<Group key={g.word} word={g.word} texts={g.texts} />
				))}
			</div>
		</details>
	);
}
