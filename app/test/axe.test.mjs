// axe-core looks over every screen, on light and on dark ground: it must find
// nothing serious.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import {
	area,
	button,
	desk,
	drop,
	hand,
	libraryFile,
	libraryText,
	part,
	pause,
	phone,
	room,
	tarry,
	w,
} from "./lib.mjs";

const axe = readFileSync(fileURLToPath(import.meta.resolve("axe-core/axe.min.js")), "utf8");

/** What axe finds on the page as it stands, the serious part of it. */
async function clean(page, where) {
	const found = await page.evaluate(async () => {
		const r = await window.axe.run(document, { resultTypes: ["violations"] });
		return r.violations
			.filter((v) => v.impact === "serious" || v.impact === "critical")
			.map(
				(v) =>
					`${v.id}: ${v.nodes
						.map((n) => `${n.html.slice(0, 160)} (${n.any[0]?.message ?? ""})`)
						.slice(0, 3)
						.join(" | ")}`,
			);
	});
	assert.deepEqual(found, [], where);
}

async function dialogs(page) {
	for (const name of [w.files.library, w.files.file, w.look.cell]) {
		await button(page.locator(".title-block"), name).click();
		const dialog = page.getByRole("dialog");
		await dialog.waitFor();
		if (name === w.files.library) await dialog.locator("[data-number]").first().waitFor();
		await clean(page, name);
		await page.keyboard.press("Escape");
		await dialog.waitFor({ state: "detached" });
	}
}

async function behindLook(page) {
	for (const name of [w.look.keys, w.look.about]) {
		await button(page.locator(".title-block"), w.look.cell).click();
		await button(page.getByRole("dialog"), name).click();
		await page.getByRole("dialog", { name: name === w.look.keys ? w.look.keysTitle : w.look.aboutTitle }).waitFor();
		await clean(page, name);
		await page.keyboard.press("Escape");
		await page.getByRole("dialog").waitFor({ state: "detached" });
	}
}

async function run(page) {
	await hand(page, "S1").click();
	await page.waitForFunction(() => tarryDesk.frame.value.now > 0);
	await pause(page);
	await part(page, "KT1").click();
	await page.locator(".card").waitFor();
	await clean(page, "a card");
	await page.keyboard.press("Escape");
	await button(page.locator(".why-ask"), w.run.reasons.why).click();
	await part(page, "H1").click();
	await page.locator(".answer").waitFor();
	await clean(page, "run");
}

async function write(page) {
	await area(page, "write");
	await part(page, "KT1").click();
	await clean(page, "write");
	await button(page.locator(".write-bar"), w.write.strip.addRung).click();
	await page.getByRole("option").first().waitFor();
	await clean(page, "a picker");
	await page.keyboard.press("Escape");
}

async function predict(page) {
	await area(page, "predict");
	await page.locator(".predict-strip").first().waitFor();
	await clean(page, "predict");
	await button(page, w.predict.reveal).click();
	await page.locator(".predict-results").waitFor();
	await clean(page, "predict, revealed");
}

async function print(page) {
	await area(page, "print");
	await page.locator(".print-page").first().waitFor();
	await clean(page, "print");
}

/** Every screen of the desk, one after the other. */
async function everywhere(page) {
	await page.evaluate(axe);
	await drop(page, "sizer", libraryText(1));
	await run(page);
	await write(page);
	await predict(page);
	await print(page);
	await dialogs(page);
	await behindLook(page);
}

desk("nothing serious on light ground", {}, ({ page }) => everywhere(page));
desk("nothing serious on dark ground", { context: { colorScheme: "dark" } }, ({ page }) => everywhere(page));

desk("nothing serious on a phone, nor with faults in the text", { context: phone }, async ({ page }) => {
	await page.evaluate(axe);
	await clean(page, "run");
	await drop(page, "broken", 'circuit "Broken"\nS2 swich\n1: S9 -> H1\n');
	await page.locator("main.mode-write").waitFor();
	await clean(page, "faults");
	for (const mode of ["run", "predict", "print"]) {
		await area(page, mode);
		await clean(page, mode);
	}
});

desk("nothing serious in the projector view", {}, async ({ page }) => {
	await page.evaluate(axe);
	await button(page.locator(".title-block"), w.look.cell).click();
	await button(page.getByRole("dialog"), w.look.projector).click();
	await page.locator("main.projector svg.picture").waitFor();
	await page.keyboard.press("c");
	await page.locator(".projector .chart-svg").waitFor();
	await clean(page, "projector");
});

const file = join(room, "lesson.html");
tarry("pack", libraryFile(1), libraryFile(8), "-o", file, "--predict", "all");
desk("nothing serious in a lesson", { url: pathToFileURL(file).href }, async ({ page }) => {
	await page.evaluate(axe);
	await page.locator(".predict-strip").first().waitFor();
	await clean(page, "lesson");
	await button(page, w.predict.reveal).click();
	await page.locator(".predict-results").waitFor();
	await area(page, "run");
	await clean(page, "lesson, run");
});
