// Keeping what the hands did as a script of the text.

import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { change, complain, say, sheet, start } from "../../desk";
import { call } from "../../engine";
import { w } from "../../words";
import { Button, Dialog } from "../kit";

/** A name that no script has yet. */
function freeName(): string {
	const taken = new Set(sheet.value?.scripts.map((s) => s.name));
	const usual = w.run.scripts.usualName;
	let name = usual;
	for (let n = 2; taken.has(name); n++) name = `${usual} ${n}`;
	return name;
}

async function keep(name: string, replaces: boolean): Promise<boolean> {
	try {
		const made = await call("recording", { name });
		const text = made.lines.join("\n");
		const done = await change({ do: "keep-script", name, text, ...(replaces ? { replace: name } : {}) });
		if (done === undefined) return false;
	} catch (e) {
		complain(e);
		return false;
	}
	const place = sheet.value?.scripts.findIndex((s) => s.name === name) ?? -1;
	say(w.run.scripts.kept(name), "note", { words: w.run.scripts.play, run: () => start(place, true) });
	return true;
}

export function Keep(p: { onClose(): void }) {
	const s = w.run.scripts;
	const name = useSignal(freeName());
	const lines = useSignal<string[]>([]);
	useEffect(() => {
		call("recording", { name: s.usualName })
			.then((r) => {
				lines.value = r.lines;
			})
			.catch(complain);
	}, []);
	const wanted = name.value.trim();
	const replaces = sheet.value?.scripts.some((x) => x.name === wanted) ?? false;
	return (
		<Dialog title={s.keepTitle} onClose={p.onClose} class="keep">
			<form
				onSubmit={async (e) => {
					e.preventDefault();
					if (wanted && (await keep(wanted, replaces))) p.onClose();
				}}
			>
				<p>{s.keepAbout}</p>
				<label>
					{s.name}
					<input
						type="text"
						autocomplete="off"
						value={name.value}
						onInput={(e) => {
							name.value = e.currentTarget.value;
						}}
					/>
				</label>
				{replaces && <p class="warn">{s.replaces}</p>}
				<pre>{lines.value.length > 0 ? lines.value.join("\n") : s.nothing}</pre>
				<Button type="submit" class="main" disabled={!wanted}>
					{s.ok}
				</Button>
			</form>
		</Dialog>
	);
}
