// The dialog behind "File": this work, other files, and what is kept on this
// machine.

import { useState } from "preact/hooks";
import { complain, mayWrite, say } from "../../desk";
import { docName } from "../../doc";
import {
	copyChanged,
	downloadWork,
	openWork,
	presentWork,
	recentWorks,
	removeWork,
	worksChanged,
} from "../../keep/keep";
import { seemsHeld } from "../../keep/tabs";
import { called, type Listed, type Work } from "../../keep/works";
import { w } from "../../words";
import { Button, Dialog } from "../kit";
import { askPicture } from "../print/PictureDialog";
import { askOpen, openNew, save, saveAs, savesInPlace } from "./disk";
import { FileState } from "./State";

/** Does something and closes the dialog first, so that its message is seen. */
function Then(p: { run(): unknown; words: string }) {
	return (
		<Button
			onClick={(e) => {
				e.currentTarget.closest("dialog")?.close();
				Promise.resolve(p.run()).catch(complain);
			}}
		>
			{p.words}
		</Button>
	);
}

function Name() {
	const [name, setName] = useState(docName.value);
	const wanted = name.trim();
	return (
		<form
			class="file-name"
			onSubmit={(e) => {
				e.preventDefault();
				if (!wanted) return;
				docName.value = wanted;
				say(w.files.renamed(wanted));
			}}
		>
			<label>
				<span>{w.files.name}</span>
				<input value={name} maxLength={80} onInput={(e) => setName(e.currentTarget.value)} />
			</label>
			<button type="submit" disabled={!wanted || wanted === docName.value}>
				{w.files.rename}
			</button>
		</form>
	);
}

export function FileDialog(p: { onClose(): void }) {
	return (
		<Dialog title={w.files.fileTitle} onClose={p.onClose} class="file-dialog">
			<section aria-label={w.files.thisWork}>
				<h3>{w.files.thisWork}</h3>
				<Name />
				<div class="file-buttons">
					<Then run={save} words={w.files.save} />
					{savesInPlace && <Then run={saveAs} words={w.files.saveAs} />}
					<Then run={downloadWork} words={w.files.download} />
					<Then run={askPicture} words={w.files.savePicture} />
				</div>
				<p class="dialog-note">
					<FileState /> {savesInPlace ? w.files.saveHow : w.files.downloadHow}
				</p>
			</section>
			{mayWrite.value && (
				<section aria-label={w.files.other}>
					<h3>{w.files.other}</h3>
					<div class="file-buttons">
						<Then run={openNew} words={w.files.fresh} />
						<Then run={askOpen} words={w.files.open} />
						<small>{w.files.dropHere}</small>
					</div>
				</section>
			)}
			<Recent />
		</Dialog>
	);
}

function Recent() {
	worksChanged.value;
	const works = recentWorks();
	return (
		<section aria-label={w.files.recent}>
			<h3>{w.files.recent}</h3>
			{works.length === 0 && <p class="dialog-note">{w.files.recentNone}</p>}
			<ul class="recent">
				{works.map((l) => (
					<li key={l.id}>{l.newer ? <Newer of={l} /> : <Kept work={l.work} />}</li>
				))}
			</ul>
		</section>
	);
}

const when = (at: number) => w.files.when(new Date(at), new Date());

function Newer(p: { of: Listed }) {
	return (
		<p class="recent-newer">
			{w.files.newerWork} · {when(p.of.at)}
		</p>
	);
}

function Kept(p: { work: Work }) {
	const [asking, setAsking] = useState(false);
	const name = called(p.work);
	const present = p.work.id === presentWork();
	const changed = present ? copyChanged() : p.work.changed;
	const state = present ? w.files.present : seemsHeld(p.work.id) && w.files.elsewhere;
	const words = [p.work.name, changed && w.files.copyChanged, when(p.work.at), state];
	return (
		<>
			<button
				type="button"
				class="recent-open"
				disabled={present}
				onClick={(e) => {
					e.currentTarget.closest("dialog")?.close();
					openWork(p.work.id).catch(complain);
				}}
			>
				<strong>{name}</strong>
				<small>{words.filter(Boolean).join(" · ")}</small>
			</button>
			{!present && (
				<Button
					class="recent-remove"
					aria-label={asking ? w.files.reallyRemove : w.files.removeNamed(name)}
					onClick={() => (asking ? removeWork(p.work) : setAsking(true))}
					onBlur={() => setAsking(false)}
				>
					{asking ? w.files.reallyRemove : w.files.remove}
				</Button>
			)}
		</>
	);
}
