// The library: finds a built-in circuit and puts a copy on the desk.

import { useEffect, useMemo, useState } from "preact/hooks";
import { complain } from "../../desk";
import { call } from "../../engine";
import { openFresh } from "../../keep/keep";
import type { LibraryEntry } from "../../protocol";
import { w } from "../../words";
import { Dialog } from "../kit";
import { Picture } from "./Picture";

/** The entries in which every word occurs: the one with that number first, then those with a hit in title or station. */
export function search(list: LibraryEntry[], asked: string): LibraryEntry[] {
	const words = asked.toLowerCase().split(/\s+/).filter(Boolean);
	if (words.length === 0) return list;
	const near = (e: LibraryEntry) => `${e.number} ${e.title} ${e.station}`.toLowerCase();
	const far = (e: LibraryEntry) => `${near(e)} ${e.name} ${e.aim} ${e.text}`.toLowerCase();
	const hits = list.filter((e) => words.every((x) => far(e).includes(x)));
	const rank = (e: LibraryEntry) =>
		words[0] === String(e.number) ? 0 : words.every((x) => near(e).includes(x)) ? 1 : 2;
	return [0, 1, 2].flatMap((r) => hits.filter((e) => rank(e) === r));
}

/** Puts a copy on the desk; the dialog closes first, so that its message is seen. */
function take(e: LibraryEntry, at: EventTarget | null) {
	(at as Element | null)?.closest("dialog")?.close();
	openFresh({ name: e.name, text: e.text, copy: true }).catch(complain);
}

function Entry(p: { entry: LibraryEntry }) {
	const e = p.entry;
	return (
		<li>
			<button type="button" class="library-entry" data-number={e.number} onClick={(ev) => take(e, ev.currentTarget)}>
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
						onKeyDown={(e) => {
							const first = asked.trim() && hits[0];
							if (e.key !== "Enter" || !first) return;
							e.preventDefault();
							take(first, e.currentTarget);
						}}
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
