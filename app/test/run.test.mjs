// Hands on the board: what is held, what stays, two fingers at once; taking
// over from a script; the reasons; and the chart's cursor.

import assert from "node:assert/strict";
import { button, desk, drop, hand, libraryText, now, part, pause, phone, shows, step, w } from "./lib.mjs";

// Circuit 5: S0 stops, S1 starts, KT1 seals in at once, H1 comes 5 s later.
const [S0, S1, KT1] = [0, 1, 2];
const open = (page) => drop(page, "dab", libraryText(5));
const pressed = (page, device, down) =>
	page.waitForFunction(([d, n]) => tarryDesk.frame.value.hands[d] === n, [device, down ? 1 : 0]);
const on = (page, device, yes) => page.waitForFunction(([d, y]) => tarryDesk.frame.value.on[d] === y, [device, yes]);
const told = (page, words) => page.locator(".told").getByText(words).waitFor();

desk("a button is down as long as the mouse, or its key, holds it", {}, async ({ page }) => {
	await open(page);
	await part(page, "S1.no:1").or(page.locator('.board [data-tag="S1"]')).first().hover();
	await page.mouse.down();
	await pressed(page, S1, true);
	await on(page, KT1, true);
	await page.mouse.up();
	await pressed(page, S1, false);
	await on(page, KT1, true);
	await page.keyboard.down("1");
	await pressed(page, S0, true);
	await on(page, KT1, false);
	await page.keyboard.up("1");
	await pressed(page, S0, false);
});

desk("a button pressed with Shift stays, and the next press lets it go", {}, async ({ page }) => {
	await open(page);
	await hand(page, "S1").click({ modifiers: ["Shift"] });
	await pressed(page, S1, true);
	assert.equal(await now(page), 0);
	await hand(page, "S1").getByText(w.run.state.latched).waitFor();
	await hand(page, "S1").click();
	await pressed(page, S1, false);
});

desk(
	"Space still means play or pause after a press by mouse, and a hand that has the focus takes it",
	{},
	async ({ page }) => {
		await open(page);
		await hand(page, "S1").click();
		await page.waitForFunction(() => tarryDesk.playing.value);
		await pressed(page, S1, false);
		await page.keyboard.press(" ");
		await page.waitForFunction(() => !tarryDesk.playing.value);
		await pressed(page, S1, false);
		await hand(page, "S1").focus();
		await page.keyboard.press(" ");
		await pressed(page, S1, true);
		await page.keyboard.press("Enter");
		await pressed(page, S1, false);
		assert.equal(await page.evaluate(() => tarryDesk.playing.value), false);
	},
);

desk("after a look back, Next leads on to the present", {}, async ({ page }) => {
	await open(page);
	await hand(page, "S1").click({ modifiers: ["Shift"] });
	await on(page, KT1, true);
	await page.evaluate(() => tarryDesk.goTo(9e9));
	await shows(page, 9e9);
	assert.ok(await step(page, "back"));
	const back = await now(page);
	assert.ok(back < 9e9);
	await button(page.locator(".steps"), w.run.time.nextLabel).click();
	await shows(page, 9e9);
	await button(page.locator(".steps"), w.run.time.nextLabel).click();
	await told(page, w.desk.nothingNext);
});

desk("two fingers hold two buttons at once", { context: phone }, async ({ page }) => {
	await open(page);
	await hand(page, "S0").evaluate((e) => e.scrollIntoView({ block: "center" }));
	const touch = async (tag, id) => {
		const box = await hand(page, tag).boundingBox();
		return { x: box.x + box.width / 2, y: box.y + box.height / 2, id };
	};
	const [first, second] = [await touch("S0", 1), await touch("S1", 2)];
	const input = await page.context().newCDPSession(page);
	const send = (type, touchPoints) => input.send("Input.dispatchTouchEvent", { type, touchPoints });
	await send("touchStart", [first]);
	await pressed(page, S0, true);
	await send("touchStart", [first, second]);
	await pressed(page, S1, true);
	assert.equal(await page.evaluate(() => tarryDesk.frame.value.on[2]), false, "stop wins");
	await send("touchEnd", []);
	await pressed(page, S0, false);
	await pressed(page, S1, false);
});

