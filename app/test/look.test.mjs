// How things look: light and dark, both traditions and layouts, the projector
// and its keys, less motion.

import assert from "node:assert/strict";
import { button, desk, drop, hand, libraryText, now, part, pause, ready, shows, w } from "./lib.mjs";

async function choose(page, label, words) {
	await button(page.locator(".title-block"), w.look.cell).click();
	const dialog = page.getByRole("dialog", { name: w.look.title });
	await dialog.getByRole("group", { name: label }).getByLabel(words, { exact: true }).check();
	await page.keyboard.press("Escape");
	await dialog.waitFor({ state: "detached" });
}

/** The drawing's own lines, without the marks of the state. */
const lines = (page) =>
	page.locator(".board svg.picture").evaluate((svg) =>
		[...svg.children]
			.filter((g) => !g.matches(".marks, .rings"))
			.map((g) => g.outerHTML)
			.join(""),
	);

desk("tradition and layout change the drawing, not the run, and are kept", {}, async ({ page }) => {
	await drop(page, "sizer", libraryText(1));
	await hand(page, "S1").click();
	await page.waitForFunction(() => tarryDesk.frame.value.now > 0);
	await pause(page);
	const at = await now(page);
	const drawn = new Set([await lines(page)]);
	for (const [label, words, view] of [
		[w.look.symbols, w.look.american, { symbols: "american" }],
		[w.look.layout, w.look.paths, { layout: "paths" }],
		[w.look.symbols, w.look.international, { symbols: "international" }],
		[w.look.words, w.look.left, { noWords: true }],
	]) {
		const before = await lines(page);
		await choose(page, label, words);
		await page.waitForFunction((want) => Object.entries(want).every(([k, v]) => tarryDesk.view.value[k] === v), view);
		await page.waitForFunction((was) => {
			const groups = [...document.querySelector(".board svg.picture").children];
			const drawing = groups.filter((g) => !g.matches(".marks, .rings"));
			return drawing.map((g) => g.outerHTML).join("") !== was;
		}, before);
		drawn.add(await lines(page));
		assert.equal(await now(page), at);
	}
	assert.equal(drawn.size, 5);
	await page.reload();
	await ready(page);
	const view = await page.evaluate(() => tarryDesk.view.value);
	assert.deepEqual([view.symbols, view.layout, view.noWords], ["international", "paths", true]);
});

const paper = (page) => page.evaluate(() => getComputedStyle(document.querySelector(".paper")).backgroundColor);
/** How light a colour is, from 0 to 1. */
const light = (colour) =>
	colour
		.match(/\d+/g)
		.slice(0, 3)
		.reduce((sum, n) => sum + Number(n), 0) / 765;

desk("the ground follows the system until it is chosen", { context: { colorScheme: "dark" } }, async ({ page }) => {
	assert.ok(light(await paper(page)) < 0.3);
	await page.emulateMedia({ colorScheme: "light" });
	await page.locator(':root:not([data-ground="dark"])').waitFor();
	assert.ok(light(await paper(page)) > 0.8);
	await choose(page, w.look.ground, w.look.dark);
	assert.ok(light(await paper(page)) < 0.3);
	await page.reload();
	assert.ok(light(await paper(page)) < 0.3);
	await choose(page, w.look.ground, w.look.light);
	await page.emulateMedia({ colorScheme: "dark" });
	assert.ok(light(await paper(page)) > 0.8);
});

