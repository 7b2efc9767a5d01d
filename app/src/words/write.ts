// Words of the area "write".

/** A time as the notation writes it, exactly: 500 ms, 4 s, 1 min 30 s. */
function span(nanos: number): string {
	const units: [string, number][] = [
		["h", 3600e9],
		["min", 60e9],
		["s", 1e9],
		["ms", 1e6],
	];
	const whole = units.find(([, n]) => nanos % n === 0);
	if (whole && nanos / whole[1] < 1000) return `${nanos / whole[1]} ${whole[0]}`;
	const out: string[] = [];
	let rest = nanos;
	for (const [unit, n] of units.slice(0, 2)) {
		const count = Math.floor(rest / n);
		if (count > 0) out.push(`${count} ${unit}`);
		rest -= count * n;
	}
	if (rest > 0) out.push(rest < 1e9 ? `${rest / 1e6} ms` : `${rest / 1e9} s`);
	return out.join(" ");
}

export const write = {
	span,
	leaves: "Which leaf lies on top",
	picture: "Picture",
	text: "Text",
	foldText: "Fold the text away",
	unfoldText: "Lay the text out",
	undo: "Undo",
	redo: "Redo",
	textLabel: "Text of the circuit",
	pictureLabel: "Drawing of the circuit",
	tidy: "Tidy up",
	tidied: "The text stands in columns now.",
	tidyNothing: "The text is tidy already.",
	find: "Find",

	faults: {
		title: "What is not right",
		none: "The text has no faults.",
		line: (n: number) => `line ${n}`,
		grades: { error: "Fault", warning: "Warning", notice: "Notice" },
		fix: "Put it right",
		count: (n: number) => (n === 1 ? "1 fault" : `${n} faults`),
	},

	strip: {
		area: "What can be done here",
		nothing: "Choose a contact, a load or a rung on the drawing, or add something.",
		contact: (name: string) => `Contact ${name}`,
		load: (name: string) => `Load ${name}`,
		rung: (n: number) => `Rung ${n}`,
		device: (tag: string) => `All of ${tag}`,
		more: "More …",
		less: "Less",
		another: "Put another here",
		makeNC: "Make it NC",
		makeNO: "Make it NO",
		before: "In series before",
		after: "In series after",
		parallel: "In parallel",
		remove: "Delete",
		beside: "Add one beside it",
		rungBelow: "Rung below",
		rungAbove: "Rung above",
		up: "Move up",
		down: "Move down",
		rename: "Rename",
		label: "Label",
		setting: "Setting",
		kind: "Kind",
		inText: "Show in the text",
		addContact: "Contact at its end",
		addRung: "Add a rung",
		addDevice: "Add a device",
		title: "Title",
		upTo: (name: string) => `Around which contacts? From ${name} …`,
		onlyThis: (name: string) => `only ${name}`,
		upToThis: (name: string) => `up to ${name}`,
		/** What stands on a key, where it isn't its letter. */
		keyCaps: {
			Enter: "Enter",
			Delete: "Del",
			"Alt+ArrowUp": "Alt ↑",
			"Alt+ArrowDown": "Alt ↓",
			N: "Shift N",
		} as Record<string, string>,
	},

	keys: [
		["Arrows, Enter", "go about on the drawing, choose a part; Enter once more puts another in its place"],
		["B, A", "a contact in series before or after the chosen one"],
		["P", "a contact in parallel with it"],
		["N, Shift N", "a new rung below or above"],
		["Delete", "delete what is chosen"],
		["Alt ↑, Alt ↓", "move the rung"],
		["T, L, S, K", "tag, label, setting, kind of the chosen device"],
		["D, H", "a new device; the title"],
		["X", "make the chosen contact NC, or NO"],
		["G", "go to what is chosen in the text"],
		["Ctrl Z, Ctrl Y", "undo, redo"],
		["Ctrl Shift F", "tidy up the text"],
		["Ctrl Space", "in the text: what may stand here"],
	] as [string, string][],

	devices: "Devices",
	unused: "not on the drawing",

	pick: {
		contactFirst: "First contact of the new rung",
		loadOfRung: (contact: string) => `What the new rung feeds through ${contact}`,
		loadAlone: "What the new rung feeds",
		anotherContact: (name: string) => `Another contact in place of ${name}`,
		contactBefore: (name: string) => `A contact before ${name}`,
		contactAfter: (name: string) => `A contact after ${name}`,
		contactBeside: (name: string) => `A contact in parallel with ${name}`,
		contactAtEnd: (n: number) => `A contact at the end of rung ${n}`,
		anotherLoad: (name: string) => `Another load in place of ${name}`,
		loadBeside: (name: string) => `A load beside ${name}`,
		device: "A new device",
		search: "Search by tag, label or kind",
		list: "What fits here",
		noContact: "No contact",
		noContactTitle: "Without a contact",
		noContactAbout: "The load is on as long as the supply is.",
		onRung: (n: number) => `on rung ${n} already`,
		none: "Nothing fits these words. Clear the field to see all.",
		makeNew: (word: string) => `New ${word}`,
		newWord: "new",
		hint: "Arrows choose, Enter takes it, Escape leaves.",
		back: "Back to the list",
		put: "Put it in",
		add: "Add it",
		tag: "Tag",
		label: "Label",
		labelHint: "What it is for. It may stay empty.",
		settings: "Settings",
		isContact: (name: string, about: string) => `${name}: ${about}`,
		whichContact: "Which contact",
		whichLoad: "Which coil or load",
		groups: {
			hand: "New: operated by hand",
			sensor: "New: operated by the plant",
			relay: "New: relays and contactors",
			timer: "New: timers",
			load: "New: lamps, motors and other loads",
			protection: "New: protection",
		},
		groupsOfKinds: {
			hand: "operated by hand",
			sensor: "operated by the plant",
			relay: "relays and contactors",
			timer: "timers",
			load: "lamps, motors and other loads",
			protection: "protection",
		},
		atOnce: "follows the coil at once",
		/** What a contact is, in a few words. Others stand without. */
		contacts: {
			no: "make contact, open at rest",
			nc: "break contact, closed at rest",
			notc: "open at rest, closes late",
			ncto: "closed at rest, opens late",
			noto: "open at rest, opens late",
			nctc: "closed at rest, closes late",
			tno: "timed, open at rest",
			tnc: "timed, closed at rest",
		} as Record<string, string>,
	},

	form: {
		rename: (tag: string) => `Rename ${tag}`,
		renameField: "New tag",
		renameHint: "It changes wherever it stands, in rungs and scripts.",
		label: (tag: string) => `Label of ${tag}`,
		labelField: "What it is for",
		setting: (tag: string) => `Setting of ${tag}`,
		settingHint: "A time with its unit: 500 ms, 4 s, 2 min, 1 h.",
		settings: {
			"on-off-delay": ["On delay", "Off delay"],
			flasher: ["Time on", "Time off"],
			"star-delta": ["Time in star", "Gap"],
		} as Record<string, [string, string]>,
		settingUsual: ["Preset", "Second time"] as [string, string],
		kind: (tag: string) => `What ${tag} is`,
		kindField: "Kind",
		title: "Title of the circuit",
		titleField: "Title",
		station: "Station",
		save: "Set it",
	},

	blank: {
		title: "A new circuit",
		lead: "Give it a title, then draw its first rung: what switches, and what it feeds.",
		titleField: "Title",
		titleValue: "New circuit",
		supplyField: "Supply",
		supplyValue: "24 V dc",
		first: "Add the first rung",
		orText: "Or write it down as text",
	},

	scripts: {
		telling: "What do these scripts let pass?",
		title: "Scripts",
		none: "There is no script yet. Operate the circuit under Run and keep what your hands did.",
		play: "Play",
		playOf: (name: string) => `Play ${name}`,
		rename: "Rename",
		renameOf: (name: string) => `Rename ${name}`,
		remove: "Delete",
		removeOf: (name: string) => `Delete ${name}`,
		nameField: "Name of the script",
		ends: (t: string) => `ends at ${t}`,
	},

	moved: "The text changed meanwhile. Try again.",
	removed: (name: string) => `${name} is deleted.`,

	/** What the text editor's own parts say. */
	phrases: {
		Find: "Find",
		Replace: "Replace with",
		next: "next",
		previous: "previous",
		all: "all",
		regexp: "as a pattern",
		"match case": "capitals count",
		"by word": "whole words",
		replace: "replace",
		"replace all": "replace all",
		close: "close",
		"Go to line": "Go to line",
		go: "go",
	} as Record<string, string>,
};
