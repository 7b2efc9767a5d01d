// Words of the area "look".

import { bsd, mit } from "./licences";

export const look = {
	cell: "Look",
	title: "Look",
	symbols: "Symbols",
	international: "International",
	american: "American",
	layout: "Drawn as",
	rungs: "Rungs",
	paths: "Current paths",
	words: "Words beside contacts",
	shown: "Shown",
	left: "Left out",
	ground: "Ground",
	system: "System",
	light: "Light",
	dark: "Dark",
	text: "Text",
	normal: "Normal",
	large: "Large",
	ink: "Colour",
	coloured: "In colour",
	grey: "As printed in black",
	greyHint: "Amber and blue turn grey. What is live still shows by its heavy line, and what is timing by its ring.",
	projector: "Projector view",
	projectorHow: "The board alone, as large as it goes. Escape leads back.",
	keys: "Keys",
	about: "About",

	keysTitle: "Keys",
	key: "Key",
	does: "What it does",
	groups: {
		run: "Run",
		write: "Write",
		predict: "Predict",
		files: "Files",
		common: "Everywhere",
	},
	common: [
		["Tab", "to the next thing that can be operated"],
		["Esc", "closes what lies over the page"],
	] as [string, string][],

	aboutTitle: "About this desk",
	what: "tarry shows what circuits with time-delay relays do, and why. Everything on this page is computed here, from the text of the circuit, on this machine. Nothing is sent anywhere.",
	version: (v: string) => `Version ${v}`,
	inside: "What is inside",
	inside1: [
		["Preact and Preact Signals", "© Jason Miller and the Preact contributors, MIT licence"],
		["CodeMirror and Lezer", "© Marijn Haverbeke and others, MIT licence"],
		["Go, its library and its WebAssembly support", "© The Go Authors, BSD 3-clause licence"],
		["The Go fonts", "© Bigelow & Holmes Inc., BSD 3-clause licence"],
	] as [string, string][],
	licences: [
		["MIT licence", mit],
		["BSD 3-clause licence", bsd],
	] as [string, string][],
};
