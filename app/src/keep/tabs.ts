// Which tab holds which work, so that two tabs never write over each other.
//
// A tab that holds a work says so again and again. A tab that is asleep or in
// the background can't be relied on to do so in time, so a tab that wants the
// work also asks aloud: the one that holds it answers at once. One that does
// neither is taken for gone; should it wake up, it finds that it is no longer
// the holder and goes on with a copy (see keep.ts).

import { drop, freshName, keysUnder, onWritten, readRecord, write } from "./store";

/** This tab, until it is loaded again. */
const me = freshName();
const beatEvery = 5_000;
/** Browsers let timers of a tab in the background run once a minute. */
const freshFor = 90_000;
const answerWithin = 350;

let held = "";
const answers = new Set<(id: string) => void>();

function holder(id: string): { tab: string; at: number } | null {
	const r = readRecord(`tab.${id}`);
	return r && typeof r.tab === "string" && typeof r.at === "number" ? { tab: r.tab, at: r.at } : null;
}

/** This tab holds the work from now on. */
export function hold(id: string) {
	if (held && held !== id) letGo();
	held = id;
	say();
}

/** This tab holds no work any more. */
export function letGo() {
	if (held && holder(held)?.tab === me) drop(`tab.${held}`);
	held = "";
}

/** Another tab has taken the work that this one holds. */
export function lostToAnother(): boolean {
	const h = held ? holder(held) : null;
	return h !== null && h.tab !== me;
}

function say() {
	write(`tab.${held}`, JSON.stringify({ tab: me, at: Date.now() }));
}

function beat() {
	if (held && !lostToAnother()) say();
}

/** Those of the works that another tab holds. */
export async function heldElsewhere(ids: string[]): Promise<Set<string>> {
	const doubtful = ids.filter((id) => {
		const h = holder(id);
		return h !== null && h.tab !== me && Math.abs(Date.now() - h.at) < freshFor;
	});
	const found = new Set<string>();
	if (doubtful.length === 0) return found;
	await new Promise<void>((done) => {
		const heard = (id: string) => {
			found.add(id);
			if (doubtful.every((d) => found.has(d))) done();
		};
		answers.add(heard);
		setTimeout(done, answerWithin);
		write("ask", JSON.stringify({ ids: doubtful, by: freshName() }));
		setTimeout(() => answers.delete(heard), answerWithin);
	});
	return found;
}

/** Seems to be held by another tab, as far as can be told without asking. */
export function seemsHeld(id: string): boolean {
	const h = holder(id);
	return h !== null && h.tab !== me && Math.abs(Date.now() - h.at) < freshFor;
}

/** Begins to say and to answer what this tab holds. */
export function watchTabs() {
	// Tabs that crashed have left theirs behind.
	for (const id of keysUnder("tab.")) {
		if (Math.abs(Date.now() - (holder(id)?.at ?? 0)) > 86_400_000) drop(`tab.${id}`);
	}
	setInterval(beat, beatEvery);
	onWritten((key, value) => {
		try {
			if (key === "ask" && held && !lostToAnother() && (JSON.parse(value).ids as string[]).includes(held))
				write("answer", JSON.stringify({ id: held, by: freshName() }));
			if (key === "answer") for (const heard of answers) heard(JSON.parse(value).id);
		} catch {
			// Not ours; another version may ask in another way.
		}
	});
}
