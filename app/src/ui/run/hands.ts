// Hands on the board. A button is held as long as a finger, the mouse or a key
// holds it; it can be made to stay. Several can be held at once. What a device
// can do comes from Device.hand.

import { effect, signal, untracked } from "@preact/signals";
import {
	act,
	frame,
	generation,
	play,
	playing,
	restoreRun,
	say,
	scriptPlace,
	sessionLog,
	sheet,
	start,
} from "../../desk";
import type { Action, Frame } from "../../protocol";
import { w } from "../../words";
import { asking, askWhy } from "./why";

/** Stands for the supply where a device's place is asked for. */
export const supplyHand = -1;

/** Who holds each button that is held: pointers and keys. */
const holders = new Map<number, Set<string>>();
/** The buttons that are held at the moment. A pressed one that is not held stays. */
export const holding = signal<ReadonlySet<number>>(new Set());
/** What was asked for but is not in a frame yet: two quick presses must not be taken for one. */
const underWay = new Map<number, number>();

/** When each button was pressed, and how long at least in milliseconds: a tap is no pulse of no width. */
const since = new Map<number, number>();
const shortest = 60;

const publish = () => {
	holding.value = new Set(holders.keys());
};

function handOf(device: number): number {
	return underWay.get(device) ?? frame.value?.hands[device] ?? 0;
}

/** What is asked of a hand: its contact, or the supply. */
const signalOfHand = (device: number) =>
	device === supplyHand ? "supply" : (sheet.value?.devices[device]?.contacts[0] ?? "");

/** A hand begins to operate a device; `stay` keeps a button pressed. While a reason is asked for, it points. */
export function press(device: number, source: string, stay = false) {
	const f = frame.value;
	if (!f) return;
	if (asking.value && !source.startsWith("key Digit")) return void askWhy(signalOfHand(device));
	if (device === supplyHand) {
		beginTime(stay);
		return actOn({ verb: f.supply ? "supply off" : "supply on", device });
	}
	const d = sheet.value?.devices[device];
	const now = handOf(device);
	switch (d?.hand) {
		case "press":
			return pressButton(device, source, stay, d.tag);
		case "close":
			beginTime(stay);
			return actOn({ verb: now ? "open" : "close", device }, now ? 0 : 1);
		case "trip":
			beginTime(stay);
			return actOn({ verb: now ? "reset" : "trip", device }, now ? 0 : 1);
		case "turn":
			return turnTo(device, (now + 1) % d.positions.length);
	}
}

/** Turns a selector to a position. */
export function turnTo(device: number, position: number) {
	beginTime(false);
	return actOn({ verb: "turn", device, position }, position);
}

function pressButton(device: number, source: string, stay: boolean, tag: string) {
	const held = holders.get(device);
	if (held) {
		held.add(source);
		return;
	}
	if (handOf(device) === 1) return actOn({ verb: "release", device }, 0);
	beginTime(stay);
	// With time standing "as long as held" means nothing: the button would go
	// down and up within one instant. So it stays.
	if (!stay && playing.value) {
		holders.set(device, new Set([source]));
		since.set(device, performance.now());
		publish();
	} else if (!stay) say(w.run.hands.frozen(tag));
	return actOn({ verb: "press", device }, 1);
}

/** A pointer or key lets go; with nobody left the button returns. */
export function letGo(device: number, source: string) {
	const held = holders.get(device);
	if (!held?.delete(source) || held.size > 0) return;
	holders.delete(device);
	publish();
	const release = () => {
		if (handOf(device) === 1) actOn({ verb: "release", device }, 0);
	};
	const short = shortest - (performance.now() - (since.get(device) ?? 0));
	if (short > 0) setTimeout(release, short);
	else release();
}

/** Lets go of everything whose source begins so; of all if that is empty. */
export function letGoAll(sources = "") {
	for (const [device, held] of [...holders]) for (const s of [...held]) if (s.startsWith(sources)) letGo(device, s);
}

/** What is held now stays when the hand goes. */
function keepHeld(sources: string) {
	for (const [device, held] of [...holders]) if ([...held].some((s) => s.startsWith(sources))) holders.delete(device);
	publish();
}

/** On a board that began anew the buttons stand out again, whoever holds them. */
function forgetReturned() {
	for (const device of [...holders.keys()]) if (handOf(device) !== 1) holders.delete(device);
	publish();
}

/**
 * The first hand on a fresh board starts the time: whoever presses a button
 * expects the timers to run. Who has paused, or keeps a button down by Shift,
 * wants time to stand.
 */
function beginTime(stay: boolean) {
	const f = frame.value;
	if (f && !stay && f.now === 0 && f.known === 0 && scriptPlace.value < 0) play();
}

