// The strip below the drawing: what can be done with what is chosen, with the
// key of each.

import { signal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { sheet } from "../../desk";
import { w } from "../../words";
import { Button } from "../kit";
import { type Act, actsFor, type Group, parallelUpTo } from "./acts";
import { nameOf, stretching, target } from "./state";

const s = w.write.strip;
/** On a narrow screen: the actions on the rung and the device are shown as well. */
const more = signal(false);

export function ActButton(p: { act: Act }) {
	const key = p.act.keys[0] ?? "";
	return (
		<button type="button" class="act" onClick={p.act.run} aria-keyshortcuts={key}>
			{p.act.words}
			{key && (
				<span class="key" aria-hidden="true">
					{s.keyCaps[key] ?? key.toUpperCase()}
				</span>
			)}
		</button>
	);
}

function Row(p: { group: Group; second: boolean }) {
	return (
		<div class={p.second ? "strip-row second" : "strip-row"}>
			<h3>{p.group.title}</h3>
			<div class="acts">
				{p.group.acts.map((a) => (
					<ActButton key={a.words} act={a} />
				))}
			</div>
		</div>
	);
}

export function Strip() {
	const groups = actsFor(target.value);
	return (
		<section class={more.value ? "strip more" : "strip"} aria-label={s.area}>
			{stretching.value ? (
				<Stretch />
			) : groups.length === 0 ? (
				<p class="hint">{s.nothing}</p>
			) : (
				groups.map((g, i) => <Row key={g.title} group={g} second={i > 0} />)
			)}
			{!stretching.value && groups.length > 1 && (
				<Button
					class="act narrow-only"
					aria-expanded={more.value}
					onClick={() => {
						more.value = !more.value;
					}}
				>
					{more.value ? s.less : s.more}
				</Button>
			)}
		</section>
	);
}

/** Around which contacts a parallel one is to go; they may be touched on the drawing as well. */
function Stretch() {
	const first = useRef<HTMLButtonElement>(null);
	useEffect(() => first.current?.focus({ preventScroll: true }), []);
	const from = stretching.value;
	const rung = from && sheet.value?.rungs[from.rung];
	if (!from || !rung) return null;
	const name = nameOf(from);
	const others = rung.contacts.map((c, i) => ({ c, i })).filter((x) => x.i !== from.place);
	return (
		<div class="strip-row">
			<h3>{s.upTo(name)}</h3>
			<div class="acts">
				<button type="button" class="act" ref={first} onClick={() => parallelUpTo(from, from.place)}>
					{s.onlyThis(name)}
				</button>
				{others.map((x) => (
					<button type="button" class="act" key={`${x.i}-${x.c}`} onClick={() => parallelUpTo(from, x.i)}>
						{s.upToThis(x.c)}
					</button>
				))}
				<Button
					class="quiet"
					onClick={() => {
						stretching.value = null;
					}}
				>
					{w.desk.cancel}
				</Button>
			</div>
		</div>
	);
}
