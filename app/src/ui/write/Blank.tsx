// The start of an empty circuit: a title, the supply, and the first rung.

import { computed, useSignal } from "@preact/signals";
import { settleText, sheet } from "../../desk";
import * as doc from "../../doc";
import { nameByTitle } from "../../keep/keep";
import { w } from "../../words";
import { Button } from "../kit";
import { addDevice, addRung } from "./ask";
import { changeAll, edit } from "./changes";
import { Field } from "./Field";
import { byFinger, leaf } from "./state";

const b = w.write.blank;

/** Nothing is there to be drawn yet. */
export const isBlank = computed(() => {
	const s = sheet.value;
	return s !== null && s.devices.length === 0 && s.rungs.length === 0;
});

/** Writes the head of the text if there is none, and the title that was typed. */
async function begin(title: string, supply: string): Promise<boolean> {
	if (doc.text.value.trim() === "") {
		const text = `circuit "${b.titleValue}"\nsupply ${supply.trim()}\n`;
		const done = await edit(async (old) => ({ edits: [{ from: 0, to: old.length, text }] }));
		if (!done) return false;
		await settleText();
	}
	if (title.trim() === "" || title.trim() === sheet.value?.title) return true;
	if ((await changeAll([{ do: "head", word: "circuit", text: title.trim() }])) === undefined) return false;
	nameByTitle(title.trim());
	return true;
}

/** Leaving the field and pressing a button come close together: one after the other. */
let under: Promise<unknown> = Promise.resolve();
function inTurn(title: string, supply: string): Promise<boolean> {
	const next = under.then(() => begin(title, supply));
	under = next;
	return next;
}

export function Blank() {
	const title = useSignal(sheet.value?.title || b.titleValue);
	const supply = useSignal(b.supplyValue);
	const empty = doc.text.value.trim() === "";
	const after = (then: () => void) => async (e: Event) => {
		e.preventDefault();
		if (await inTurn(title.value, supply.value)) then();
	};
	// What was typed stands, wherever the user goes next.
	const take = () => {
		if (title.value.trim() !== (sheet.value?.title || b.titleValue)) void inTurn(title.value, supply.value);
	};
	return (
		<form class="blank" onSubmit={after(() => addRung(-2))}>
			<h2>{b.title}</h2>
			<p>{b.lead}</p>
			<div class="fields">
				<Field
					label={b.titleField}
					value={title.value}
					focus={!byFinger()}
					select
					onLeave={take}
					onInput={(v) => {
						title.value = v;
					}}
				/>
				{empty && (
					<Field
						label={b.supplyField}
						value={supply.value}
						onInput={(v) => {
							supply.value = v;
						}}
					/>
				)}
			</div>
			<div class="row">
				<button type="submit" class="main">
					{b.first}
				</button>
				<Button onClick={after(addDevice)}>{w.write.strip.addDevice}</Button>
				<Button
					class="quiet narrow-only"
					onClick={() => {
						leaf.value = "text";
					}}
				>
					{b.orText}
				</Button>
			</div>
		</form>
	);
}
