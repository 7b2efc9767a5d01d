// Where the work on the desk is kept, in words.

import { docName, text } from "../../doc";
import { copyChanged, keeping } from "../../keep/keep";
import { inFile } from "../../keep/place";
import { w } from "../../words";

export function FileState() {
	const place = inFile.value;
	const same = place?.text === text.value;
	const changed = !place && copyChanged();
	return (
		<span class={`file-state state-${keeping.value}`}>
			{w.files.state[keeping.value]}
			{place && `, ${same ? w.files.inFile(place.name) : w.files.changed(place.name)}`}
			{changed && `, ${w.files.copyChanged}`}.
		</span>
	);
}

/** The cell of the title block. */
export function StateCell() {
	return (
		<section class="cell state" aria-label={w.files.stateLabel}>
			<span class="file-title">{docName.value}</span>
			<FileState />
		</section>
	);
}
