// What is not right with the text: place, reason, way out.

import { computed } from "@preact/signals";
import { sheet } from "../../desk";
import * as doc from "../../doc";
import type { Diagnostic } from "../../protocol";
import { w } from "../../words";
import { Button } from "../kit";
import { goToPlace } from "./link";

const f = w.write.faults;

/** Lets the engine's own cure be made, as one step of the history. */
export function mend(d: Diagnostic) {
	if (d.fix && d.fix.to <= doc.text.value.length) doc.edit([d.fix]);
}

const lines = computed(() => {
	const text = doc.text.value;
	const starts = [0];
	for (let i = text.indexOf("\n"); i >= 0; i = text.indexOf("\n", i + 1)) starts.push(i + 1);
	return starts;
});

function lineOf(at: number): number {
	const next = lines.value.findIndex((start) => start > at);
	return next < 0 ? lines.value.length : next;
}

function Fault(p: { of: Diagnostic }) {
	const d = p.of;
	return (
		<li class={`grade-${d.grade}`}>
			<button type="button" class="quiet place" onClick={() => goToPlace(d.from, d.to)}>
				<b>{f.grades[d.grade]}</b> {f.line(lineOf(d.from))}
			</button>
			<p>
				{d.summary}. {d.detail}
			</p>
			{d.fix && <Button onClick={() => mend(d)}>{d.fix.label || f.fix}</Button>}
		</li>
	);
}

export function Faults() {
	const list = sheet.value?.diagnostics ?? [];
	return (
		<section class="faults" aria-label={f.title}>
			{list.length === 0 ? <p class="hint">{f.none}</p> : <h3>{f.title}</h3>}
			<ul>
				{list.map((d) => (
					<Fault key={`${d.code}-${d.from}-${d.summary}`} of={d} />
				))}
			</ul>
		</section>
	);
}
