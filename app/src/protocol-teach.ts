// The part of the protocol that is about learners' answers: marks, ideas, exercises.

import type { Given, Nanos, Unit } from "./protocol";

/** An idea that a learner may have. `out` says why it is not in play for the circuit. */
export interface Reading {
	id: string;
	name: string;
	belief: string;
	out: string;
}

/** A row with its marks; edges are the wrong ones in words. */
export interface RowMark {
	row: string;
	points: number;
	of: number;
	wrong: boolean;
	sure: "" | "guess" | "fairly" | "certain";
	words: string;
	/** `at` is where the lines part. */
	edges: { follows: boolean; words: string; at: Nanos }[];
	overruled: boolean;
	note: string;
}

/** Ideas that give the same lines; the words say how much they explain, without naming them. */
export interface Fit {
	readings: Reading[];
	explains: boolean;
	words: string;
}

export interface Marked {
	rows: RowMark[];
	points: number;
	of: number;
	finding: string;
	fits: Fit[];
	/** For the learner, up to three sentences. */
	text: string;
}

/** A script that can be taken into the text; `none` says why there is none. */
export interface Press {
	name: string;
	lines: string[];
	/** The row to ask for. */
	row: string;
	words: string;
	/** Who gives which answer; it gives the right one away. */
	says: { who: string; right: boolean; readings: Reading[]; line: string }[];
	/** What shows the idea false. */
	case: string;
	none: string;
}

export interface Telling {
	readings: Reading[];
	scripts: { name: string; asked: string[]; words: string; blind: boolean; pass: Reading[]; caught: Reading[] }[];
	presses: Press[];
	words: string;
}

/** An exercise to choose a chart for: a variant of a level, or with no level the circuit on the desk. */
export interface Exercise {
	level: string;
	code: string;
	number: number;
	script: number;
	rows: string[];
	letter: string;
	/** Room for a chart; 0 for the usual one. */
	width: Unit;
}

export interface Picture {
	svg: string;
	width: Unit;
	height: Unit;
}

export interface Question {
	title: string;
	code: string;
	prompt: string;
	drawing: Picture;
	told: string;
	/** The rows that are given, with their words. */
	stem: Picture | null;
	given: string;
	options: { letter: string; picture: Picture; words: string }[];
}

export interface Chosen {
	right: boolean;
	/** Of the right one. */
	letter: string;
	feedback: string;
	readings: Reading[];
	title: string;
	script: string;
	text: string;
	lines: Given[];
}

/** What a human says instead of a mark; an empty signal is the whole answer. */
export interface Overrule {
	learner: string;
	item: string;
	signal: string;
	mark: number;
	note: string;
}

export interface ClassRequest {
	files: { name: string; text: string }[];
	tolerance: Nanos;
	overrules: Overrule[];
	form: "" | "csv" | "json" | "overrules";
	/** Learners are numbers in the file. */
	hidden: boolean;
}

export interface ClassAnswer extends Marked {
	learner: string;
	item: string;
	overruled: boolean;
	note: string;
}

export interface Class {
	about: string;
	problems: string[];
	answers: ClassAnswer[];
	ideas: (Reading & { words: string })[];
	sure: { learner: string; item: string; row: string; readings: Reading[] }[];
	items: { name: string; words: string }[];
	ask: string;
	presses: string;
}
