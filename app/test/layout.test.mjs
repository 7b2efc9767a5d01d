// On a phone of 360 × 740: nothing runs out of the page sideways, and
// everything can be hit with a finger.

import assert from "node:assert/strict";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { area, button, desk, drop, libraryFile, libraryText, phone, room, tarry, w } from "./lib.mjs";

/** No sideways scroll, and no control smaller than a finger needs, but for those within the drawings. */
async function fits(page, where) {
	const found = await page.evaluate(() => {
		const page = document.scrollingElement;
		const small = [];
		for (const e of document.querySelectorAll("button, select, summary, input, [role=slider], [role=option]")) {
			if (e.closest(".parts, .cm-editor, .row-why, .chart-area") || !e.checkVisibility({ visibilityProperty: true }))
				continue;
			// A small box in a label is hit by the whole label.
			const box = (e.closest("label") ?? e).getBoundingClientRect();
			if (box.width < 40 || box.height < 40)
				small.push(`${Math.round(box.width)}×${Math.round(box.height)} ${e.outerHTML.slice(0, 120)}`);
		}
		return { over: page.scrollWidth - window.innerWidth, small };
	});
	assert.deepEqual(found, { over: 0, small: [] }, where);
}

async function everywhere(page) {
	await fits(page, "run");
	for (const mode of ["write", "predict", "print"]) {
		await area(page, mode);
		if (mode === "predict") await page.locator(".predict-strip").first().waitFor();
		if (mode === "print") await page.locator(".print-page").first().waitFor();
		await fits(page, mode);
	}
}

/** The longest words and the widest drawings of the library. */
for (const number of [8, 11, 29]) {
	desk(`circuit ${number} fits a phone in all four areas`, { context: phone }, async ({ page }) => {
		await drop(page, "on-a-phone", libraryText(number));
		await everywhere(page);
	});
}

desk("the dialogs and the cards fit a phone", { context: phone }, async ({ page }) => {
	for (const name of [w.files.library, w.files.file, w.look.cell]) {
		await button(page.locator(".title-block"), name).tap();
		const dialog = page.getByRole("dialog");
		await dialog.waitFor();
		if (name === w.files.library) await dialog.locator("[data-number]").first().waitFor();
		await fits(page, name);
		await button(dialog, w.desk.close).tap();
		await dialog.waitFor({ state: "detached" });
	}
	await drop(page, "sizer", libraryText(1));
	await page.locator('.board [data-part="KT1"]').tap();
	await page.locator(".card").waitFor();
	await fits(page, "a timer's card");
	await area(page, "write");
	await page.locator('[data-part="KT1"]').tap();
	await fits(page, "a chosen part");
	await button(page.locator(".write-bar"), w.write.strip.addRung).tap();
	await page.getByRole("option").first().waitFor();
	await fits(page, "a picker");
});

const file = join(room, "lesson.html");
tarry(
	"pack",
	libraryFile(8),
	libraryFile(11),
	"-o",
	file,
	"--predict",
	"all",
	"--title",
	"Start delays and star-delta",
);
desk("a lesson fits a phone", { context: phone, url: pathToFileURL(file).href }, async ({ page }) => {
	await page.locator(".predict-strip").first().waitFor();
	await fits(page, "predict");
	await button(page, w.predict.reveal).click();
	await page.locator(".predict-results").waitFor();
	await area(page, "run");
	await fits(page, "run");
	await area(page, "print");
	await fits(page, "print");
});

desk("large text fits a phone as well", { context: phone }, async ({ page }) => {
	await button(page, w.look.cell).tap();
	await page.getByRole("dialog").getByLabel(w.look.large, { exact: true }).check();
	await page.keyboard.press("Escape");
	await page.locator(':root[data-text="large"]').waitFor();
	await everywhere(page);
});
