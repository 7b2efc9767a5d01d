// What stands on the desk when it opens.

import { complain, ready, say } from "./desk";
import { call } from "./engine";
import { newerKept, openFresh, openWork, tell, watchDesk, workToResume } from "./keep/keep";
import { beginLook } from "./keep/look";
import { drop, readRecord, write } from "./keep/store";
import { called, type Work } from "./keep/works";
import { lesson, lessonUnread, openedOn } from "./lesson";
import { takeDrops } from "./ui/files/drop";
import { beginLesson } from "./ui/lesson/course";
import { loadFonts } from "./ui/look/fonts";
import { loadKinds } from "./ui/write/kinds";
import { w } from "./words";

/** The library circuit of a first visit: horn, then a window in which the belt may start. */
const firstCircuit = 8;

export async function begin() {
	beginLook();
	watchDesk();
	takeDrops();
	try {
		if (lesson) await beginLesson();
		else await beginDesk();
	} catch (e) {
		complain(e);
	}
	if (!ready.value) return;
	loadFonts();
	// Whoever types faster than it comes would find nothing.
	loadKinds();
}

// A teacher who opens the desk expects what stood on it: after a reload or a
// crash the very same board, silently; on another day the work that was last
// under way, with a word of which it is, since a college PC has many users,
// and with a way to the library. A second tab beside an open one gets the
// latest work that no tab holds, so nothing is ever in two places. A first
// visit gets a library circuit that shows at once what the desk is for.
async function beginDesk() {
	let skipped: Work | undefined;
	const found = await workToResume((x) => {
		if (failedStarts(x.id) < 2) return true;
		skipped = x;
		return false;
	});
	const over = found ? countStart(found.work.id) : () => {};
	await putWork(found);
	over();
	if (skipped) tell(w.files.skipped(called(skipped)));
}

// A work that the desk can't get to the end of opening must not be in its way
// for ever: after two starts that never got through, the desk begins without it.
const key = "opening";

/** So long a start is given before whoever leaves the page is taken to have waited in vain, in milliseconds. */
const patience = 10_000;

/** Counts a start until it is through, or the page is left in a hurry: an impatient reload says nothing of the work. */
function countStart(id: string): () => void {
	const before = failedStarts(id);
	const put = (times: number) => write(key, JSON.stringify({ version: 1, id, times }));
	put(before + 1);
	const left = () => performance.now() < patience && put(before);
	window.addEventListener("pagehide", left);
	return () => {
		window.removeEventListener("pagehide", left);
		drop(key);
	};
}

function failedStarts(id: string): number {
	const r = readRecord(key);
	return r?.id === id && typeof r.times === "number" ? r.times : 0;
}

async function putWork(found: { work: Work; same: boolean } | undefined) {
	if (openedOn && !found?.same) await openFresh({ name: openedOn.name, text: openedOn.text });
	else if (found && (await openWork(found.work.id, true))) {
		if (!found.same) {
			const when = w.files.when(new Date(found.work.at), new Date());
			const afresh = { words: w.files.beginAfresh, run: () => void openFirst().catch(complain) };
			tell(w.files.openedAgain(called(found.work), when), afresh);
		}
	} else await openFirst();
	if (lessonUnread) say(w.files.lesson.unread, "fault");
	else if (newerKept() && !found) say(w.files.newerKept);
}

async function openFirst() {
	const e = await call("entry", { name: String(firstCircuit) });
	await openFresh({ name: e.name, text: e.text, copy: true });
}
