// What the page and the engine say to each other: the requests and replies of
// package tarry's Desk, as JSON. Times are whole nanoseconds of the run,
// lengths 1/100 mm, places in a text UTF-16 units, as the browser counts.

import type {
	Chosen,
	Class,
	ClassRequest,
	Exercise,
	Marked,
	Overrule,
	Press,
	Question,
	Telling,
} from "./protocol-teach";

export * from "./protocol-teach";

export type Nanos = number;
export type Unit = number;

/** How a circuit is drawn. */
export interface View {
	symbols: "international" | "american";
	layout: "rungs" | "paths";
	/** Room for the drawing; 0 means as much as it takes. */
	width: Unit;
	/** Leave out the words beside timed contacts. */
	noWords: boolean;
}

export interface Box {
	x: Unit;
	y: Unit;
	w: Unit;
	h: Unit;
}

export interface Fix {
	from: number;
	to: number;
	text: string;
	label: string;
}

export interface Diagnostic {
	code: string;
	grade: "error" | "warning" | "notice";
	summary: string;
	detail: string;
	from: number;
	to: number;
	fix: Fix | null;
}

export type Verb =
	| "close"
	| "open"
	| "press"
	| "release"
	| "turn"
	| "trip"
	| "reset"
	| "set"
	| "supply off"
	| "supply on";

/** What hands do at an instant. */
export interface Action {
	verb: Verb;
	/** Place in Sheet.devices; -1 for the supply. */
	device: number;
	/** Its tag, and the position's name: in a log, which outlives the text that it was made with, they count. */
	tag?: string;
	to?: string;
	/** turn: place in Device.positions. */
	position?: number;
	/** set: the new presets; 0 keeps the old one. */
	presets?: [Nanos, Nanos];
}

export interface Device {
	tag: string;
	kind: string;
	/** The kind and its settings as the text writes them: "on-delay 4 s". */
	words: string;
	label: string;
	/** A timer's function, else empty. */
	function: string;
	/** Its settings; 0 where it has none. */
	presets: [Nanos, Nanos];
	/** How hands move it: "press" (a button), "close" (a switch, a sensor), "turn", "trip"; empty if they can't. */
	hand: "" | "press" | "close" | "turn" | "trip";
	positions: string[];
	/** Contacts and loads that fit it, as a rung names them: "KT1.notc", "K2.set". */
	contacts: string[];
	loads: string[];
	/** Its line in the text. */
	from: number;
	to: number;
}

export interface Rung {
	number: number;
	contacts: string[];
	loads: string[];
	from: number;
	to: number;
}

export interface Script {
	name: string;
	/** When it ends. */
	end: Nanos;
	/** Its actions as the text writes them, in order. */
	actions: string[];
	from: number;
	to: number;
}

export interface Note {
	word: string;
	text: string;
}

/** What can be touched on a drawing. */
export interface Part {
	/** "S1.no:13", "KT1", "rung 3". */
	id: string;
	kind: "contact" | "load" | "rung";
	box: Box;
	/** Places in Sheet.devices and Sheet.rungs; -1 for none. */
	device: number;
	rung: number;
	/** Its place among the rung's contacts or loads, as Change counts them. */
	place: number;
	/** The signal to ask about: "KT1.notc", "H1"; empty for a rung. */
	signal: string;
	/** For a rung: the band of the whole rung. */
	whole?: Box;
	/** For a timer's coil: where its ring goes, and where its preset is written. */
	ring?: { x: Unit; y: Unit; r: Unit };
	preset?: Box;
	/** Spoken: "S1 (Start), make contact, rung 1". */
	words: string;
}

/** A drawing at rest, and what can be touched on it. */
export interface Drawing {
	/** What stands in an SVG of viewBox 0 0 width height, in painting order; classes say ink and weight. */
	groups: Mark[];
	width: Unit;
	height: Unit;
	parts: Part[];
	/** The drawing told in words. */
	words: string;
}

/** Everything that is known of a text. */
export interface Sheet {
	title: string;
	station: string;
	supply: string;
	notes: Note[];
	/** The standing caution, and the text's own. */
	cautions: string[];
	/** Says that the circuit is for reading only; usually empty. */
	readOnly: string;
	diagnostics: Diagnostic[];
	devices: Device[];
	rungs: Rung[];
	scripts: Script[];
	/** What the computed times rest on. */
	assumptions: string[];
	drawing: Drawing;
	/** Rows that a chart can show, in the usual order. */
	rows: string[];
}

/** A group of the drawing, or of marks on it; groups of one id replace each other. */
export interface Mark {
	id: string;
	class: string;
	/** What it shows: "KT1.notc:27". */
	shows?: string;
	/** Empty if it is what was said before for this id. */
	svg: string;
}

export interface Clock {
	device: number;
	elapsed: Nanos;
	preset: Nanos;
	running: boolean;
}

export interface Instant {
	at: Nanos;
	sentences: string[];
}

export interface Notice {
	at: Nanos;
	kind: string;
	text: string;
	/** Places in Sheet.devices. */
	devices: number[];
}

