// The second step of a picker: the tag, the label and the settings of a device
// that is to be made, and which of its contacts is meant.

import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import { complain } from "../../desk";
import { call } from "../../engine";
import type { Kind } from "../../protocol";
import { w } from "../../words";
import { Button, Choice as Choose } from "../kit";
import { fullName, partOf, timedFirst } from "./candidates";
import { Field } from "./Field";
import { settingsOf } from "./kinds";
import { byFinger, type Choice, type Pick } from "./state";

const p = w.write.pick;

/** A tag that the engine suggests, and one number on if the same step has taken it already. */
async function freeTag(kind: Kind, taken: string[]): Promise<string> {
	let { tag } = await call("suggest", { kind: kind.word });
	for (let n = 0; taken.includes(tag) && n < 100; n++) tag = tag.replace(/\d*$/, (d) => String(Number(d || 0) + 1));
	return tag;
}

/** The contacts that a device would have: the engine completes a rung below its line. */
async function contactsOf(line: string, tag: string): Promise<string[]> {
	const text = `${line}\n1: ${tag}.`;
	const r = await call("complete", { text, at: text.length });
	return r.options.map((o) => partOf(o.text));
}

const inOrder = (kind: Kind, parts: string[]) => (kind.group === "timer" ? timedFirst(parts) : parts);

/** The names of a kind's contacts or loads; those of a selector hang on its settings. */
function useParts(kind: Kind, want: Pick["want"], tag: string, settings: string): string[] {
	const usual = want === "contact" ? inOrder(kind, kind.contacts) : want === "load" ? kind.loads : [];
	const [parts, setParts] = useState(usual);
	const asked = useRef(settings);
	useEffect(() => {
		if (asked.current === settings || want !== "contact" || !tag) return;
		const wait = setTimeout(() => {
			asked.current = settings;
			contactsOf(`${tag} ${kind.word} ${settings}`, tag)
				.then((found) => found.length > 0 && setParts(inOrder(kind, found)))
				.catch(complain);
		}, 200);
		return () => clearTimeout(wait);
	}, [settings, tag]);
	return parts;
}

/** What a filled-in form means. */
function choiceOf(pick: Pick, kind: Kind, tag: string, label: string, settings: string, part: string): Choice {
	const words = settings ? `${kind.word} ${settings}` : kind.word;
	const declare = label ? `${tag} ${words} "${label}"` : `${tag} ${words}`;
	return { name: pick.want === "device" ? tag : fullName(tag, part), declare, device: { tag, kind: words, label } };
}

export function NewDevice(props: { kind: Kind; pick: Pick; onBack(): void; onDone(c: Choice): void }) {
	const { kind, pick } = props;
	const usual = settingsOf(kind.usual, kind);
	const [tag, setTag] = useState("");
	const [label, setLabel] = useState("");
	const [settings, setSettings] = useState(usual);
	const parts = useParts(kind, pick.want, tag, settings);
	const [part, setPart] = useState("");
	const form = useRef<HTMLFormElement>(null);
	const chosen = parts.includes(part) ? part : (parts[0] ?? "");
	useEffect(() => {
		freeTag(kind, pick.taken ?? [])
			// It took a moment: what was typed meanwhile stays.
			.then((free) => setTag((typed) => typed || free))
			.catch(complain);
	}, []);
	// At once: a moment later the user may be in another field.
	useLayoutEffect(() => {
		const first = byFinger() ? undefined : form.current?.querySelector("input");
		(first ?? form.current)?.focus();
	}, []);
	const done = (e: Event) => {
		e.preventDefault();
		if (tag.trim()) props.onDone(choiceOf(pick, kind, tag.trim(), label.trim(), settings.trim(), chosen));
	};
	return (
		<form ref={form} class="new-device" tabIndex={-1} onSubmit={done}>
			<p>
				<b>{p.makeNew(kind.word)}</b> <small>{kind.about}</small>
			</p>
			<div class="fields">
				<Field label={p.tag} value={tag} onInput={setTag} select />
				<Field label={p.label} value={label} onInput={setLabel} hint={p.labelHint} />
				{usual && <Field label={p.settings} value={settings} onInput={setSettings} />}
			</div>
			{parts.length > 1 && (
				<Choose
					label={pick.want === "contact" ? p.whichContact : p.whichLoad}
					value={chosen}
					of={parts.map((x) => ({ value: x, words: fullName(tag, x) }))}
					onChange={(x) => setPart(x)}
				/>
			)}
			{pick.want === "contact" && p.contacts[chosen] && (
				<p class="hint" role="status">
					{p.isContact(fullName(tag, chosen), p.contacts[chosen])}
				</p>
			)}
			<div class="row">
				<button type="submit" class="main" disabled={!tag.trim()}>
					{pick.want === "device" ? p.add : p.put}
				</button>
				<Button onClick={props.onBack}>{p.back}</Button>
			</div>
		</form>
	);
}
