// Words of the area "files": the library, files, what is kept on this machine,
// lessons and the first screen.

export const files = {
	library: "Library",
	file: "File",

	libraryTitle: "Library",
	search: "Search",
	searchHint: "Number, title, station or any word",
	found: (n: number, all: number) => (n === all ? `${all} circuits` : `${n} of ${all} circuits`),
	nothingFound: "No circuit has all of these words.",
	libraryNote: "You get your own copy. The library stays as it is.",
	picture: (title: string) => `Small drawing of ${title}`,

	fileTitle: "File",
	thisWork: "This work",
	name: "Name",
	rename: "Rename",
	renamed: (name: string) => `The work is now called “${name}”.`,
	save: "Save",
	saveAs: "Save as …",
	download: "Download",
	savePicture: "Save a picture …",
	saveHow: "Save asks once where, then writes to the same file again. Undo still works afterwards.",
	downloadHow: "This browser saves by download: look in its download folder. Undo still works afterwards.",
	saved: (name: string) => `Saved in ${name}.`,
	downloaded: (name: string) => `${name} was handed to the browser. Look in its download folder.`,
	saveFailed: "The file could not be written. Download the text instead.",
	other: "Other work",
	fresh: "New",
	freshName: "new-circuit",
	open: "Open a file …",
	dropHere: "Or drop a file on the page.",
	dropNow: "Drop the file to open it",
	noDrop: "This lesson takes no files.",
	recent: "Kept on this machine",
	recentNone: "Nothing else is kept yet.",
	present: "on the desk now",
	elsewhere: "open in another tab: you get a copy",
	newerWork: "kept by a newer desk; open it there",
	remove: "Delete",
	removeNamed: (name: string) => `Delete ${name}`,
	reallyRemove: "Delete for good?",
	removed: (name: string) => `“${name}” was deleted.`,
	bringBack: "Bring it back",
	broughtBack: (name: string) => `“${name}” is kept again.`,

	opened: (name: string, before: string) => `“${name}” is on the desk. “${before}” is kept.`,
	openedTwin: (title: string, name: string) =>
		`Another copy of “${title}” is on the desk, named “${name}”. The one before is kept.`,
	goBack: (name: string) => `Back to “${name}”`,
	goBackTwin: "Back to the one before",
	copyChanged: "changed",
	skipped: (name: string) =>
		`“${name}” could not be opened the last two times, so the desk begins without it. It is still under File.`,
	openedAgain: (name: string, when: string) => `This is “${name}”, as it was ${when}.`,
	beginAfresh: "Begin with the library instead",
	notText: (name: string) => `${name} is not a circuit: a circuit is a plain text file.`,
	tooBig: (name: string) => `${name} is too big to be a circuit.`,
	isPredictions: (name: string) => `${name} holds predictions. Open it from Predict.`,
	unreadable: (name: string) => `${name} could not be read.`,

	stateLabel: "Where this work is kept",
	state: {
		kept: "Kept on this machine",
		waiting: "Not kept yet",
		full: "Not kept: no room",
		forbidden: "Not kept here",
	},
	inFile: (name: string) => `and saved in ${name}`,
	changed: (name: string) => `changed since ${name}`,
	full: "This machine has no more room for your work. Download it, or delete kept works under File. You can go on.",
	forbidden: "This browser keeps nothing for this page. Download your work before you close it. You can go on.",
	letGo: (names: string[]) =>
		names.length === 1
			? `No more than thirty works are kept: “${names[0]}”, the oldest, was let go.`
			: `No more than thirty works are kept: the oldest were let go (${names.map((n) => `“${n}”`).join(", ")}).`,
	newerKept: "A newer desk has kept work on this machine. It was left alone; open it with the newer desk.",
	copied: "This work was open in another tab, so this tab goes on with a copy of its own.",
	/** When something was kept, for reading. */
	when: (at: Date, now: Date) => {
		const time = at.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
		const days = Math.round((new Date(now).setHours(0, 0, 0, 0) - new Date(at).setHours(0, 0, 0, 0)) / 86_400_000);
		if (days === 0) return `today at ${time}`;
		if (days === 1) return `yesterday at ${time}`;
		return `on ${at.toLocaleDateString("en-GB", { day: "numeric", month: "long", year: "numeric" })} at ${time}`;
	},

	lesson: {
		label: "Lesson",
		unread:
			"The lesson in this file was made for a newer desk. Ask for a newer copy of the file. Here is the plain desk.",
		circuit: "Circuit",
		which: (n: number, of: number) => `Circuit ${n} of ${of}`,
		next: "Next circuit",
		back: "Previous circuit",
		seen: "seen",
		afresh: "Begin this circuit afresh",
		afreshDone: "Here is the circuit as the lesson has it. What you did is kept.",
		mine: "Back to what I did",
		other: "Other work",
		closed: "First predict, then reveal.",
		nextShort: "Next",
		backShort: "Previous",
	},
	notes: {
		title: "Notes",
		aim: "Aim",
		try: "Try this",
		say: "To say in class",
		trap: "What is easily got wrong",
		/** How a suggestion begins that changes the circuit. */
		needsWrite:
			/^(Put|Write|Take|Feed|Change|Replace|Move|Build|Add|Rewire|Wire|Exchange|Cure|Make|Use|Connect|Remove|Insert|Draw (?:a|another) (?:rung|contact)|Give \S+ (?:a|an)|Leave \S+ (?:\S+ ){0,2}out)\b/,
		caution: "Mind",
	},

	cautionMore: "Read all",
	cautionLess: "Read; fold away",
	hint: {
		label: "What to do first",
		play: "Press Play and watch.",
		press: (name: string) => `Press ${name} and watch what follows.`,
		turn: (name: string) => `Operate ${name} and watch what follows.`,
		now: (name: string) => `Time runs. Now operate ${name}.`,
		later: "Go back in time at any moment, and ask why a contact or lamp is as it is.",
	},

	keys: [
		["Ctrl S", "save the file"],
		["Ctrl O", "open a file"],
	] as [string, string][],
};
