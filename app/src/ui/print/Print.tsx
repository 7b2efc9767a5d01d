// Print: the set of sheets for a lesson, as it comes out of the printer.

import type { Signal } from "@preact/signals";
import { useState } from "preact/hooks";
import { sheet } from "../../desk";
import { call } from "../../engine";
import { w } from "../../words";
import { Button, bytes, Choice, download } from "../kit";
import { Pages } from "./Pages";
import { Pictures } from "./Pictures";
import {
	author,
	choosePart,
	college,
	date,
	drawing,
	keepHeader,
	offered,
	paper,
	parts,
	printed,
	problem,
	reason,
	request,
	script,
} from "./state";

const t = w.print;

export function Print() {
	return (
		<div class="print">
			<div class="print-form">
				<header>
					<h2>{t.title}</h2>
					<p>{t.lead}</p>
				</header>
				<Parts />
				<Header />
				<Out />
			</div>
			{printed.value && <Pages printed={printed.value} stale={drawing.value} />}
			<Pictures />
		</div>
	);
}

function Parts() {
	const all = () => {
		parts.value = offered.value.map((p) => p.name);
	};
	const none = () => {
		parts.value = [];
	};
	return (
		<fieldset class="print-parts">
			<legend>{t.parts}</legend>
			{offered.value.map((p) => (
				<label key={p.name}>
					<input
						type="checkbox"
						checked={parts.value.includes(p.name)}
						onChange={(e) => choosePart(p.name, e.currentTarget.checked)}
					/>
					{p.words}
				</label>
			))}
			<div class="print-row">
				<Button class="quiet" onClick={all}>
					{t.all}
				</Button>
				<Button class="quiet" onClick={none}>
					{t.none}
				</Button>
			</div>
		</fieldset>
	);
}

function Field(p: { label: string; of: Signal<string>; onChange?(): void }) {
	return (
		<label>
			{p.label}
			<input
				value={p.of.value}
				autocomplete="off"
				maxLength={120}
				onInput={(e) => {
					p.of.value = e.currentTarget.value;
				}}
				onChange={p.onChange}
			/>
		</label>
	);
}

/** What stands on every sheet, and on which paper. */
function Header() {
	const scripts = sheet.value?.scripts ?? [];
	return (
		<div class="print-header">
			{scripts.length > 0 && (
				<label>
					{t.script}
					<select
						value={script.value}
						onChange={(e) => {
							script.value = Number(e.currentTarget.value);
						}}
					>
						{scripts.map((s, i) => (
							<option key={s.name} value={i}>
								{s.name}
							</option>
						))}
						{scripts.length > 1 && <option value={-1}>{t.allScripts}</option>}
					</select>
				</label>
			)}
			<Field label={t.college} of={college} onChange={keepHeader} />
			<Field label={t.author} of={author} onChange={keepHeader} />
			<Field label={t.date} of={date} />
			<Choice
				label={t.paper}
				value={paper.value}
				of={(["a4", "letter"] as const).map((v) => ({ value: v, words: t.papers[v] }))}
				onChange={(v) => {
					paper.value = v;
				}}
			/>
			<small>
				{t.kept} {t.lookNote}
			</small>
		</div>
	);
}

/** The two ways out, and how far the pages are. */
function Out() {
	const [told, setTold] = useState("");
	const [busy, setBusy] = useState(false);
	const ready = !drawing.value && !busy && (printed.value?.pages.length ?? 0) > 0;
	const pdf = async () => {
		setBusy(true);
		setTold(t.making);
		try {
			const f = await call("pdf", request());
			download(f.name, f.type, bytes(f.data));
			setTold(t.saved(f.name));
		} catch (e) {
			const why = reason(e);
			setTold(why && t.failed(why));
		} finally {
			setBusy(false);
		}
	};
	const state = drawing.value
		? t.working
		: problem.value || t.pages(printed.value?.pages.length ?? 0, parts.value.length);
	return (
		<div class="print-out">
			<Button class="main" disabled={!ready} onClick={() => window.print()}>
				{t.print}
			</Button>
			<Button disabled={!ready} onClick={pdf}>
				{t.pdf}
			</Button>
			<p role="status" class={problem.value && !drawing.value ? "problem" : ""}>
				{state} {told}
			</p>
			{printed.value?.remark && <p>{printed.value.remark}</p>}
			<small>{t.printHint}</small>
		</div>
	);
}
