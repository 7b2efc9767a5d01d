// The small questions as data: their fields, and the changes that an answer means.

import { sheet } from "../../desk";
import type { Change, Device, Kind } from "../../protocol";
import { w } from "../../words";
import { kindOf, settingsOf } from "./kinds";
import type { Form } from "./state";

const f = w.write.form;

export interface Question {
	title: string;
	fields: { label: string; value: string; hint?: string }[];
	/** Of a kind: it is chosen before the fields. */
	kind?: Kind;
	changes(values: string[], kind?: Kind): Change[];
}

function setting(d: Device): Question {
	const names = f.settings[d.function] ?? f.settingUsual;
	const old = d.presets.filter((n) => n > 0).map(w.write.span);
	return {
		title: f.setting(d.tag),
		fields: old.map((value, i) => ({ label: names[i] ?? "", value, hint: i === 0 ? f.settingHint : undefined })),
		changes: (v) =>
			v.flatMap((text, i) => (text === old[i] ? [] : [{ do: "preset", tag: d.tag, which: i as 0 | 1, text }])),
	};
}

function kindQuestion(d: Device): Question {
	const kind = kindOf(d.words);
	return {
		title: f.kind(d.tag),
		kind,
		fields: [{ label: w.write.pick.settings, value: kind ? settingsOf(d.words, kind) : d.words }],
		changes: ([settings = ""], k) => [{ do: "kind", tag: d.tag, kind: `${k?.word ?? ""} ${settings}`.trim() }],
	};
}

function title(): Question {
	const old = [sheet.value?.title ?? "", sheet.value?.station ?? ""];
	return {
		title: f.title,
		fields: [
			{ label: f.titleField, value: old[0] ?? "" },
			{ label: f.station, value: old[1] ?? "" },
		],
		changes: (v) =>
			["circuit", "station"].flatMap((word, i) => (v[i] === old[i] ? [] : [{ do: "head", word, text: v[i] }])),
	};
}

export function questionOf(form: Form): Question {
	if (form.ask === "title") return title();
	if (form.ask === "script") {
		return {
			title: w.write.scripts.renameOf(form.name),
			fields: [{ label: w.write.scripts.nameField, value: form.name }],
			changes: ([v]) => [{ do: "rename-script", name: form.name, new: v }],
		};
	}
	const d = form.device;
	if (form.ask === "setting") return setting(d);
	if (form.ask === "kind") return kindQuestion(d);
	if (form.ask === "rename") {
		return {
			title: f.rename(d.tag),
			fields: [{ label: f.renameField, value: d.tag, hint: f.renameHint }],
			changes: ([v]) => (v === d.tag ? [] : [{ do: "rename", tag: d.tag, new: v }]),
		};
	}
	return {
		title: f.label(d.tag),
		fields: [{ label: f.labelField, value: d.label }],
		changes: ([v]) => (v === d.label ? [] : [{ do: "label", tag: d.tag, text: v }]),
	};
}
