// The library: finds a built-in circuit and puts a copy on the desk.

import { useEffect, useMemo, useState } from "preact/hooks";
import { complain } from "../../desk";
import { call } from "../../engine";
import { openFresh } from "../../keep/keep";
import type { LibraryEntry } from "../../protocol";
import { w } from "../../words";
import { Dialog } from "../kit";
import { Picture } from "./Picture";

/** The entries in which every word occurs, those with a hit in number, title or station first. */
export function search(list: LibraryEntry[], asked: string): LibraryEntry[] {
	const words = asked.toLowerCase().split(/\s+/).filter(Boolean);
	if (words.length === 0) return list;
	const near = (e: LibraryEntry) => `${e.number} ${e.title} ${e.station}`.toLowerCase();
	const far = (e: LibraryEntry) => `${near(e)} ${e.name} ${e.aim} ${e.text}`.toLowerCase();
	const hits = list.filter((e) => words.every((x) => far(e).includes(x)));
	const first = hits.filter((e) => words.every((x) => near(e).includes(x)));
	return [...first, ...hits.filter((e) => !first.includes(e))];
}

function Entry(p: { entry: LibraryEntry }) {
	const e = p.entry;
	return (
		<li>
			<button
				type="button"
				class="library-entry"
				data-number={e.number}
				onClick={(ev) => {
					ev.currentTarget.closest("dialog")?.close();
					openFresh({ name: e.name, text: e.text }).catch(complain);
				}}
			>
				<Picture text={e.text} label={w.files.picture(e.title)} />
				<span class="library-words">
					<strong>
						{e.number} · {e.title}
					</strong>
					<small>{e.station}</small>
					<span>{e.aim}</span>
				</span>
			</button>
		</li>
	);
}

/** The dialog puts the focus here when it opens. */
const focusFirst = (e: HTMLElement | null) => e?.setAttribute("autofocus", "");

export function Library(p: { onClose(): void }) {
	const [list, setList] = useState<LibraryEntry[]>([]);
	const [asked, setAsked] = useState("");
	useEffect(() => {
		call("library", {}).then(setList, complain);
	}, []);
	const hits = useMemo(() => search(list, asked), [list, asked]);
	return (
		<Dialog title={w.files.libraryTitle} onClose={p.onClose} class="library">
			<div class="library-search">
				<label>
					<span>{w.files.search}</span>
					<input
						type="search"
						ref={focusFirst}
						placeholder={w.files.searchHint}
						value={asked}
						onInput={(e) => setAsked(e.currentTarget.value)}
					/>
				</label>
				<p role="status">
					{list.length > 0 && (hits.length > 0 ? w.files.found(hits.length, list.length) : w.files.nothingFound)}
				</p>
			</div>
			<ul class="library-list">
				{hits.map((e) => (
					<Entry key={e.number} entry={e} />
				))}
			</ul>
			<p class="dialog-note">{w.files.libraryNote}</p>
		</Dialog>
	);
}
