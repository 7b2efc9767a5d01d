// What the desk has on record of a run is what the command computes, and time
// goes back exactly the way it came.

import assert from "node:assert/strict";
import {
	area,
	button,
	desk,
	downloaded,
	drop,
	libraryFile,
	libraryText,
	now,
	pause,
	ready,
	shows,
	step,
	tarry,
	w,
} from "./lib.mjs";

/** Takes a circuit from the library, as a user does. */
async function fromLibrary(page, number) {
	await button(page.locator(".files"), w.files.library).click();
	const dialog = page.getByRole("dialog", { name: w.files.libraryTitle });
	await dialog.getByRole("searchbox").fill(String(number));
	await dialog.locator(`[data-number="${number}"]`).click();
	await dialog.waitFor({ state: "detached" });
	const text = libraryText(number);
	await page.waitForFunction((t) => tarryDesk.text.value === t, text);
	await ready(page);
}

/** Chooses a script by its place and lets nothing but steps move the time. */
async function choose(page, place) {
	await page.getByLabel(w.run.scripts.label).selectOption({ index: place + 1 });
	await page.waitForFunction((n) => tarryDesk.scriptPlace.value === n && tarryDesk.playing.value, place);
	await pause(page);
}

const end = (page) => page.evaluate(() => tarryDesk.sheet.value.scripts[tarryDesk.scriptPlace.value].end);

/** A table's rows without the column that names the script. */
const rows = (csv) =>
	csv
		.trim()
		.split(/\r?\n/)
		.map((line) => line.replace(/^("(?:[^"]|"")*"|[^,]*),/, ""));

desk("twenty scripts of the library leave the command's own record", {}, async ({ page }) => {
	for (let number = 1; number <= 20; number++) {
		await fromLibrary(page, number);
		const scripts = await page.evaluate(() => tarryDesk.sheet.value.scripts.length);
		const place = number % scripts;
		await choose(page, place);
		await step(page);
		await step(page);
		const last = await end(page);
		await page.evaluate((to) => tarryDesk.goTo(to), last);
		await shows(page, last);
		const record = await page.evaluate(async () => atob((await tarryDesk.call("record", { form: "csv" })).data));
		const own = tarry("run", libraryFile(number), "--script", String(place + 1), "--csv");
		const bytes = Buffer.from(record, "latin1").toString("utf8");
		assert.deepEqual(rows(bytes), rows(own), `circuit ${number}, script ${place + 1}`);
	}
});

desk("the record is saved as a table from Print", {}, async ({ page }) => {
	await drop(page, "sizer", libraryText(1));
	await choose(page, 0);
	while ((await now(page)) < (await end(page)) && (await step(page)));
	await area(page, "print");
	const file = await downloaded(page, () => button(page, w.print.pictures.csv).click());
	assert.match(file.name, /^sizer.*\.csv$/);
	assert.deepEqual(rows(file.text), rows(tarry("run", libraryFile(1), "--script", "1", "--csv")));
});

/** All that the board shows of an instant, once it is painted: words, marks, rings, what parts say. */
const shown = (page) =>
	page.evaluate(async () => {
		for (let n = 0; n < 2; n++) await new Promise(requestAnimationFrame);
		const each = (what, of) => [...document.querySelectorAll(what)].map(of);
		return {
			at: tarryDesk.frame.value.now,
			words: tarryDesk.frame.value.words,
			marks: each(".board .marks > g", (g) => g.outerHTML),
			rings: each(".board .timer-ring.shown", (g) => g.outerHTML),
			parts: each(".board button[data-part]", (b) => b.getAttribute("aria-label")),
			hands: each(".hand-state", (h) => h.textContent),
		};
	});

/** Waits until the layouts have been tried, one call each, and the drawing stands as it will. */
const laidOut = (page) =>
	page.evaluate(async () => {
		const layout = () => document.querySelector(".board svg.picture").getAttribute("viewBox");
		for (let same = 0, was = layout(); same < 12; same++) {
			await tarryDesk.call("story", { limit: 1 });
			await new Promise(requestAnimationFrame);
			if (layout() !== was) same = 0;
			was = layout();
		}
	});

for (const number of [5, 8, 11]) {
	desk(`every instant of circuit ${number} shows the same going forwards and back`, {}, async ({ page }) => {
		await drop(page, "there-and-back", libraryText(number));
		await choose(page, 0);
		await button(page, w.run.time.over).click();
		await shows(page, 0);
		await laidOut(page);
		const last = await end(page);
		const forth = [await shown(page)];
		while ((await step(page)) && (await now(page)) <= last) forth.push(await shown(page));
		assert.ok(forth.length > 4 && forth.some((x) => x.marks.length > 5), `${forth.length} instants`);
		if ((await now(page)) > forth.at(-1).at) await step(page, "back");
		for (const was of forth.reverse()) {
			assert.deepEqual(await shown(page), was);
			if (was.at > 0) await step(page, "back");
		}
	});
}
