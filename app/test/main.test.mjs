// The main path in both browsers: a circuit drawn by its picture alone, run,
// gone through forwards and back, and kept as a script.

import assert from "node:assert/strict";
import { area, button, desk, hand, now, part, pause, shows, step, w } from "./lib.mjs";

const s = 1e9;
const { pick, strip, blank, form } = w.write;

/** In the picker: searches for a kind, and makes a new device of it. */
async function make(page, title, kind, settings) {
	const dialog = page.getByRole("dialog", { name: title });
	await dialog.getByRole("combobox", { name: pick.search }).fill(kind);
	await dialog.locator(`#offer-new-${kind.replaceAll(" ", "-")}`).click();
	if (settings) await dialog.getByLabel(pick.settings, { exact: true }).fill(settings);
	await button(dialog, pick.put).click();
}

async function build(page) {
	await button(page, w.files.file).click();
	await button(page.getByRole("dialog"), w.files.fresh).click();
	await page.getByLabel(blank.titleField, { exact: true }).fill("Lamp after two seconds");
	await button(page, blank.first).click();
	await make(page, pick.contactFirst, "switch");
	await make(page, pick.loadOfRung("S1"), "on-delay", "2 s");
	await part(page, "KT1").waitFor();
	await button(page, strip.addRung).click();
	await page.getByRole("dialog", { name: pick.contactFirst }).getByRole("option", { name: "KT1.notc" }).click();
	await make(page, pick.loadOfRung("KT1.notc"), "lamp");
	await part(page, "H1").waitFor();
}

/** Whether a lamp's spoken state is on. */
const lamp = (page, state) => page.locator(`button[data-part="H1"][aria-label$=", ${state}"]`).waitFor();

for (const browser of ["chromium", "firefox"]) {
	desk(`a circuit drawn by its picture runs and is kept as a script in ${browser}`, { browser }, async ({ page }) => {
		await build(page);
		const text = await page.evaluate(() => tarryDesk.text.value);
		assert.match(text, /^KT1\s+on-delay 2 s/m);
		assert.match(text, /^2:\s+KT1\.notc\s+-> H1/m);

		await area(page, "run");
		await lamp(page, w.run.state.off);
		await hand(page, "S1").click();
		await lamp(page, w.run.state.on);
		await pause(page);
		const on = await now(page);
		assert.ok(on >= 2 * s, `on at ${on}`);

		while (await step(page, "back"));
		assert.equal(await now(page), 0);
		await lamp(page, w.run.state.off);
		await step(page);
		assert.equal(await now(page), 2 * s);
		await lamp(page, w.run.state.on);

		await keepAndPlay(page);
	});
}

async function keepAndPlay(page) {
	await button(page, w.run.scripts.keep).click();
	await button(page.getByRole("dialog", { name: w.run.scripts.keepTitle }), w.run.scripts.ok).click();
	await page.getByText(w.run.scripts.kept(w.run.scripts.usualName)).waitFor();
	assert.match(await page.evaluate(() => tarryDesk.text.value), /^script "What we did"/m);
	await page.getByLabel(w.run.scripts.label).selectOption({ label: w.run.scripts.script(w.run.scripts.usualName) });
	await lamp(page, w.run.state.on);
	await button(page, w.run.time.home).click();
	await shows(page, 0);
	await lamp(page, w.run.state.off);
}

desk("undo takes each edit of the picture back, redo brings it again", {}, async ({ page }) => {
	await build(page);
	const text = () => page.evaluate(() => tarryDesk.text.value);
	const whole = await text();
	await button(page, w.write.undo).click();
	await part(page, "H1").waitFor({ state: "detached" });
	assert.doesNotMatch(await text(), /H1/);
	await button(page, w.write.redo).click();
	await part(page, "H1").waitFor();
	assert.equal(await text(), whole);
});

desk("a timer's setting is changed on the picture and stands in the text", {}, async ({ page }) => {
	await build(page);
	await part(page, "KT1").click();
	await button(page.locator(".strip"), strip.setting).click();
	const dialog = page.getByRole("dialog", { name: form.setting("KT1") });
	await dialog.getByRole("textbox").fill("3 s");
	await button(dialog, form.save).click();
	await page.waitForFunction(() => /KT1\s+on-delay 3 s/.test(tarryDesk.text.value));
});