async function actOn(action: Action, becomes?: number) {
	const f = frame.value;
	const at = f?.now ?? 0;
	const log = [...sessionLog()];
	if (becomes !== undefined) underWay.set(action.device, becomes);
	await act(action);
	if (underWay.get(action.device) === becomes) underWay.delete(action.device);
	// A hand that acts makes the rest of the run another one. Nobody loses it unasked.
	if (!log.some((a) => a.at > Math.max(at, frame.value?.now ?? 0))) return;
	const bringBack = async () => {
		await restoreRun(log, at);
		say(w.run.hands.isBack);
	};
	say(w.run.hands.forgot, "note", { words: w.run.hands.bringBack, run: bringBack });
}

/** Begins the run anew. What the hands did can be had back. */
export async function startOver() {
	const log = [...sessionLog()];
	const at = frame.value?.now ?? 0;
	await start(scriptPlace.value);
	const same = (a: unknown) => JSON.stringify(a) === JSON.stringify(sessionLog());
	if (same(log)) return;
	const bringBack = async () => {
		await restoreRun(log, at);
		say(w.run.hands.isBackOver);
	};
	say(w.run.hands.startedOver, "note", { words: w.run.hands.bringBack, run: bringBack });
}

/** Whether a script, or what is known already, lets go of a button by itself. */
function letsGoLater(device: number, f: Frame): boolean {
	return sessionLog().some((a) => a.at > f.now && a.device === device && a.verb === "release");
}

/** The state of a device's hand in words, empty if no hand moves it. */
export function handWords(device: number, f: Frame): string {
	const s = w.run.state;
	if (device === supplyHand) return f.supply ? s.on : s.off;
	const d = sheet.value?.devices[device];
	const hand = f.hands[device] ?? 0;
	switch (d?.hand) {
		case "press":
			if (!hand) return s.notPressed;
			return holding.value.has(device) || letsGoLater(device, f) ? s.pressed : s.latched;
		case "close":
			return hand ? s.operated : s.atRest;
		case "trip":
			return hand ? s.tripped : s.ready;
		case "turn":
			return s.position(d.positions[hand] ?? "");
	}
	return "";
}

const isPress = (device: number) => sheet.value?.devices[device]?.hand === "press";
const isKey = (e: KeyboardEvent) => (e.key === " " || e.key === "Enter") && !e.altKey && !e.metaKey;
const pointer = (e: PointerEvent) => `${e.pointerType} ${e.pointerId}`;
const keyName = (e: KeyboardEvent) => `key ${e.code}`;
const stop = (e: Event) => {
	e.preventDefault();
	e.stopPropagation();
};

/** Handlers that make a button on the page a hand on a device. */
export function handProps(device: number) {
	const up = (e: PointerEvent) => letGo(device, pointer(e));
	return {
		"data-hand": String(device),
		onPointerDown(e: PointerEvent) {
			if (e.button !== 0) return;
			(e.currentTarget as HTMLElement).setPointerCapture?.(e.pointerId);
			press(device, pointer(e), e.shiftKey || e.ctrlKey);
		},
		// A press by mouse or finger takes no focus: Space goes on to mean play or pause.
		onMouseDown(e: MouseEvent) {
			if (e.button !== 0) return;
			e.preventDefault();
			if (document.activeElement !== document.body) (document.activeElement as HTMLElement | null)?.blur();
		},
		onPointerUp: up,
		onPointerCancel: up,
		onLostPointerCapture: up,
		onKeyDown(e: KeyboardEvent) {
			if (!isKey(e)) return;
			stop(e);
			if (!e.repeat) press(device, keyName(e), e.shiftKey || e.ctrlKey);
		},
		onKeyUp(e: KeyboardEvent) {
			if (!isKey(e)) return;
			stop(e);
			letGo(device, keyName(e));
		},
		// A number key may be down without this having the focus; Space and Enter may not.
		onBlur() {
			for (const code of ["Space", "Enter", "NumpadEnter"]) letGo(device, `key ${code}`);
		},
		// A screen reader's press has neither pointer nor key: the button stays.
		onClick(e: MouseEvent) {
			if (e.detail === 0) press(device, "assistant", isPress(device));
		},
	};
}

/** Listens for what concerns all hands at once. Returns how to stop. */
export function watchHands(): () => void {
	const second = (e: PointerEvent) => {
		if (e.pointerType !== "touch" || (e.target as Element).closest?.("[data-hand]")) return;
		keepHeld("touch ");
	};
	const gone = () => letGoAll();
	const hidden = () => {
		if (document.hidden) letGoAll();
	};
	document.addEventListener("pointerdown", second, true);
	window.addEventListener("blur", gone);
	document.addEventListener("visibilitychange", hidden);
	const anew = effect(() => {
		generation.value;
		untracked(forgetReturned);
	});
	return () => {
		document.removeEventListener("pointerdown", second, true);
		window.removeEventListener("blur", gone);
		document.removeEventListener("visibilitychange", hidden);
		anew();
		letGoAll();
	};
}
