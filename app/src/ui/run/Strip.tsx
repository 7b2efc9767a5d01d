// The strip of hands: a big button for each thing that can be operated.

import { useComputed, useSignal } from "@preact/signals";
import { frame, sheet } from "../../desk";
import type { Device } from "../../protocol";
import { w } from "../../words";
import { Button } from "../kit";
import { handProps, handWords, supplyHand, turnTo } from "./hands";
import { handDevices } from "./keys";

/** Nothing here has keys. */
const touchOnly = matchMedia("(hover: none)").matches;

/** How to keep a button pressed. */
export function StayHint() {
	const h = w.run.hands;
	if (!sheet.value?.devices.some((d) => d.hand === "press")) return null;
	return <small class="stay-hint">{touchOnly ? h.stayTouch : h.stay}</small>;
}

export function Hands() {
	const folded = useSignal(false);
	const h = w.run.hands;
	const list = handDevices();
	const devices = sheet.value?.devices ?? [];
	return (
		<section class={`hands${folded.value ? " folded" : ""}`} aria-label={h.label}>
			<div class="hands-head">
				<h2>{h.label}</h2>
				<Button
					class="quiet fold"
					aria-expanded={!folded.value}
					onClick={() => {
						folded.value = !folded.value;
					}}
				>
					{folded.value ? h.unfold : h.fold}
				</Button>
			</div>
			<div class="hand-list">
				{list.map((i, n) => (
					<Hand key={i} device={i} d={devices[i] as Device} number={n + 1} />
				))}
				<Supply />
			</div>
			{list.length === 0 && <p>{h.none}</p>}
		</section>
	);
}

function Hand(p: { device: number; d: Device; number: number }) {
	// Computed for each frame, but only changes render.
	const words = useComputed(() => (frame.value ? handWords(p.device, frame.value) : ""));
	const at = useComputed(() => frame.value?.hands[p.device] ?? 0).value;
	const h = w.run.hands;
	const kind = p.d.hand as keyof typeof h.does;
	const turns = kind === "turn";
	return (
		<div class="hand-place">
			<button
				type="button"
				class={`hand-button${at ? " operated" : ""}${words.value === w.run.state.latched ? " stays" : ""}`}
				aria-pressed={turns ? undefined : at > 0}
				aria-keyshortcuts={p.number <= 9 ? String(p.number) : undefined}
				{...handProps(p.device)}
			>
				<b>{p.d.tag}</b>
				<span class="hand-label">{p.d.label}</span>
				<span class="hand-state">{words}</span>
				<span class="hand-does">
					{h.does[kind]}
					{p.number <= 9 && !touchOnly && <kbd>{h.key(p.number)}</kbd>}
				</span>
			</button>
			{turns && (
				<select
					aria-label={h.positions(p.d.tag)}
					value={at}
					onChange={(e) => turnTo(p.device, Number(e.currentTarget.value))}
				>
					{p.d.positions.map((x, i) => (
						<option key={x} value={i}>
							{x}
						</option>
					))}
				</select>
			)}
		</div>
	);
}

function Supply() {
	const on = useComputed(() => frame.value?.supply ?? true).value;
	const h = w.run.hands;
	return (
		<div class="hand-place">
			<button
				type="button"
				class={`hand-button supply${on ? "" : " cut"}`}
				aria-pressed={on}
				{...handProps(supplyHand)}
			>
				<b>{h.supply}</b>
				<span class="hand-label">{sheet.value?.supply}</span>
				<span class="hand-state">{on ? w.run.state.on : w.run.state.off}</span>
				<span class="hand-does">{h.supplyDoes}</span>
			</button>
		</div>
	);
}