/** The board at an instant. */
export interface Frame {
	now: Nanos;
	/** How far it has been run, and the oldest instant on record. */
	known: Nanos;
	from: Nanos;
	/** Why nothing moves any more; usually empty. */
	ended: string;
	/** Says that the oldest part of the record was dropped; usually empty. */
	dropped: string;
	/** Present if the state differs from the last frame's: all marks of the state. */
	marks?: Mark[];
	supply: boolean;
	/** Of each device: its hand's place (0 at rest, 1 operated, or a selector's position). */
	hands: number[];
	/** Of each device: its coil or load on. Of a device without one: false. */
	on: boolean[];
	clocks: Clock[];
	/** What happened since the frame before, oldest first; at most the last 50 instants. Present when time ran on. */
	happened?: Instant[];
	/** Notices up to now. */
	notices: Notice[];
	/** The neighbouring instants at which something happens; -1 for none. */
	next: Nanos;
	back: Nanos;
	/** The state in words, for a screen reader. */
	words: string;
	/** Grows with each event on record: a chart drawn at another count is stale. */
	events: number;
	/** All actions, done and ahead; present when they changed. */
	log?: Timed[];
}

export interface Timed extends Action {
	at: Nanos;
}

/** Where things are on a chart. */
export interface Plan {
	left: Unit;
	right: Unit;
	top: Unit;
	bottom: Unit;
	/** Linear between these points, in order of time. */
	scale: { at: Nanos; x: Unit }[];
	/** The time of a writable square. */
	square: Nanos;
	rows: PlanRow[];
}

export interface PlanRow {
	/** As in ChartRequest.rows: "H1", "KT1.notc", "KT1.elapsed", "supply". */
	name: string;
	tag: string;
	/** The words for its two values: "open", "closed". */
	words: [string, string];
	top: Unit;
	high: Unit;
	low: Unit;
	bottom: Unit;
	/** The levels of a learner's line, where there is one. */
	givenHigh: Unit;
	givenLow: Unit;
	blank: boolean;
	/** A blank row is on or closed before its first edge. */
	start: boolean;
}

export interface Chart {
	svg: string;
	width: Unit;
	height: Unit;
	plan: Plan;
	words: string;
	/** Frame.events when it was drawn. */
	events: number;
}

export interface ChartRequest {
	/** -1: what the board has on record. Otherwise the script's whole run, its place. */
	script: number;
	/** Empty for the usual ones. */
	rows: string[];
	from: Nanos;
	/** 0 for the end of what is known; beyond it the present goes on. */
	to: Nanos;
	width: Unit;
	blank: string[];
	given: Given[];
	/** The time of a writable square; 0 leaves it to the chart. */
	square: Nanos;
	uncut: boolean;
}

/** A learner's line: its value at the start, and the instants at which it changes. */
export interface Given {
	row: string;
	start: boolean;
	edges: Nanos[];
	/** Filled in by the reply to "reveal": the first difference, or -1. */
	wrong: Nanos;
	/** The row was left as it was: no line of the learner's. */
	undrawn: boolean;
}

export interface Revealed {
	rows: { row: string; right: boolean; at: Nanos; words: string }[];
	chart: Chart;
}

/** One edit on the picture; the fields that belong to `do`. See notation.Change. */
export interface Change {
	do:
		| "add-device"
		| "add-rung"
		| "move-rung"
		| "delete-rung"
		| "series"
		| "parallel"
		| "replace-contact"
		| "delete-contact"
		| "add-load"
		| "replace-load"
		| "delete-load"
		| "rename"
		| "label"
		| "preset"
		| "kind"
		| "delete-device"
		| "head"
		| "keep-script"
		| "delete-script"
		| "rename-script";
	tag?: string;
	kind?: string;
	label?: string;
	/** add-rung: the place of the rung that it follows; -1 first, -2 last. */
	after?: number;
	path?: string;
	/** add-rung: what it feeds, "H1, M1". */
	loads?: string;
	rung?: number;
	to?: number;
	contact?: number;
	upto?: number;
	/** replace-load, delete-load: the place of the load. */
	load?: number;
	before?: boolean;
	/** The contact, load or tag to put there. */
	new?: string;
	which?: 0 | 1;
	text?: string;
	word?: string;
	/** keep-script, with `text`: the lines below the script's head. */
	name?: string;
	/** keep-script: the name of the script that it takes the place of. */
	replace?: string;
	/** A whole device line that the change needs: `KT1 on-delay 5 s "Start delay"`. */
	declare?: string;
}

export interface Edited {
	/** Sorted, not overlapping, in the text that was sent. */
	edits: { from: number; to: number; text: string }[];
	/** What to select afterwards: a tag, "rung 3", a contact. */
	select: string;
	/** Why the change is not possible; then edits is empty. */
	refused: string;
}

export interface Completions {
	from: number;
	to: number;
	options: { text: string; kind: "tag" | "contact" | "kind" | "word" | "time" | "signal"; about: string }[];
}

