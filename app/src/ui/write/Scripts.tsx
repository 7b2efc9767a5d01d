// The scripts of the file: play, rename, delete.

import { change, mode, sheet, start } from "../../desk";
import { w } from "../../words";
import { Button } from "../kit";
import { task } from "../mark/task";
import { asking } from "./state";

const s = w.write.scripts;

async function play(place: number) {
	mode.value = "run";
	window.scrollTo(0, 0);
	await start(place, true);
}

function rename(name: string) {
	asking.value = { name: "form", form: { ask: "script", name } };
}

/** What the scripts let pass, and better presses. */
function toTelling() {
	task.value = "tell";
	mode.value = "predict";
}

export function Scripts() {
	const list = sheet.value?.scripts ?? [];
	return (
		<details class="listing">
			<summary>
				{s.title} ({list.length})
			</summary>
			{list.length === 0 ? <p class="hint">{s.none}</p> : <Button onClick={toTelling}>{s.telling}</Button>}
			<ul>
				{list.map((x, i) => (
					<li key={x.name}>
						<span class="script-name">
							{x.name} <small>{s.ends(w.time.s(x.end))}</small>
						</span>
						<Button label={s.playOf(x.name)} onClick={() => play(i)}>
							{s.play}
						</Button>
						<Button label={s.renameOf(x.name)} onClick={() => rename(x.name)}>
							{s.rename}
						</Button>
						<Button label={s.removeOf(x.name)} onClick={() => change({ do: "delete-script", name: x.name })}>
							{s.remove}
						</Button>
					</li>
				))}
			</ul>
		</details>
	);
}
