// Pictures and records of the board as it stands, for other programs.

import { useState } from "preact/hooks";
import { frame, view } from "../../desk";
import { call } from "../../engine";
import type { FileMade } from "../../protocol";
import { w } from "../../words";
import { Button, bytes, Choice, download } from "../kit";
import { chosenRows } from "../run/picture";
import { reason } from "./state";

const t = w.print.pictures;
const widths = [800, 1600, 3200];

export function Pictures(p: { first?: "drawing" | "chart" | "frame"; inDialog?: boolean }) {
	const [what, setWhat] = useState(p.first ?? "drawing");
	const [form, setForm] = useState<"svg" | "png">("svg");
	const [width, setWidth] = useState(1600);
	const [told, setTold] = useState("");
	const at = frame.value?.now ?? 0;
	const save = async (ask: () => Promise<FileMade>) => {
		setTold(t.working);
		try {
			const f = await ask();
			download(f.name, f.type, bytes(f.data));
			setTold(w.print.saved(f.name));
		} catch (e) {
			setTold(reason(e));
		}
	};
	const picture = () =>
		call("export", {
			what,
			form,
			at,
			view: view.value,
			rows: what === "chart" ? chosenRows.value : [],
			width: form === "png" ? width : 0,
		});
	const of = <T extends string>(words: Record<T, string>) =>
		(Object.keys(words) as T[]).map((value) => ({ value, words: words[value] }));
	return (
		<section class="print-pictures" aria-label={t.title}>
			{!p.inDialog && <h3>{t.title}</h3>}
			<p>{t.lead(at)}</p>
			<div class="print-row">
				<Choice label={t.what} value={what} of={of(t.whats)} onChange={(v) => setWhat(v)} />
				<Choice label={t.form} value={form} of={of(t.forms)} onChange={(v) => setForm(v)} />
				{form === "png" && (
					<Choice
						label={t.width}
						value={width}
						of={widths.map((n) => ({ value: n, words: String(n) }))}
						onChange={(v) => setWidth(v)}
					/>
				)}
				<Button onClick={() => save(picture)}>{t.save}</Button>
			</div>
			<div class="print-row">
				<span>{t.record}</span>
				<Button onClick={() => save(() => call("record", { form: "csv" }))}>{t.csv}</Button>
				<Button onClick={() => save(() => call("record", { form: "vcd" }))}>{t.vcd}</Button>
			</div>
			<p role="status">{told}</p>
		</section>
	);
}
