// The board: the drawing with hands on it. A touch operates what hands can
// move, and opens a card for everything else; asked why, all answer.

import { useSignal, useSignalEffect } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { drawing, frame, marks, sheet } from "../../desk";
import type { Frame, Mark, Notice, Part } from "../../protocol";
import { w } from "../../words";
import { Drawing, type Fit, percent } from "../Drawing";
import { Card } from "./Card";
import { handProps, handWords } from "./hands";
import { asking, askWhy } from "./why";

const longPress = 550;

const handOf = (p: Part) => (p.kind === "contact" ? (sheet.value?.devices[p.device]?.hand ?? "") : "");

/** A part's state for its spoken label. */
function partState(p: Part, f: Frame): { words: string; pressed?: boolean } {
	const s = w.run.state;
	if (p.kind === "load") return { words: f.on[p.device] ? s.on : s.off };
	const words = closedMarks(marks.value).has(markName(p.id)) ? s.closed : s.open;
	const hand = handOf(p);
	if (!hand) return { words };
	const both = s.both(handWords(p.device, f), words);
	return hand === "turn" ? { words: both } : { words: both, pressed: (f.hands[p.device] ?? 0) > 0 };
}

let closedOf: Mark[] = [];
let closed = new Set<string>();
/** The ids of the dots of closed contacts. */
function closedMarks(list: Mark[]) {
	if (closedOf !== list) {
		closedOf = list;
		closed = new Set(list.filter((m) => m.class === "mark-closed").map((m) => m.id));
	}
	return closed;
}

const names = new Map<string, string>();
/** The id that the engine gives a closed contact's dot: what a name doesn't allow stands there as a number. */
function markName(id: string): string {
	let name = names.get(id);
	if (name === undefined) {
		const plain = id.replace(/[^a-zA-Z0-9.-]/gu, (c) => `_${(c.codePointAt(0) ?? 0).toString(16)}_`);
		name = `d-${plain}_mark-closed`;
		names.set(id, name);
	}
	return name;
}

export function Board(p: { most?: number; fit?: Fit | undefined; class?: string; cards?: boolean }) {
	const card = useSignal("");
	const d = drawing.value;
	const cards = p.cards !== false;
	const open = d?.parts.find((x) => x.id === card.value);
	const why = asking.value;
	useEffect(() => {
		// Another drawing may not have the part any more.
		if (!open) card.value = "";
	}, [open]);
	const onPart = (x: Part, e: Event) => {
		// A press by key has no pointer that could have stayed.
		if (longPressed && (e as MouseEvent).detail > 0) return;
		if (asking.value) return askWhy(x.signal);
		if (handOf(x)) return;
		// Where no card has room, the touch asks at once.
		if (!cards) return askWhy(x.signal);
		card.value = card.value === x.id ? "" : x.id;
	};
	return (
		<div class={`board${why ? " asking" : ""}`}>
			<Drawing
				parts="symbols"
				selected={card.value}
				onPart={onPart}
				partProps={(x) => partProps(x, why)}
				partState={partState}
				most={p.most}
				fit={p.fit}
				class={p.class}
			>
				<Markers />
				{d && open && cards && (
					<Card
						key={open.id}
						part={open}
						d={d}
						onClose={() => {
							card.value = "";
						}}
					/>
				)}
			</Drawing>
		</div>
	);
}

/** What a part's button does beside being clicked. */
function partProps(x: Part, why: boolean) {
	const onContextMenu = (e: MouseEvent) => {
		e.preventDefault();
		// A finger that holds a button isn't asking; a long press elsewhere has asked already.
		if ((e as PointerEvent).pointerType !== "touch") askWhy(x.signal);
	};
	if (handOf(x) && !why) return { ...handProps(x.device), class: `part part-${x.kind} hand`, onContextMenu };
	return { onContextMenu, ...longPressProps(() => askWhy(x.signal)) };
}

/** A press that has asked is no click any more when it ends. */
let longPressed = false;

/** A finger or mouse that stays asks why. */
function longPressProps(then: () => void) {
	let timer: ReturnType<typeof setTimeout> | undefined;
	const stop = () => clearTimeout(timer);
	return {
		onPointerDown(e: PointerEvent) {
			if (e.button !== 0) return;
			stop();
			longPressed = false;
			timer = setTimeout(() => {
				longPressed = true;
				then();
			}, longPress);
		},
		onPointerUp: stop,
		onPointerCancel: stop,
		onPointerLeave: stop,
	};
}

/** A sign at each device that a notice is about. */
function Markers() {
	const shown = useSignal<Notice[]>([]);
	useSignalEffect(() => {
		const list = frame.value?.notices ?? [];
		const was = shown.peek();
		if (list.length !== was.length || list.at(-1)?.at !== was.at(-1)?.at) shown.value = list;
	});
	const d = drawing.value;
	if (!d || shown.value.length === 0) return null;
	const devices = new Set(shown.value.flatMap((n) => n.devices));
	return (
		<>
			{d.parts
				.filter((x) => x.kind !== "rung" && devices.has(x.device))
				.map((x) => {
					const at = percent({ x: x.box.x + x.box.w, y: x.box.y, w: 0, h: 0 }, d);
					return (
						<span
							key={x.id}
							class="notice-marker"
							style={{ left: at.left, top: at.top }}
							title={w.run.reasons.noticeHere}
						>
							<svg viewBox="0 0 20 20" aria-hidden="true">
								<path d="M10 2 18.5 17.5H1.5Z" />
							</svg>
						</span>
					);
				})}
		</>
	);
}
