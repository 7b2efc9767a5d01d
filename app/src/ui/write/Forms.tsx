// The small questions: a new tag, a label, a setting, a kind, a title.

import { useState } from "preact/hooks";
import { message, sheet } from "../../desk";
import { nameByTitle } from "../../keep/keep";
import type { Kind } from "../../protocol";
import { w } from "../../words";
import { Dialog } from "../kit";
import { changeAll, reason } from "./changes";
import { Field } from "./Field";
import { kinds, settingsOf } from "./kinds";
import { questionOf } from "./questions";
import { asking, type Form } from "./state";

export function FormDialog(p: { form: Form }) {
	// The question is put once: the circuit may change while the answer is on its way.
	const [q] = useState(() => questionOf(p.form));
	const [values, setValues] = useState(q.fields.map((x) => x.value));
	const [kind, setKind] = useState(q.kind);
	const [refused, setRefused] = useState("");
	const close = () => {
		if (asking.value?.name === "form" && asking.value.form === p.form) asking.value = null;
	};
	const save = async (e: Event) => {
		e.preventDefault();
		message.value = null;
		const changes = q.changes(
			values.map((v) => v.trim()),
			kind,
		);
		if (changes.length > 0 && (await changeAll(changes)) === undefined) return setRefused(reason());
		if (p.form.ask === "title") nameByTitle(sheet.value?.title ?? "");
		close();
	};
	const another = (k: Kind) => {
		setKind(k);
		setValues([settingsOf(k.usual, k)]);
	};
	return (
		<Dialog title={q.title} class="small-form" onClose={close}>
			<form onSubmit={save}>
				{refused && (
					<p class="refused" role="alert">
						{refused}
					</p>
				)}
				{kind && <KindField value={kind} onChange={another} />}
				{q.fields.map((x, i) => (
					<Field
						key={x.label}
						label={x.label}
						hint={x.hint}
						value={values[i] ?? ""}
						select
						focus={i === 0 && !kind}
						onInput={(v) => setValues(values.map((old, j) => (j === i ? v : old)))}
					/>
				))}
				<div class="row">
					<button type="submit" class="main">
						{w.write.form.save}
					</button>
				</div>
			</form>
		</Dialog>
	);
}

function KindField(p: { value: Kind; onChange(k: Kind): void }) {
	const groups = [...new Set(kinds.value.map((k) => k.group))];
	return (
		<div class="field">
			<label for="kind-field">{w.write.form.kindField}</label>
			<select
				id="kind-field"
				autofocus
				value={p.value.word}
				onChange={(e) => {
					const k = kinds.value.find((x) => x.word === e.currentTarget.value);
					if (k) p.onChange(k);
				}}
			>
				{groups.map((g) => (
					<optgroup key={g} label={w.write.pick.groupsOfKinds[g]}>
						{kinds.value
							.filter((k) => k.group === g)
							.map((k) => (
								<option key={k.word} value={k.word}>
									{k.word}
								</option>
							))}
					</optgroup>
				))}
			</select>
			<small>{p.value.about}</small>
		</div>
	);
}
