// The card of a part that was touched: why it is as it is, and a timer's
// settings.

import { useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { act, change, frame, mayWrite, restoreRun, say, sessionLog, sheet } from "../../desk";
import type { Device, Drawing, Nanos, Part } from "../../protocol";
import { w } from "../../words";
import { percent } from "../Drawing";
import { Button } from "../kit";
import { decimal } from "../predict/line";
import { askWhy } from "./why";

/** The settings of a timer at the board's instant: the last ones set by hand, else the text's. */
function presetsNow(device: number, d: Device): [Nanos, Nanos] {
	const now = frame.peek()?.now ?? 0;
	const list: [Nanos, Nanos] = [...d.presets];
	for (const a of sessionLog()) {
		if (a.device !== device || a.verb !== "set" || a.at > now || !a.presets) continue;
		for (const i of [0, 1] as const) if (a.presets[i]) list[i] = a.presets[i];
	}
	return list;
}

export function Card(p: { part: Part; d: Drawing; onClose(): void }) {
	const ref = useRef<HTMLDivElement>(null);
	const device = sheet.value?.devices[p.part.device];
	useEffect(() => {
		ref.current?.querySelector<HTMLElement>("button")?.focus({ preventScroll: true });
		ref.current?.scrollIntoView({ block: "nearest" });
	}, []);
	const foot = percent({ ...p.part.box, y: p.part.box.y + p.part.box.h, h: 0 }, p.d);
	const close = () => {
		p.onClose();
		document.querySelector<HTMLElement>(`.part[data-part="${CSS.escape(p.part.id)}"]`)?.focus();
	};
	return (
		<div
			class="card"
			ref={ref}
			role="dialog"
			aria-label={w.run.card.label(device?.tag ?? p.part.id)}
			style={{
				"--x": foot.left,
				"--y": foot.top,
			}}
			onKeyDown={(e) => {
				if (e.key !== "Escape") return;
				e.stopPropagation();
				close();
			}}
		>
			<div class="card-head">
				<p>
					<b>{p.part.signal || device?.tag}</b> {device?.label}
					<small>{device?.words}</small>
				</p>
				<Button
					class="why"
					onClick={() => {
						askWhy(p.part.signal);
						p.onClose();
					}}
				>
					{w.run.reasons.why}
				</Button>
				<Button class="quiet" label={w.desk.close} onClick={close}>
					×
				</Button>
			</div>
			{device && device.presets[0] > 0 && <Presets device={p.part.device} d={device} />}
		</div>
	);
}

function Presets(p: { device: number; d: Device }) {
	const values = useSignal(presetsNow(p.device, p.d));
	const places = ([0, 1] as const).filter((i) => p.d.presets[i] > 0);
	const set = (i: 0 | 1, to: Nanos) => {
		const next: [Nanos, Nanos] = [...values.value];
		next[i] = to;
		values.value = next;
		act({ verb: "set", device: p.device, presets: i === 0 ? [to, 0] : [0, to] });
	};
	const write = async () => {
		const before = p.d.presets;
		for (const i of places) {
			if (values.value[i] === before[i]) continue;
			const text = `${decimal(values.value[i])} s`;
			if ((await change({ do: "preset", tag: p.d.tag, which: i, text })) === undefined) return;
		}
		// The text has it now: a hand that sets the same again would do nothing.
		const rest = sessionLog().filter((a) => a.verb !== "set" || a.device !== p.device);
		await restoreRun(rest, frame.value?.now ?? 0);
		say(w.run.card.written);
	};
	const differs = places.some((i) => values.value[i] !== p.d.presets[i]);
	return (
		<div class="presets">
			{places.map((i) => (
				<Preset key={i} name={w.run.card.preset(i, places.length)} value={values.value[i]} onSet={(to) => set(i, to)} />
			))}
			<small>{w.run.card.boardOnly}</small>
			{differs && <small>{w.run.card.inText(places.map((i) => w.run.span(p.d.presets[i])).join(", "))}</small>}
			{differs && mayWrite.value && <Button onClick={write}>{w.run.card.write}</Button>}
		</div>
	);
}

/** The longest setting: beyond it a number of this page is no longer exact. */
const longest = 2400 * 3600e9;

/** Steps that suit a setting: a part of its size, and ten times that. */
function stepsFor(value: Nanos): [Nanos, Nanos] {
	const size = 10 ** Math.max(6, Math.floor(Math.log10(value)) - 1);
	return [size, size * 10];
}

function Preset(p: { name: string; value: Nanos; onSet(to: Nanos): void }) {
	const [fine, coarse] = stepsFor(p.value);
	const words = w.run.card;
	const typed = (text: string) => {
		const to = Math.round(Number(text.replace(",", ".")) * 1e9);
		if (to > 0 && to <= longest) p.onSet(to);
		else say(words.badNumber);
	};
	const step = (by: Nanos) => {
		const size = w.run.span(Math.abs(by));
		return (
			<Button
				key={by}
				label={by < 0 ? words.less(size) : words.more(size)}
				disabled={p.value + by <= 0}
				onClick={() => p.onSet(p.value + by)}
			>
				{by < 0 ? words.lessSign(size) : words.moreSign(size)}
			</Button>
		);
	};
	return (
		<fieldset class="preset">
			<legend>{p.name}</legend>
			<label>
				<input
					type="text"
					inputMode="decimal"
					autocomplete="off"
					value={String(p.value / 1e9)}
					onChange={(e) => typed(e.currentTarget.value)}
				/>
				{words.seconds}
			</label>
			<div class="screw">{[-coarse, -fine, fine, coarse].map(step)}</div>
		</fieldset>
	);
}