/** A kind of device for a picker. */
export interface Kind {
	word: string;
	about: string;
	/** A usual declaration behind the tag: "on-delay 5 s". */
	usual: string;
	group: "hand" | "sensor" | "relay" | "timer" | "load" | "protection";
	contacts: string[];
	loads: string[];
}

/** What the desk needs to know once. */
export interface About {
	kinds: Kind[];
	/** Names of the parts of a printed set, with their words. */
	parts: { name: string; words: string }[];
	caution: string;
	/** Fonts to draw with, as TrueType. */
	fonts: { family: string; weight: "normal" | "bold"; data: string /* base64 */ }[];
	colours: Record<"ink" | "faint" | "live" | "timing" | "paper", string>;
}

export interface LibraryEntry {
	number: number;
	name: string;
	title: string;
	station: string;
	aim: string;
	text: string;
}

export interface Printed {
	/** One SVG document for each page, sizes in mm. */
	pages: string[];
	width: Unit;
	height: Unit;
	remark: string;
}

export interface FileMade {
	name: string;
	/** Media type. */
	type: string;
	data: string; // base64
}

export interface SheetsRequest {
	parts: string[];
	paper: "a4" | "letter";
	/** Its place; -1 for all. */
	script: number;
	college: string;
	author: string;
	date: string;
}

export interface Calls {
	about: [Record<string, never>, About];
	/** Reads a text and lays the board out for it. The session starts anew unless keep is set: then the same actions are done again, up to the same instant. */
	open: [
		{ name: string; text: string; view: View; keep: boolean },
		{ sheet: Sheet; frame: Frame; left: number /* actions that no longer fit */ },
	];
	/** The same text in another view. */
	view: [{ view: View }, { drawing: Drawing; frame: Frame }];

	/** Starts the session anew: a script lies ahead, or none (-1). */
	start: [{ script: number }, Frame];
	/** Moves the cursor; forward beyond what is known runs the machine. */
	move: [{ to: Nanos }, Frame];
	/** Hands act at the cursor; what was recorded after it is forgotten. */
	act: [{ at: Nanos; actions: Action[] }, Frame];
	/** Puts a saved session back: the log of a frame, and the instant to show. */
	restore: [{ log: Timed[]; to: Nanos }, { frame: Frame; left: number }];
	/** What the hands did so far as a script: its lines below the head, and whole as text. */
	recording: [{ name: string }, { lines: string[]; script: string }];
	/** The steps so far, newest last; at most the last `limit` instants up to the cursor. */
	story: [{ limit: number }, { instants: Instant[]; more: number }];
	/** Why a signal is as it is at an instant on record. */
	why: [{ of: string; at: Nanos }, { title: string; value: string; answer: string[]; story: string[] }];

	chart: [ChartRequest, Chart];
	reveal: [ChartRequest & { tolerance: Nanos }, Revealed];
	/** Rows that a learner can be asked for in a script's run, and when it ends. */
	ask: [{ script: number }, { rows: PlanRow[]; end: Nanos }];

	/** Marks the lines of `given` and looks for what may be behind them. */
	mark: [{ script: number; given: Given[]; tolerance: Nanos }, Marked];
	press: [{ rows: string[]; ids: string[] }, Press];
	telling: [{ ids: string[]; margin: Nanos }, Telling];
	levels: [Record<string, never>, { name: string; words: string }[]];
	question: [Exercise, Question];
	choose: [Exercise, Chosen];
	class: [ClassRequest, Class];
	classfile: [ClassRequest, FileMade];
	overrules: [{ text: string }, { list: Overrule[]; problems: string[] }];

	edit: [{ text: string; change: Change }, Edited];
	complete: [{ text: string; at: number }, Completions];
	format: [{ text: string }, { text: string; refused: string }];
	suggest: [{ kind: string }, { tag: string }];

	library: [Record<string, never>, LibraryEntry[]];
	/** One of them, by number or name. */
	entry: [{ name: string }, LibraryEntry];
	thumbnail: [{ text: string }, { svg: string; width: Unit; height: Unit }];

	sheets: [SheetsRequest, Printed];
	pdf: [SheetsRequest, FileMade];
	export: [
		{
			what: "drawing" | "chart" | "frame";
			form: "svg" | "png";
			at: Nanos;
			view: View;
			rows: string[];
			width: number /* of a PNG in pixels */;
		},
		FileMade,
	];
	/** CSV or VCD of what the board has on record. */
	record: [{ form: "csv" | "vcd" }, FileMade];
	/** A script's whole run as CSV, for comparison. */
	run: [{ script: number }, { csv: string; failed: number }];
	/** Bytes that the engine uses, and holds of the browser's. */
	memory: [Record<string, never>, { used: number; held: number }];
}

export type Call = keyof Calls;
export type Request<C extends Call> = Calls[C][0];
export type Reply<C extends Call> = Calls[C][1];

/** A call that failed: bad input (say it), or a fault of ours (say it and offer the text). */
export interface Failure {
	error: string;
	fault: boolean;
}
