// All keys of the desk. Each area keeps its own in its words.

import { mayWrite } from "../../desk";
import { w } from "../../words";
import { Dialog } from "../kit";

type KeyWords = [string, string][];
const of = (area: unknown) => (area as { keys?: KeyWords }).keys ?? [];

function groups(): { title: string; keys: KeyWords }[] {
	const g = w.look.groups;
	const all = [
		{ title: g.run, keys: of(w.run) },
		{ title: g.write, keys: mayWrite.value ? of(w.write) : [] },
		{ title: g.predict, keys: of(w.predict) },
		{ title: g.files, keys: mayWrite.value ? w.files.keys : [] },
		{ title: g.common, keys: w.look.common },
	];
	return all.filter((x) => x.keys.length > 0);
}

export function Keys(p: { onClose(): void }) {
	return (
		<Dialog title={w.look.keysTitle} onClose={p.onClose} class="keys-dialog">
			{groups().map((g) => (
				<table key={g.title} class="keys">
					<caption>{g.title}</caption>
					<thead class="unseen">
						<tr>
							<th scope="col">{w.look.key}</th>
							<th scope="col">{w.look.does}</th>
						</tr>
					</thead>
					<tbody>
						{g.keys.map(([key, words]) => (
							<tr key={key}>
								<th scope="row">
									<kbd>{key}</kbd>
								</th>
								<td>{words}</td>
							</tr>
						))}
					</tbody>
				</table>
			))}
		</Dialog>
	);
}