desk("a hand that takes over from a script says so, and the script can be brought back", {}, async ({ page }) => {
	await open(page);
	await page.getByLabel(w.run.scripts.label).selectOption({ index: 1 });
	await page.waitForFunction(() => tarryDesk.playing.value);
	await pause(page);
	await page.evaluate(() => tarryDesk.goTo(3e9));
	await shows(page, 3e9);
	const whole = await page.evaluate(() => tarryDesk.sessionLog().length);
	await hand(page, "S1").click();
	await told(page, w.run.hands.forgot);
	assert.notEqual(await page.evaluate(() => tarryDesk.sessionLog().length), whole);
	await button(page.locator(".told"), w.run.hands.bringBack).click();
	await told(page, w.run.hands.isBack);
	assert.equal(await page.evaluate(() => tarryDesk.sessionLog().length), whole);
	assert.equal(await now(page), 3e9);
});

desk("a script that is played stops where it ends", {}, async ({ page }) => {
	await open(page);
	await page.evaluate(() => {
		tarryDesk.speed.value = 10;
	});
	await page.getByLabel(w.run.scripts.label).selectOption({ index: 1 });
	await shows(page, 16e9);
	await told(page, w.run.scripts.ended);
	assert.equal(await page.evaluate(() => tarryDesk.playing.value), false);
});

desk("why? answers for a part and for a row of the chart, also why not", {}, async ({ page }) => {
	await open(page);
	await hand(page, "S1").click({ modifiers: ["Shift"] });
	await on(page, KT1, true);
	await page.keyboard.press("w");
	await part(page, "H1").click();
	const answer = page.locator(".answer");
	await answer.getByRole("heading").getByText("H1").waitFor();
	assert.match(await answer.textContent(), /KT1/);
	await page.getByRole("button", { name: w.run.chart.why("KT1"), exact: true }).click();
	await answer.getByRole("heading").getByText("KT1").waitFor();
	assert.match(await answer.textContent(), /S1/);
});

desk("the chart's cursor and the list of steps lead to any instant", {}, async ({ page }) => {
	await open(page);
	await page.getByLabel(w.run.scripts.label).selectOption({ index: 1 });
	await page.waitForFunction(() => tarryDesk.playing.value);
	await pause(page);
	await page.evaluate(() => tarryDesk.goTo(16e9));
	await shows(page, 16e9);
	await page.locator(".story button").filter({ hasText: "7 s" }).first().click();
	await shows(page, 7e9);
	const cursor = page.getByRole("slider", { name: w.run.chart.cursor });
	await cursor.focus();
	await page.keyboard.press("Home");
	await shows(page, 0);
	await page.keyboard.press("End");
	await shows(page, 16e9);
	const plot = page.locator(".plot");
	await plot.evaluate((e) => e.scrollIntoView({ block: "center" }));
	const box = await plot.boundingBox();
	await page.mouse.move(box.x + box.width * 0.9, box.y + box.height / 2);
	await page.mouse.down();
	await page.mouse.move(box.x + 1, box.y + box.height / 2);
	await page.mouse.up();
	await page.waitForFunction(() => tarryDesk.frame.value.now < 1e9);
	assert.ok(await step(page));
});

desk("in the strip of hands why? explains and moves nothing", {}, async ({ page }) => {
	await open(page);
	await page.keyboard.press("w");
	await hand(page, "S1").click();
	const answer = page.locator(".answer");
	await answer.getByRole("heading").getByText("S1").waitFor();
	assert.match(await answer.textContent(), /not been pressed/);
	await page.keyboard.press("w");
	await page.locator(".hand-button.supply").click();
	await answer.getByRole("heading").getByText("Supply").waitFor();
	assert.deepEqual(await page.evaluate(() => [tarryDesk.sessionLog().length, tarryDesk.frame.value.now]), [0, 0]);
	// The next touch is a hand's again.
	await page.locator(".hand-button.supply").click();
	await page.waitForFunction(() => !tarryDesk.frame.value.supply);
});

desk(
	"a setting that is changed while it runs stands on the drawing, and goes with its instant",
	{},
	async ({ page }) => {
		await open(page);
		const written = () => page.locator(".board svg").first().textContent();
		await page.evaluate(() => tarryDesk.goTo(2e9));
		await page.evaluate(() => tarryDesk.act({ verb: "set", device: 2, presets: [9e9, 0] }));
		await page.waitForFunction(() => document.querySelector(".board").textContent.includes("on-delay 9 s"));
		await page.evaluate(() => tarryDesk.goTo(1e9));
		await page.waitForFunction(() => !document.querySelector(".board").textContent.includes("on-delay 9 s"));
		assert.match(await written(), /on-delay 5 s/);
	},
);
