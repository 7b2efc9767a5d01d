// One line for whoever has never seen the desk: what to do first. It goes on
// with the run and is gone for good once it has been followed or dismissed.

import { computed, effect } from "@preact/signals";
import { frame, message, mode, playing, sessionLog, sheet } from "../../desk";
import { hintDone, hintFollowed } from "../../keep/look";
import { lesson } from "../../lesson";
import type { Device } from "../../protocol";
import { w } from "../../words";
import { Button } from "../kit";

/** The device to begin with: a button that isn't closed at rest, else a switch, else anything for hands. */
function first(devices: Device[]): Device | undefined {
	const starts = (d: Device) => d.contacts.length > 0 && !/stop|reset/i.test(d.label);
	return (
		devices.find((d) => d.hand === "press" && starts(d)) ??
		devices.find((d) => d.hand === "close" && starts(d)) ??
		devices.find((d) => d.hand !== "")
	);
}

const device = computed(() => first(sheet.value?.devices ?? []));
/** Hands did something; read with each frame, since the log is no signal. */
const acted = computed(() => frame.value !== null && sessionLog().length > 0);
const begun = computed(() => playing.value || (frame.value?.now ?? 0) > 0);
effect(() => {
	if (mode.value === "run" && acted.value) hintFollowed.value = true;
});

function words(): string {
	const h = w.files.hint;
	const d = device.value;
	if (acted.value) return h.later;
	if (!d) return h.play;
	const name = d.label ? `${d.tag} (${d.label})` : d.tag;
	if (begun.value) return h.now(name);
	return d.hand === "press" ? h.press(name) : h.turn(name);
}

export function FirstHint() {
	// A message is more important, and the two together would push the board away.
	const silent = hintDone.value || message.value !== null || mode.value !== "run" || !sheet.value;
	if (silent || lesson?.circuits.some((c) => c.predict.length > 0)) return null;
	return (
		<aside class="first-hint" aria-label={w.files.hint.label}>
			<p>{words()}</p>
			<Button
				class="quiet"
				label={w.desk.dismiss}
				onClick={() => {
					hintDone.value = true;
				}}
			>
				×
			</Button>
		</aside>
	);
}
