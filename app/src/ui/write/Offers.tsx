// The searchable list of a picker.

import { useEffect, useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";
import { complain, sheet } from "../../desk";
import * as doc from "../../doc";
import { call } from "../../engine";
import type { Device } from "../../protocol";
import { w } from "../../words";
import { type Abouts, fullName, type Offer, type OfferGroup, offersFor, partOf, search } from "./candidates";
import { kinds } from "./kinds";
import { byFinger, type Pick } from "./state";

const p = w.write.pick;

/** What the engine says of the timers' contacts: it completes a rung below each one's line. */
function useAbouts(wanted: boolean): Abouts {
	const [abouts, setAbouts] = useState<Abouts>({});
	useEffect(() => {
		const timers = wanted ? (sheet.value?.devices.filter((d) => d.function) ?? []) : [];
		const ask = async (d: Device) => {
			const line = `${doc.text.value.slice(d.from, d.to)}\n1: ${d.tag}.`;
			const r = await call("complete", { text: line, at: line.length });
			return r.options.map((o): [string, string] => [fullName(d.tag, partOf(o.text)), o.about]);
		};
		Promise.all(timers.map(ask))
			.then((found) => setAbouts(Object.fromEntries(found.flat().filter(([, about]) => about))))
			.catch(complain);
	}, []);
	return abouts;
}

function useOffers(pick: Pick): OfferGroup[] {
	const abouts = useAbouts(pick.want === "contact");
	return useMemo(() => offersFor(sheet.value, kinds.value, pick, abouts), [sheet.value, kinds.value, pick, abouts]);
}

/** Gives the focus to where it begins, and keeps the offer that is meant in sight. */
function useSight(start: { current: HTMLElement | null }, hereID: string | undefined) {
	// A dialog that opens gives the focus to what is marked for it; in one that is open it must be taken.
	useLayoutEffect(() => start.current?.focus(), []);
	useEffect(() => {
		if (hereID) document.getElementById(hereID)?.scrollIntoView({ block: "nearest" });
	}, [hereID]);
}

export function Offers(props: { pick: Pick; query: string; onQuery(q: string): void; onTake(o: Offer): void }) {
	const all = useOffers(props.pick);
	const groups = search(all, props.query);
	const flat = groups.flatMap((g) => g.offers);
	const [at, setAt] = useState(0);
	const field = useRef<HTMLInputElement>(null);
	const list = useRef<HTMLDivElement>(null);
	const here = flat[Math.min(at, flat.length - 1)];
	const hereID = here && `offer-${here.id}`;
	const finger = byFinger();
	useSight(finger ? list : field, hereID);
	const onKey = (e: KeyboardEvent) => {
		const next = moved(e.key, at, groups);
		if (next !== undefined) setAt(Math.max(0, Math.min(flat.length - 1, next)));
		else if (e.key === "Enter" && here) props.onTake(here);
		else return;
		e.preventDefault();
	};
	return (
		<>
			<input
				ref={field}
				autofocus={!finger}
				class="search"
				role="combobox"
				aria-expanded="true"
				aria-controls="offers"
				aria-autocomplete="list"
				aria-activedescendant={hereID}
				aria-label={p.search}
				placeholder={p.search}
				value={props.query}
				autocomplete="off"
				spellcheck={false}
				onInput={(e) => {
					props.onQuery(e.currentTarget.value);
					setAt(0);
				}}
				onKeyDown={onKey}
			/>
			<div
				ref={list}
				autofocus={finger}
				id="offers"
				class="offers"
				role="listbox"
				tabIndex={0}
				aria-label={p.list}
				aria-activedescendant={hereID}
				onKeyDown={onKey}
			>
				{groups.map((g) => (
					<Group key={g.id} group={g} hereID={hereID} onTake={props.onTake} />
				))}
			</div>
			{flat.length === 0 && <p role="status">{kinds.value.length === 0 ? p.waiting : p.none}</p>}
		</>
	);
}

/** Where a key leads in the list; undefined if it is none of the list's. */
function moved(key: string, at: number, groups: OfferGroup[]): number | undefined {
	if (key === "ArrowDown") return at + 1;
	if (key === "ArrowUp") return at - 1;
	if (key !== "PageDown" && key !== "PageUp") return undefined;
	let first = 0;
	let before = 0;
	for (const g of groups) {
		if (first + g.offers.length > at) return key === "PageDown" ? first + g.offers.length : before;
		before = first;
		first += g.offers.length;
	}
	return at;
}

function Group(props: { group: OfferGroup; hereID?: string; onTake(o: Offer): void }) {
	const g = props.group;
	return (
		// biome-ignore lint/a11y/useSemanticElements: a fieldset cannot stand in a listbox
		<div role="group" aria-label={g.title} class={g.chips ? "chips" : "lines"}>
			<div class="group-title" aria-hidden="true">
				{g.title}
			</div>
			<div role="presentation" class="group-offers">
				{g.offers.map((o) => (
					// biome-ignore lint/a11y/useKeyWithClickEvents: the field and the list take the keys
					<div
						key={o.id}
						id={`offer-${o.id}`}
						role="option"
						tabIndex={-1}
						class="offer"
						aria-selected={`offer-${o.id}` === props.hereID}
						onClick={() => props.onTake(o)}
					>
						<b>{o.words}</b>
						{o.about && <small>{o.about}</small>}
					</div>
				))}
			</div>
		</div>
	);
}