desk("the projector is worked by its keys", {}, async ({ page }) => {
	await drop(page, "sizer", libraryText(1));
	await page.getByLabel(w.run.scripts.label).selectOption({ index: 1 });
	await page.waitForFunction(() => tarryDesk.playing.value);
	await pause(page);
	await button(page, w.run.time.over).click();
	await shows(page, 0);
	await button(page.locator(".title-block"), w.look.cell).click();
	await button(page.getByRole("dialog"), w.look.projector).click();
	const board = page.locator("main.projector");
	await board.waitFor();
	await page.keyboard.press("PageDown");
	await shows(page, 2e9);
	await page.keyboard.press("PageDown");
	await shows(page, 7e9);
	await board.locator(".sentence").getByText("H1").waitFor();
	await page.keyboard.press("PageUp");
	await shows(page, 2e9);
	await page.keyboard.press("b");
	await page.getByRole("button", { name: w.run.projector.blank }).waitFor();
	await page.keyboard.press("b");
	await page.getByRole("button", { name: w.run.projector.blank }).waitFor({ state: "detached" });
	await page.keyboard.press("c");
	await board.locator(".chart-svg").waitFor();
	await page.keyboard.press("Escape");
	await page.locator(".title-block").waitFor();
	assert.equal(await now(page), 2e9);
});

/** Puts the board on the wall. */
async function project(page) {
	await button(page.locator(".title-block"), w.look.cell).click();
	await button(page.getByRole("dialog"), w.look.projector).click();
	await page.locator("main.projector svg.picture").waitFor();
}

desk("the projector answers why, for one instant, and brings no answer along", {}, async ({ page }) => {
	await drop(page, "sizer", libraryText(1));
	await page.keyboard.press("w");
	await part(page, "KT1").click();
	const answer = page.locator(".answer");
	await answer.getByRole("heading").getByText("KT1").waitFor();
	await project(page);
	assert.equal(await answer.count(), 0);
	await part(page, "H1").click();
	await answer.getByRole("heading").getByText("H1").waitFor();
	const [asked, told] = [await part(page, "H1").boundingBox(), await answer.boundingBox()];
	const clear = told.y >= asked.y + asked.height || told.y + told.height <= asked.y || told.x >= asked.x + asked.width;
	assert.ok(clear, "the answer covers what was asked");
	await page.keyboard.press(" ");
	await page.waitForFunction(() => tarryDesk.frame.value.now > 0);
	await answer.waitFor({ state: "detached" });
	await page.keyboard.press(" ");
	await page.waitForFunction(() => !tarryDesk.playing.value);
	// Asked for by key, a hand answers too.
	await page.keyboard.press("w");
	await page.locator(".sentence").getByText(w.run.reasons.askPart).waitFor();
	await page.locator('.board [data-tag="S1"]').first().click();
	await answer.getByRole("heading").getByText("S1").waitFor();
	assert.equal(await page.evaluate(() => tarryDesk.frame.value.hands[0]), 0);
	await page.keyboard.press("Escape");
	await answer.waitFor({ state: "detached" });
});

desk("in the projector view Space pauses after a hand was pressed by mouse", {}, async ({ page }) => {
	await drop(page, "sizer", libraryText(1));
	await project(page);
	await hand(page, "S1").click();
	await page.waitForFunction(() => tarryDesk.playing.value && tarryDesk.frame.value.hands[0] === 1);
	await page.keyboard.press(" ");
	await page.waitForFunction(() => !tarryDesk.playing.value);
	assert.equal(await page.evaluate(() => tarryDesk.frame.value.hands[0]), 1);
});

desk(
	"with less motion nothing moves by itself, and the ring goes by quarters",
	{ context: { reducedMotion: "reduce" } },
	async ({ page }) => {
		await drop(page, "sizer", libraryText(1));
		await hand(page, "S1").click();
		const shares = await page.evaluate(async () => {
			const seen = new Set();
			while (tarryDesk.frame.value.now < 3e9) {
				await new Promise(requestAnimationFrame);
				const arc = document.querySelector(".timer-ring.shown .ring-share");
				if (arc) seen.add(Number.parseFloat(arc.getAttribute("stroke-dasharray")));
			}
			return [...seen];
		});
		assert.ok(shares.length > 0 && shares.every((x) => x % 25 === 0), `${shares}`);
		const moving = await page.evaluate(() =>
			document.getAnimations().map((a) => a.animationName ?? a.transitionProperty ?? "an animation"),
		);
		assert.deepEqual(moving, []);
	},
);
