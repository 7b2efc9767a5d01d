// Words of the area "predict".

import { common } from "./common";

/** A time as the trade says it: 2.5 s, 1 min 30 s, 12 h. An answer may be written the same way. */
function s(nanos: number): string {
	if (nanos < 60e9) return common.time.s(nanos);
	const h = Math.floor(nanos / 3600e9);
	const min = Math.floor((nanos - h * 3600e9) / 60e9);
	const rest = nanos - h * 3600e9 - min * 60e9;
	return [h > 0 && `${h} h`, min > 0 && `${min} min`, rest > 0 && common.time.s(rest)].filter(Boolean).join(" ");
}

/** The time of day at which a prediction was made. */
const clock = (iso: string) => new Date(iso).toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });

export const predict = {
	circuit: "The circuit at rest",
	larger: "Show it larger",
	title: "Predict first",
	lead: "Draw what you expect. The answer is worked out only when you ask for it.",
	script: "Script",
	noScripts: "This circuit has no script. Write one, or record one under Run, then predict what it does.",
	writeScript: "Write a script",
	recordScript: "Record one under Run",
	noRows: "This script has no row that can be predicted.",
	fixedRows: "The rows are set by the lesson.",
	rows: "Rows to predict",
	rowsChosen: (n: number, of: number) => `${n} of ${of}`,
	noneChosen: "Choose at least one row to predict.",
	working: "Drawing the chart …",
	width: "Chart",
	widths: { 1: "whole", 2: "twice as wide", 4: "four times as wide" } as Record<number, string>,
	fine: "Fine: tenths of a square",
	square: (nanos: number) => `One square is ${s(nanos)}.`,
	chartName: "Chart to draw on",
	how: "How to draw",
	howPointer:
		"Drag across the squares of a row to draw it on; begin on the last square of a stretch to make it longer, further inside it to take away. Touch one square to change it.",
	howKeys:
		"Keys on a row: left and right arrow move the mark by one square; with Shift, right draws on and left takes away; Space changes the stretch from the mark to the next change; Delete clears from the mark; Home goes to the start; up and down arrow go to the next row.",
	howText: "Or write the times: on 5 s .. 12 s, 20 s .. end. Also always or never.",
	rowLine: (name: string) => `Your line for ${name}`,
	time: s,
	stroke: (name: string, word: string, from: number, to: number) => `${name}: ${word} ${s(from)} .. ${s(to)}`,
	caret: (at: number, word: string) => `${s(at)}, ${word}`,
	answers: "Your lines",
	answer: (name: string) => `${name}, in words`,
	starts: (word: string) => `Starts ${word}`,
	startsLabel: (name: string, word: string) => `Starts ${word}: change the start of ${name}`,
	clear: "Clear row",
	clearLabel: (name: string) => `Clear row ${name}`,
	undo: "Undo a line",
	clearAll: "Clear all rows",
	sure: (name: string) => `How sure of ${name}`,
	sureAll: "How sure of all rows",
	sures: { guess: "guess", fairly: "fairly sure", certain: "certain" },
	notSaid: "not said",
	sureNotSaid: "how sure: not said",
	tolerance: "An edge counts as right within",
	tolerances: { 25: "a quarter", 50: "half", 100: "one square" } as Record<number, string>,
	reveal: "Reveal",
	untouched: (names: string) =>
		`Nothing drawn yet for ${names}: that counts as no answer. Write “never” or “always” if a line has no change.`,
	undrawn: "nothing drawn yet",
	notDrawn: "nothing drawn",
	revealed: "What happened",
	again: "Try again",
	right: "right",
	wrong: "different",
	why: "What happens and why",
	whyLabel: (name: string, at: number) => `What happens and why: ${name} at ${s(at)}`,
	tally: (right: number, of: number) => `${right} of ${of} rows as predicted.`,
	thought: {
		certainWrong: "You were certain of this one: look at it first.",
		guessRight: "A guess that came out right: could you say why?",
		fairlyWrong: "You were fairly sure: compare the first difference with your line.",
	},
	text: {
		words: (on: string, off: string) => `Write ${on} or ${off}, then times, as in: ${on} 5 s .. 12 s`,
		time: (t: string) => `"${t}" is no time. Write it as 5 s, 1.5 s or 2 min.`,
		order: (t: string) => `"${t}" ends before it begins.`,
		late: (end: number) => `The script ends at ${s(end)}.`,
		never: "never",
		always: "always",
		end: "end",
	},
	list: {
		title: "Predictions of this session",
		none: "None yet.",
		learner: "Name (if you like)",
		learnerNote: "The name stays on this machine; it goes only into a file that you save.",
		notKept: "This browser keeps nothing here: save the file before you close the page.",
		saveJson: "Save as a file",
		saveCsv: "Save as a table (CSV)",
		open: "Open a file of predictions",
		clear: "Forget them all",
		clearSure: "Forget all predictions of this session?",
		show: "Show",
		showLabel: (script: string, iso: string) => `Show the prediction of ${clock(iso)} for ${script}`,
		otherLesson: "That prediction is of another circuit than this lesson has. Open it on the whole desk.",
		otherText: "This prediction is of another text. Open that text?",
		openText: "Open it",
		gone: "Its script or a row of it is no longer in this circuit.",
		columns: { at: "Time", script: "Script", row: "Row", sure: "Sure", result: "Result" },
		clock,
		firstWrong: (at: number) => `different from ${s(at)}`,
		followOn: (at: number) => `follow-on, from ${s(at)}`,
		from: (file: string) => `from ${file}`,
		newer: "This file of predictions was made by a newer tarry. Nothing was changed; open it with that one.",
		unreadable: "This is no file of predictions that tarry can read.",
		tooBig: "This file is too big to be one of predictions.",
		opened: (n: number) => (n === 1 ? "One prediction was read." : `${n} predictions were read.`),
		/** The middle five are those of a table of answers. */
		csvHead: ["circuit", "at", "learner", "item", "signal", "answer", "sure", "right", "first wrong at s"],
		yes: "yes",
		no: "no",
	},
};
