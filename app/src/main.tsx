// Where the page begins.

import { render } from "preact";
import { begin } from "./begin";
import { lacks, wake } from "./engine";
import { App } from "./ui/App";
import { w } from "./words";

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
