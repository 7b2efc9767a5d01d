// Light or dark ground. It stands apart from look.ts because it must be in
// force before the first thing is painted: early.ts runs it in the page's head.

export type Ground = "system" | "light" | "dark";

export function applyGround(wanted: Ground) {
	const dark = wanted === "dark" || (wanted === "system" && matchMedia("(prefers-color-scheme: dark)").matches);
	document.documentElement.dataset.ground = dark ? "dark" : "light";
}
