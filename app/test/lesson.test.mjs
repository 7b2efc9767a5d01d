// A lesson that `tarry pack` made: one file, opened by a double click.

import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { area, button, desk, libraryFile, libraryText, ready, room, tarry, w } from "./lib.mjs";

const l = w.files.lesson;

function pack(name, ...more) {
	const file = join(room, `${name}.html`);
	tarry("pack", libraryFile(1), libraryFile(8), "-o", file, "--title", "Start delays", ...more);
	return pathToFileURL(file).href;
}
const watched = pack("watched", "--predict", "all");
const written = pack("written", "--editor");

const modes = (page) => page.locator(".title-block nav button").allTextContents();

desk(
	"a packed lesson opens with its first circuit to be predicted, and no editor",
	{ url: watched },
	async ({ page }) => {
		await page.getByRole("heading", { name: "Start delays" }).waitFor();
		assert.deepEqual(await modes(page), [w.modes.run, w.modes.predict, w.modes.print]);
		await page.locator("main.mode-predict .predict-strip").first().waitFor();
		await button(page, w.predict.reveal).click();
		await page.locator(".predict-results").waitFor();
		for (const gone of [w.files.library, w.files.file]) assert.equal(await button(page, gone).count(), 0);
		assert.equal(await page.locator(".cm-editor").count(), 0);
	},
);

desk("a lesson leads from circuit to circuit and knows where it was", { url: watched }, async ({ page }) => {
	await button(page, l.next).click();
	await page.getByText(l.which(2, 2)).waitFor();
	await page.waitForFunction((t) => tarryDesk.text.value === t, libraryText(8));
	await page.reload();
	await ready(page);
	await page.getByText(l.which(2, 2)).waitFor();
	await button(page, l.back).click();
	await page.waitForFunction((t) => tarryDesk.text.value === t, libraryText(1));
});

desk("a lesson with an editor has one", { url: written }, async ({ page }) => {
	assert.deepEqual(await modes(page), Object.values(w.modes));
	await area(page, "write");
	await page.locator(".cm-editor").waitFor();
});

desk("a lesson opens in Firefox as well", { url: watched, browser: "firefox" }, async ({ page }) => {
	await page.locator("main.mode-predict .predict-strip").first().waitFor();
});

/** The lesson with something else in its place. */
function changed(name, change) {
	const file = join(room, "watched.html");
	const html = readFileSync(file, "utf8");
	const made = html.replace(
		/(<script type="application\/json" id="lesson">)([\s\S]*?)(<\/script>)/,
		(_, a, b, c) => a + change(b) + c,
	);
	assert.notEqual(made, html);
	const out = join(room, `${name}.html`);
	writeFileSync(out, made);
	return pathToFileURL(out).href;
}

for (const [what, change] of [
	["made by a newer desk", (json) => JSON.stringify({ ...JSON.parse(json), version: 99 }).replaceAll("<", "\\u003c")],
	["cut off", (json) => json.slice(0, 40)],
]) {
	desk(
		`a lesson ${what} is said, and the plain desk stands there`,
		{ url: changed(what, change) },
		async ({ page }) => {
			await page.locator(".told").getByText(l.unread).waitFor();
			await page.locator("button[data-part]").first().waitFor();
			assert.deepEqual(await modes(page), Object.values(w.modes));
		},
	);
}
