// What a picker offers: first what is there, then what could be new. What fits
// where was worked out by the engine; here it is only put in order and searched.

import type { Kind, Sheet } from "../../protocol";
import { w } from "../../words";
import type { Pick } from "./state";

export interface Offer {
	/** Unique within the list. */
	id: string;
	/** What is shown large: a contact, a load, a kind. */
	words: string;
	about: string;
	/** What a search looks into, in small letters. */
	hay: string;
	/** A name to be put there, or a kind to be made new. */
	name?: string;
	kind?: Kind;
	/** A load that a rung feeds already. */
	fed?: boolean;
}

export interface OfferGroup {
	id: string;
	title: string;
	/** Few short words side by side rather than lines. */
	chips: boolean;
	offers: Offer[];
}

const p = w.write.pick;

/** The part of a name behind its dot; the whole of it if it has none. */
export const partOf = (name: string) => name.slice(name.lastIndexOf(".") + 1);

/** The name of a tag's contact or load; a load without a word is the tag itself. */
export const fullName = (tag: string, part: string) => (part ? `${tag}.${part}` : tag);

/** A timer's contacts that the time doesn't act on. */
const atOnce = ["no", "nc"];
/** What a timer is for comes first: its timed contacts. */
export const timedFirst = (names: string[]) => {
	const late = names.filter((n) => !atOnce.includes(partOf(n)));
	return [...late, ...names.filter((n) => !late.includes(n))];
};

/** What a contact is; that one of a timer follows at once, the engine says. */
function aboutContact(name: string, timer: boolean, abouts: Abouts): string {
	const part = partOf(name);
	const own = p.contacts[part] ?? "";
	if (!timer || !atOnce.includes(part)) return own || (abouts[name] ?? "");
	return abouts[name] ?? `${own}, ${p.atOnce}`;
}

/** What the engine says of contacts, by their names. */
export type Abouts = Record<string, string>;

function existing(sheet: Sheet, want: "contact" | "load", abouts: Abouts): OfferGroup[] {
	const fed = new Map<string, number>();
	for (const r of sheet.rungs) for (const l of r.loads) fed.set(l, r.number);
	const out: OfferGroup[] = [];
	for (const d of sheet.devices) {
		const timer = d.function !== "";
		const names = want === "load" ? d.loads : timer ? timedFirst(d.contacts) : d.contacts;
		if (names.length === 0) continue;
		const offers = names.map((name): Offer => {
			const rung = want === "load" ? fed.get(name) : undefined;
			const about = want === "contact" ? aboutContact(name, timer, abouts) : rung ? p.onRung(rung) : "";
			const hay = `${name} ${d.tag} ${d.label} ${d.words} ${about}`.toLowerCase();
			return { id: `have-${name}`, words: name, about, hay, name, fed: rung !== undefined };
		});
		const title = d.label ? `${d.tag} ${d.label} – ${d.words}` : `${d.tag} – ${d.words}`;
		out.push({ id: `of-${d.tag}`, title, chips: true, offers });
	}
	return out;
}

const order: Record<Pick["want"], Kind["group"][]> = {
	contact: ["hand", "sensor", "timer", "relay", "protection", "load"],
	load: ["timer", "relay", "load", "hand", "sensor", "protection"],
	device: ["hand", "sensor", "timer", "relay", "load", "protection"],
};

function fresh(kinds: Kind[], want: Pick["want"]): OfferGroup[] {
	const fits = kinds.filter((k) => want === "device" || (want === "contact" ? k.contacts : k.loads).length > 0);
	return order[want]
		.map((group) => ({
			id: `new-${group}`,
			title: p.groups[group],
			chips: false,
			offers: fits
				.filter((k) => k.group === group)
				.map((kind) => ({
					id: `new-${kind.word.replaceAll(" ", "-")}`,
					words: kind.word,
					about: kind.about,
					hay: `${p.newWord} ${kind.word} ${kind.about}`.toLowerCase(),
					kind,
				})),
		}))
		.filter((g) => g.offers.length > 0);
}

/** All that a picker offers. */
export function offersFor(sheet: Sheet | null, kinds: Kind[], pick: Pick, abouts: Abouts = {}): OfferGroup[] {
	const out: OfferGroup[] = [];
	const there = sheet && pick.want !== "device" ? existing(sheet, pick.want, abouts) : [];
	// A load that no rung feeds yet is more likely meant than one that has its rung.
	const free = (g: OfferGroup) => g.offers.some((o) => !o.fed);
	out.push(...there.filter(free), ...fresh(kinds, pick.want), ...there.filter((g) => !free(g)));
	if (pick.orNone) {
		const none = { id: "none", words: p.noContact, about: p.noContactAbout, hay: p.noContact.toLowerCase(), name: "" };
		out.push({ id: "none-group", title: p.noContactTitle, chips: false, offers: [none] });
	}
	return out;
}

/** How well an offer answers a search; 0 if not at all. */
function rank(o: Offer, words: string[]): number {
	if (!words.every((x) => o.hay.includes(x))) return 0;
	const name = o.words.toLowerCase();
	const first = words[0] ?? "";
	if (name === first || name === words.join(" ")) return 4;
	if (name.startsWith(first) || partOf(name).startsWith(first)) return 3;
	return name.includes(first) ? 2 : 1;
}

/** Only what answers a search, the best group first. */
export function search(groups: OfferGroup[], query: string): OfferGroup[] {
	const words = query.toLowerCase().split(/\s+/).filter(Boolean);
	if (words.length === 0) return groups;
	const found = groups
		.map((g) => {
			const ranked = g.offers.map((o) => ({ o, r: rank(o, words) })).filter((x) => x.r > 0);
			ranked.sort((a, b) => b.r - a.r);
			return { g: { ...g, offers: ranked.map((x) => x.o) }, best: ranked[0]?.r ?? 0 };
		})
		.filter((x) => x.best > 0);
	found.sort((a, b) => b.best - a.best);
	return found.map((x) => x.g);
}
