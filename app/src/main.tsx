// Where the page begins.

import { options, render } from "preact";
import { begin } from "./begin";
import * as desk from "./desk";
import { edit, text } from "./doc";
import { call, lacks, loseWorker, wake } from "./engine";
import { App } from "./ui/App";
import { w } from "./words";

// Effects run as soon as their component stands, not a frame later: between the
// two somebody may have typed, and what an effect puts right would undo it.
Object.assign(options, { requestAnimationFrame: queueMicrotask });

const place = document.getElementById("desk") as HTMLElement;
const missing = lacks();
if (missing.length > 0) {
	place.textContent = w.desk.lacking(missing.join(", "));
} else {
	wake();
	place.textContent = "";
	render(<App />, place);
	begin();
}

// A handle for tests and for the curious, in the browser's console.
Object.assign(globalThis, { tarryDesk: { ...desk, call, edit, text, loseWorker } });
