// Words of the area "run".

/** Seconds with so many decimals, in minutes from one minute on. */
function clock(nanos: number, digits: number): string {
	const s = nanos / 1e9;
	if (s < 60) return `${s.toFixed(digits)} s`;
	const m = Math.floor(s / 60);
	const rest = (s - m * 60).toFixed(digits).padStart(digits ? 3 + digits : 2, "0");
	if (m < 60) return `${m} min ${rest} s`;
	return `${Math.floor(m / 60)} h ${m % 60} min ${rest} s`;
}

/** A time as it is set or reached: 500 ms, 2.5 s, 1 min 30 s. */
function span(nanos: number): string {
	if (nanos > 0 && nanos < 1e8) return `${Number((nanos / 1e6).toFixed(3))} ms`;
	const s = nanos / 1e9;
	if (s < 60) return `${Number(s.toFixed(3))} s`;
	const m = Math.floor(s / 60);
	const rest = Number((s - m * 60).toFixed(3));
	return rest === 0 ? `${m} min` : `${m} min ${rest} s`;
}

/** How far a timer's time has run: "2.4 of 5 s". */
function elapsed(ran: number, preset: number): string {
	if (preset < 1e9) return `${Math.floor(ran / 1e6)} of ${Math.round(preset / 1e6)} ms`;
	if (preset < 60e9) return `${Math.floor(ran / 1e8) / 10} of ${span(preset)}`;
	return `${span(Math.floor(ran / 1e9) * 1e9)} of ${span(preset)}`;
}

