// The head of a lesson: its title, and the way through its circuits.

import { complain } from "../../desk";
import { lesson, lessonAt } from "../../lesson";
import { w } from "../../words";
import { Button } from "../kit";
import { beginAgain, goCircuit, seen } from "./course";

const go = (at: number) => void goCircuit(at).catch(complain);

/** The title in a circuit's text, without asking the engine about each. */
function titleOf(text: string, name: string): string {
	return /^\s*circuit\s+"((?:[^"\\]|\\.)*)"/m.exec(text)?.[1] || name;
}

function Choose() {
	if (!lesson) return null;
	return (
		<label class="lesson-choose">
			<span class="unseen">{w.files.lesson.circuit}</span>
			<select value={lessonAt.value} onChange={(e) => go(Number(e.currentTarget.value))}>
				{lessonAt.value < 0 && <option value={-1}>{w.files.lesson.other}</option>}
				{lesson.circuits.map((c, i) => (
					<option key={`${i}-${c.name}`} value={i}>
						{i + 1} · {titleOf(c.text, c.name)}
						{seen.value.includes(i) && i !== lessonAt.value ? ` (${w.files.lesson.seen})` : ""}
					</option>
				))}
			</select>
		</label>
	);
}

export function LessonHead() {
	if (!lesson) return null;
	const at = lessonAt.value;
	const last = lesson.circuits.length - 1;
	return (
		<section class="lesson-head" aria-label={w.files.lesson.label}>
			<h2>{lesson.title || w.files.lesson.label}</h2>
			<div class="lesson-way">
				{last > 0 && (
					<>
						<Button label={w.files.lesson.back} disabled={at <= 0} onClick={() => go(at - 1)}>
							{w.files.lesson.backShort}
						</Button>
						<Choose />
						<Button label={w.files.lesson.next} disabled={at >= last} onClick={() => go(at + 1)}>
							{w.files.lesson.nextShort}
						</Button>
						<small>{at >= 0 && w.files.lesson.which(at + 1, last + 1)}</small>
					</>
				)}
				<Button class="quiet" disabled={at < 0} onClick={() => void beginAgain().catch(complain)}>
					{w.files.lesson.afresh}
				</Button>
			</div>
		</section>
	);
}
