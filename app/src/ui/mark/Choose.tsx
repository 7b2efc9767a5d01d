// An exercise with charts to choose from.

import { useMemo } from "preact/hooks";
import { sheet } from "../../desk";
import type { Question } from "../../protocol";
import { w } from "../../words";
import { Button, Choice } from "../kit";
import type { Sure } from "../predict/store";
import {
	ask,
	chosen,
	code,
	decide,
	go,
	hasNext,
	hasPrevious,
	letter,
	level,
	levels,
	number,
	problem,
	question,
	type Source,
	scriptAt,
	source,
	sureOf,
} from "./asked";
import { Sketch } from "./Sketch";

const t = w.mark.choose;

export function ChooseChart() {
	const q = question.value;
	const none = source.value === "circuit" && (sheet.value?.scripts.length ?? 0) === 0;
	return (
		<section class="choose" aria-label={t.from}>
			<Which />
			{none ? (
				<p>{t.noScript}</p>
			) : problem.value ? (
				<p role="alert">{problem.value}</p>
			) : q ? (
				<Ask key={q.prompt} of={q} />
			) : (
				<p class="waking">{w.mark.working}</p>
			)}
		</section>
	);
}

/** Which exercise it is. */
function Which() {
	const scripts = sheet.value?.scripts ?? [];
	return (
		<div class="predict-setup">
			<Choice<Source>
				label={t.from}
				value={source.value}
				of={(["circuit", "level"] as const).map((v) => ({ value: v, words: t.sources[v] }))}
				onChange={(v) => {
					source.value = v;
					void ask();
				}}
			/>
			{source.value === "level" ? (
				<ByLevel />
			) : (
				<label>
					{t.script}
					<select
						value={scriptAt.value}
						onChange={(e) => {
							scriptAt.value = Number(e.currentTarget.value);
							void ask();
						}}
					>
						{scripts.map((s, i) => (
							<option key={s.name} value={i}>
								{s.name}
							</option>
						))}
					</select>
				</label>
			)}
			<span class="choose-turn">
				<Button disabled={!hasPrevious()} onClick={() => go(-1)}>
					{t.previous}
				</Button>
				{source.value === "level" && <b>{t.exercise(number.value)}</b>}
				<Button disabled={!hasNext()} onClick={() => go(1)}>
					{t.next}
				</Button>
			</span>
		</div>
	);
}

function ByLevel() {
	return (
		<>
			<label>
				{t.level}
				<select
					value={level.value}
					onChange={(e) => {
						level.value = e.currentTarget.value;
						number.value = 1;
						void ask();
					}}
				>
					{levels.value.map((l) => (
						<option key={l.name} value={l.name}>
							{l.name}
						</option>
					))}
				</select>
			</label>
			<label>
				{t.code}
				<input
					class="choose-code"
					value={code.value}
					maxLength={40}
					autocomplete="off"
					spellcheck={false}
					aria-describedby="choose-code-note"
					onChange={(e) => {
						code.value = e.currentTarget.value;
						number.value = 1;
						void ask();
					}}
				/>
			</label>
			<small id="choose-code-note">{t.codeNote(levels.value.find((l) => l.name === level.value)?.words ?? "")}</small>
		</>
	);
}

function Ask(p: { of: Question }) {
	const { of } = p;
	return (
		<div class="predict-desk">
			<details class="predict-circuit" open>
				<summary>{t.drawing}</summary>
				<Sketch of={of.drawing} words={of.told} most={34} />
			</details>
			<div class="choose-ask">
				<h3>{of.title}</h3>
				<p>{of.prompt}</p>
				{of.stem && (
					<figure class="choose-stem">
						<figcaption>{t.given}</figcaption>
						{/* It may scroll, so it must be reachable. */}
						<div class="choose-scroll" {...({ tabIndex: 0, role: "group", "aria-label": t.given } as const)}>
							<Sketch of={of.stem} words={of.given} most={56} />
						</div>
					</figure>
				)}
				<fieldset class="choose-options">
					<legend>{t.options}</legend>
					{of.options.map((o) => (
						<Option key={o.letter} of={o} />
					))}
				</fieldset>
				<Decide />
			</div>
		</div>
	);
}

function Option(p: { of: Question["options"][number] }) {
	const { of } = p;
	const done = chosen.value.find((c) => c.letter === of.letter);
	const id = `choose-${of.letter}`;
	return (
		<div class={`choose-option ${letter.value === of.letter ? "picked" : ""}`}>
			<label for={id}>
				<input
					id={id}
					type="radio"
					name="choose-option"
					checked={letter.value === of.letter}
					aria-describedby={`${id}-words`}
					onChange={() => {
						letter.value = of.letter;
					}}
				/>
				<b>{t.option(of.letter)}</b>
				<Sketch of={of.picture} words={t.option(of.letter)} most={56} />
			</label>
			<p class="unseen" id={`${id}-words`}>
				{of.words}
			</p>
			{done && (
				<div class={`choose-feedback ${done.what.right ? "right" : "wrong"}`}>
					<b class="verdict">{done.what.right ? t.right(of.letter) : t.wrong(of.letter)}</b>
					{done.what.readings.length > 0 && <p>{t.assumes(done.what.readings.map((r) => `“${r.name}”`).join(", "))}</p>}
					{!done.what.right && <p>{done.what.feedback}</p>}
				</div>
			)}
		</div>
	);
}

/** Settling on a chart, and what came of it in a sentence. */
function Decide() {
	const first = chosen.value[0];
	const last = chosen.value[chosen.value.length - 1];
	const said = useMemo(() => (last ? sentence(last.letter, last.what.right, last.what.letter) : ""), [last]);
	const again = chosen.value.some((c) => c.letter === letter.value);
	return (
		<div class="predict-foot choose-decide">
			{!first && (
				<Choice<Sure>
					label={t.sure}
					value={sureOf.value}
					of={(["guess", "fairly", "certain"] as const).map((v) => ({ value: v, words: w.predict.sures[v] }))}
					onChange={(v) => {
						sureOf.value = v;
					}}
				/>
			)}
			<p role="status">{said}</p>
			<Button class="main" disabled={letter.value === "" || again} onClick={() => void decide()}>
				{t.decide}
			</Button>
		</div>
	);
}

function sentence(of: string, right: boolean, rightOne: string): string {
	const result = right ? t.right(of) : `${t.wrong(of)} ${t.rightOne(rightOne)}`;
	return `${result} ${t.others} ${t.kept}`;
}
