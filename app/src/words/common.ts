// Words that every part of the desk uses.

export const common = {
	name: "tarry",
	untitled: "Untitled circuit",
	caution: "Caution",
	modesLabel: "What to do",
	desk: {
		actionsLeft: (n: number) =>
			n === 1
				? "One action of the run no longer fits the circuit and was left out."
				: `${n} actions of the run no longer fit the circuit and were left out.`,
		nothingNext: "Nothing more happens by itself. Operate a switch or a button.",
		renewed: "The engine had stopped and was started again. Your text and your run are still here.",
		lost: "The engine does not run in this browser. Your text is safe: download it, then reload the page.",
		never:
			"The engine does not run in this browser. A current browser will do; in a locked one, WebAssembly must be allowed.",
		lacking: (what: string) => `This browser is too old for the desk: it lacks ${what}. Any current browser will do.`,
		waking: "Getting ready …",
		close: "Close",
		cancel: "Cancel",
		ok: "OK",
		dismiss: "Dismiss",
	},
	faults: {
		head: (n: number) =>
			n === 1
				? "The text has a fault. This is only what was understood of it."
				: `The text has ${n} faults. This is only what was understood of it.`,
		first: (summary: string) => `First: ${summary}.`,
		correct: "Correct it",
	},
	modes: { run: "Run", write: "Write", predict: "Predict", print: "Print" },
	time: {
		/** Seconds for reading: "3.2 s". */
		s: (nanos: number) => `${Number((nanos / 1e9).toFixed(3))} s`,
	},
};