export const run = {
	clock,
	span,
	elapsed,
	partsLabel: "Parts of the circuit",
	zoom: { label: "Drawing", whole: "Whole", large: "Large words" },
	marks: {
		label: "What the marks mean",
		ask: "What do the marks mean?",
		text: "Drawn at rest. Filled dot: closed now. Ring: open now. Heavy line: carries current; a thin line may be live all the same.",
	},
	boardLabel: "Board",
	state: {
		on: "on",
		off: "off",
		closed: "closed",
		open: "open",
		pressed: "pressed",
		latched: "pressed, stays pressed",
		notPressed: "not pressed",
		operated: "operated",
		atRest: "at rest",
		tripped: "tripped",
		ready: "not tripped",
		position: (p: string) => `position ${p}`,
		both: (a: string, b: string) => `${a}, ${b}`,
	},
	hands: {
		label: "Hands",
		supply: "Supply",
		does: {
			press: "press and hold",
			close: "operate or let return",
			turn: "turn to the next position",
			trip: "trip or reset",
		},
		supplyDoes: "switch off or on",
		none: "Nothing in this circuit is moved by hand.",
		stay: "To keep a button pressed: Shift while you press, or a second finger on the paper. The next press lets it go.",
		stayTouch: "To keep a button pressed: touch the paper with a second finger. The next press lets it go.",
		fold: "Fold",
		unfold: "Show the hands",
		startedOver: "The run begins again. What the hands did is no longer on record.",
		isBackOver: "It is back, as it was.",
		frozen: (tag: string) =>
			`Time stands, so ${tag} stays pressed until you press it again. Press Play to let time run.`,
		forgot: "You took over. What was to be done after this instant no longer happens.",
		bringBack: "Bring it back",
		isBack: "It is back, and happens when time runs on.",
		key: (n: number) => `key ${n}`,
		positions: (tag: string) => `Position of ${tag}`,
	},
	time: {
		label: "Time",
		runLabel: "The run",
		play: "Play",
		pause: "Pause",
		next: "Next",
		nextLabel: "On to the next instant at which something happens",
		back: "Back",
		backLabel: "Back to the last instant at which something happened",
		home: "To start",
		homeLabel: "Back to the beginning of the run",
		over: "Start over",
		overLabel: "Start over: forget what the hands did",
		speed: "Speed",
		times: (n: number) => `× ${n}`,
		now: "Time now",
		fresh: "Time stands. It runs when you press Play or operate something.",
		freshScript: "Time stands. Press Play and the script runs by itself.",
		stands: "Time stands. What you operate now acts at this instant.",
		past: (known: string) => `You are looking back. The run is known up to ${known}.`,
		runs: "Time runs.",
		ended: (why: string) => `The run has ended: ${why}. Go back, or start over.`,
		readOnly: "This circuit is for reading only.",
	},
	scripts: {
		label: "Who operates",
		free: "You, freely",
		script: (name: string) => `Script: ${name}`,
		keep: "Keep as a script",
		keepTitle: "Keep what was done as a script",
		keepAbout:
			"What the hands do in this run becomes a script in the circuit's text. It can be played again and again.",
		name: "Name of the script",
		usualName: "What we did",
		replaces: "A script of this name is there. It will be replaced.",
		kept: (name: string) => `Kept as the script “${name}”.`,
		play: "Play it now",
		nothing: "Nothing was done by hand yet.",
		ended: "The script has ended. Press Play and time runs on from here; the hands are yours.",
		ok: "Keep it",
	},
	chart: {
		label: "Chart",
		cursor: "Instant shown",
		window: "Time shown",
		windows: { 10: "10 s", 30: "30 s", 120: "2 min", 0: "all" } as Record<number, string>,
		rows: "Rows",
		rowsTitle: "Rows of the chart",
		rowsAbout: "Choose which rows the chart shows, and in which order.",
		usual: "The usual rows",
		up: (row: string) => `Move ${row} up`,
		down: (row: string) => `Move ${row} down`,
		upSign: "↑",
		downSign: "↓",
		supply: "Supply",
		elapsedRow: (tag: string) => `${tag} elapsed time`,
		why: (row: string) => `Why is ${row} as it is?`,
		inWords: "The chart in words",
	},
	reasons: {
		label: "Reasons",
		justNow: "What just happened",
		nothingYet: "Nothing has happened yet.",
		steps: "What happened, newest first",
		goTo: (at: string) => `Show the board at ${at}`,
		why: "Why?",
		whyLabel: "Why? Then touch a part or a row of the chart",
		ask: "Touch a part of the drawing or the name of a row: you will read why it is as it is now.",
		askPart: "Touch a part of the drawing: you will read why it is as it is now.",
		askHint: "Ask of any part, also why something did not happen.",
		whyOf: (what: string) => `Why? ${what}`,
		at: (at: string) => `at ${at}`,
		story: "How it came about",
		notices: "Worth a look",
		lookThere: "Look there",
		atRung: (n: number) => `rung ${n}`,
		noticeHere: "something worth a look happened here",
	},
	card: {
		label: (tag: string) => `${tag}: what can be done`,
		preset: (i: number, of: number) => (of > 1 ? `Setting ${i + 1}` : "Setting"),
		seconds: "seconds",
		less: (by: string) => `Less by ${by}`,
		more: (by: string) => `More by ${by}`,
		lessSign: (by: string) => `− ${by}`,
		moreSign: (by: string) => `+ ${by}`,
		boardOnly: "The setting changes on the board at this instant, and this is on record.",
		write: "Write it into the text",
		written: "Written into the text.",
		inText: (t: string) => `In the text: ${t}`,
		badNumber: "Give a time above 0 s and of 2400 h at most.",
	},
	words: {
		label: "The board in words",
		board: "State of the board",
		drawing: "The drawing",
	},
	projector: {
		label: "Projector view",
		chart: "Chart",
		leave: "Leave",
		leaveLabel: "Leave the projector view",
		blank: "Blank. Press b or touch the screen to go on.",
	},
	keys: [
		["k, or Space away from any button", "play or pause"],
		["→ or .", "on to the next instant at which something happens"],
		["← or ,", "back to the last one"],
		["Home", "to the start of the run"],
		["1 to 9", "operate the hands in the strip, as long as the key is held"],
		["Shift with a press", "the button stays pressed until the next press"],
		["w or ?", "why? Then choose a part or a row"],
		["arrow keys on the drawing", "go from part to part"],
		["arrow keys on the chart's cursor", "move through the run"],
		["in the projector view: Page Down, Page Up", "next, back"],
		["in the projector view: b or .", "blank the screen"],
		["in the projector view: c", "chart on or off"],
		["in the projector view: click a part that no hand moves", "why?"],
		["in the projector view: Esc", "leave"],
	] as [string, string][],
};
