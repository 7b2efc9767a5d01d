// Nothing is lost: by a reload, by a second tab, by a browser that keeps
// nothing, by an engine that stops. What can't be read is left alone, and said.

import assert from "node:assert/strict";
import { area, button, desk, downloaded, drop, hand, libraryText, now, pause, ready, step, w } from "./lib.mjs";

const sizer = libraryText(1);
const text = (page) => page.evaluate(() => tarryDesk.text.value);
const log = (page) => page.evaluate(() => tarryDesk.sessionLog());
const told = (page, words) => page.locator(".told").getByText(words).waitFor();

/** Operates the selector, lets some time run, and stops. */
async function operate(page) {
	await hand(page, "S1").click();
	await page.waitForFunction(() => tarryDesk.frame.value.now > 0);
	await pause(page);
}

/** What stands on the desk: nothing of it may be lost. */
const board = async (page) => ({
	text: await text(page),
	log: await log(page),
	now: await now(page),
	hands: await page.evaluate(() => tarryDesk.frame.value.hands),
});

for (const browser of ["chromium", "firefox"]) {
	desk(`text, run and instant are back after a reload in ${browser}`, { browser }, async ({ page }) => {
		await drop(page, "sizer", sizer);
		await operate(page);
		await step(page);
		await area(page, "write");
		const was = await board(page);
		assert.equal(was.log.length, 1);
		await page.reload();
		await ready(page);
		await page.locator("main.mode-write").waitFor();
		assert.deepEqual(await board(page), was);
	});
}

desk("a second tab leaves the first one's work alone", {}, async ({ page, context, url }) => {
	await drop(page, "sizer", sizer);
	await operate(page);
	const was = await board(page);
	const second = await context.newPage();
	await second.goto(url);
	await ready(second);
	assert.notEqual(await text(second), sizer);
	await drop(second, "aisle", libraryText(3));
	await second.reload();
	await ready(second);
	assert.equal(await text(second), libraryText(3));
	await page.reload();
	await ready(page);
	assert.deepEqual(await board(page), was);
});

desk("what was opened before is in the list and comes back from there", {}, async ({ page }) => {
	await drop(page, "sizer", sizer);
	await operate(page);
	const was = await board(page);
	await drop(page, "aisle", libraryText(3));
	await button(page, w.files.file).click();
	await page.locator(".recent-open").filter({ hasText: "Sizer ready lamp" }).click();
	await page.waitForFunction((t) => tarryDesk.text.value === t && tarryDesk.frame.value.now > 0, sizer);
	assert.deepEqual(await board(page), was);
});

const forbidden = {
	"refuses every record": () => {
		Storage.prototype.setItem = () => {
			throw new DOMException("no", "SecurityError");
		};
	},
	"has no storage at all": () => {
		for (const name of ["localStorage", "sessionStorage"]) {
			Object.defineProperty(window, name, {
				get() {
					throw new DOMException("no", "SecurityError");
				},
			});
		}
	},
};
for (const [what, init] of Object.entries(forbidden)) {
	desk(`a browser that ${what} is told of once, and the work can be downloaded`, { init }, async ({ page }) => {
		await told(page, w.files.forbidden);
		const file = await downloaded(page, () => button(page.locator(".told"), w.files.download).click());
		assert.equal(file.text, await text(page));
		assert.match(file.name, /\.tarry$/);
		await drop(page, "sizer", sizer);
		await operate(page);
		await page.locator(".state-forbidden").waitFor();
		assert.equal(await page.getByText(w.files.forbidden).count(), 0);
		for (const mode of ["write", "predict", "print", "run"]) await area(page, mode);
	});
}

const newer = { format: "tarry work", version: 99, scope: "", text: "of the future", at: 1 };
// Only where the page itself is: the empty page before it may look at no storage.
const init = `location.protocol === "file:" && localStorage.getItem("tarry.desk.work.x") === null && localStorage.setItem("tarry.desk.work.x", '${JSON.stringify(newer)}')`;
desk("the record of a newer desk is left alone, and said", { init }, async ({ page }) => {
	await told(page, w.files.newerKept);
	await drop(page, "sizer", sizer);
	await button(page, w.files.file).click();
	await page.locator(".recent").getByText(w.files.newerWork).waitFor();
	assert.equal(await page.evaluate(() => localStorage.getItem("tarry.desk.work.x")), JSON.stringify(newer));
});

desk("an engine that stops is started again, with text and run as they were", {}, async ({ page }) => {
	await drop(page, "sizer", sizer);
	await operate(page);
	const was = await board(page);
	await page.workers()[0].evaluate(() => {
		globalThis.tarry = () => {
			throw new Error("stopped by the test");
		};
	});
	await page.evaluate(() => tarryDesk.call("story", { limit: 1 }).catch(() => 0));
	await told(page, w.desk.renewed);
	// Calls are held until the engine is itself again.
	await page.evaluate(() => tarryDesk.call("story", { limit: 1 }));
	await page.waitForFunction((at) => tarryDesk.frame.value.now === at && !tarryDesk.playing.value, was.now);
	assert.deepEqual(await board(page), was);
	assert.ok(await step(page));
});

desk("an engine that won't run any more is said, and the text can be downloaded", {}, async ({ page }) => {
	await drop(page, "sizer", sizer);
	for (let n = 0; n < 4; n++) await page.evaluate(() => tarryDesk.loseWorker());
	await told(page, w.desk.lost);
	const file = await downloaded(page, () => button(page.locator(".told"), w.files.download).click());
	assert.equal(file.text, sizer);
});

desk("a broken file opens with its faults beside the text", {}, async ({ page }) => {
	await drop(page, "broken", 'circuit "Broken"\nS2 swich\nH1 lamp\n1: S9 -> H1\n');
	await page.locator("main.mode-write").waitFor();
	await page.locator(".cm-editor").getByText("swich").waitFor();
	await page.locator(".faults").getByText("S9").first().waitFor();
	for (const mode of ["run", "predict", "print", "write"]) await area(page, mode);
});

desk("what is no circuit is refused, and the desk stays as it is", {}, async ({ page }) => {
	const before = await text(page);
	await page.evaluate(() => {
		const held = new DataTransfer();
		held.items.add(new File([new Uint8Array([0xff, 0xd8, 0x00])], "photo.jpg"));
		window.dispatchEvent(new DragEvent("drop", { dataTransfer: held, cancelable: true }));
	});
	await told(page, w.files.notText("photo.jpg"));
	assert.equal(await text(page), before);
});

const lacking = { init: "delete globalThis.WebAssembly", unready: true };
desk("a browser without WebAssembly is told what it lacks", lacking, async ({ page }) => {
	await page.getByText(w.desk.lacking("WebAssembly")).waitFor();
});
