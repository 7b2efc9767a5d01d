// Telling presses: what each script lets pass, and presses that tell more.

import { sheet } from "../../desk";
import type { Press, Telling } from "../../protocol";
import { w } from "../../words";
import { Button } from "../kit";
import { choosePlay, inPlay, look, takePress, telling, working } from "./found";

const t = w.mark.tell;

export function TellingPage() {
	const r = telling.value;
	return (
		<section class="tell" aria-label={w.mark.task.tell} aria-busy={working.value}>
			<p class="mark-lead">{t.lead}</p>
			{(sheet.value?.scripts.length ?? 0) === 0 && <p>{t.noScripts}</p>}
			{r && <InPlay of={r} />}
			{working.value && <p class="waking">{w.mark.working}</p>}
			{r && !working.value && <Found of={r} />}
		</section>
	);
}

function InPlay(p: { of: Telling }) {
	const chosen = inPlay.value;
	return (
		<details class="tell-play">
			<summary>
				{t.play} <small>{chosen.length === 0 ? t.playAll : t.playSome(chosen.length)}</small>
			</summary>
			<fieldset>
				<legend class="unseen">{t.play}</legend>
				{p.of.readings.map((r) => (
					<label key={r.id} class={r.out ? "out" : ""}>
						<input
							type="checkbox"
							disabled={r.out !== ""}
							checked={r.out === "" && (chosen.length === 0 || chosen.includes(r.id))}
							onChange={(e) => choosePlay(r.id, e.currentTarget.checked)}
						/>
						<span>
							{r.name} <small>{r.out || r.belief}</small>
						</span>
					</label>
				))}
			</fieldset>
			<div class="predict-setup">
				<Button onClick={() => void look()}>{t.again}</Button>
				<Button
					class="quiet"
					disabled={chosen.length === 0}
					onClick={() => {
						inPlay.value = [];
						void look();
					}}
				>
					{t.all}
				</Button>
			</div>
		</details>
	);
}

function Found(p: { of: Telling }) {
	const r = p.of;
	return (
		<>
			<h3>{t.scripts}</h3>
			<ul class="tell-scripts">
				{r.scripts.map((s) => (
					<li key={s.name} class={s.blind ? "blind" : ""}>
						<h4>{s.name}</h4>
						<small>{s.asked.length > 0 && t.asked(s.asked.join(", "))}</small>
						<p>{s.words}</p>
						{s.caught.length > 0 && (
							<details>
								<summary>{t.caught(s.caught.length)}</summary>
								<p>{s.caught.map((c) => `“${c.name}”`).join(", ")}</p>
							</details>
						)}
					</li>
				))}
			</ul>
			<h3>{t.better}</h3>
			<p role="status">{r.words}</p>
			<ol class="tell-presses">
				{r.presses.map((x) => (
					<One key={x.name} of={x} />
				))}
			</ol>
		</>
	);
}

function One(p: { of: Press }) {
	const { of } = p;
	return (
		<li>
			<p>{of.words}</p>
			<Button label={t.takeLabel(of.name)} onClick={() => void takePress(of)}>
				{t.take}
			</Button>
			<details>
				<summary>{t.says}</summary>
				<div class="predict-table">
					<table>
						<thead>
							<tr>
								<th scope="col">{t.line}</th>
								<th scope="col">{t.who}</th>
							</tr>
						</thead>
						<tbody>
							{of.says.map((s) => (
								<tr key={s.who} class="first">
									<td>{s.line}</td>
									<td>{s.right ? <b>{s.who}</b> : s.who}</td>
								</tr>
							))}
						</tbody>
					</table>
				</div>
			</details>
		</li>
	);
}
