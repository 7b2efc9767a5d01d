// Marks and what may be behind an answer, charts to choose, a class's answers,
// telling presses; in a lesson what belongs to the learner.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { area, button, desk, downloaded, drop, libraryFile, libraryText, phone, room, tarry, w } from "./lib.mjs";

const m = w.mark;
// Circuit 1, its first script: the lamp is on from 7 s to 12 s of 16 s.
const text = libraryText(1);
const axe = readFileSync(fileURLToPath(import.meta.resolve("axe-core/axe.min.js")), "utf8");

async function open(page) {
	await drop(page, "sizer", text);
	await area(page, "predict");
	await page.locator(".predict-strip").first().waitFor();
}

const task = (page, kind) => page.getByRole("radio", { name: m.task[kind], exact: true }).check();

/** Answers each row in words and reveals. */
async function answer(page, words) {
	for (const row of await page.locator(".predict-answer input").all()) {
		await row.fill(words);
		await row.press("Enter");
	}
	await button(page, w.predict.reveal).click();
	await page.locator(".mark-behind").waitFor();
}

async function noDelay(page) {
	await answer(page, "on 2 s .. 12 s");
	await page.locator(".mark-fits").getByText("“No delay”").first().waitFor();
	assert.match(await page.locator(".mark-behind").textContent(), /would explain all \d+ edges/);
}

desk("a revealed answer gets its marks, its idea, and a press to try next", {}, async ({ page }) => {
	await open(page);
	await noDelay(page);
	// The lamp only follows its contact, so it isn't counted wrong a second time.
	const lamp = page.locator(".predict-results > ul > li").filter({ has: page.locator('b:text-is("H1")') });
	await lamp.getByText(m.right.followOn, { exact: true }).waitFor();
	await page.locator(".predict-list td").getByText(w.predict.list.followOn(2e9)).waitFor();
	// Each idea is named once, with what it believes.
	const behind = await page.locator(".mark-behind").textContent();
	assert.equal(behind.split("“No delay”").length, 2, behind);
	assert.match(behind, /contacts follow the coil at once/);
	await page.locator(".mark-next").getByText(m.behind.nextApart).waitFor();
	const rows = await page.evaluate(() => tarryDesk.sheet.value.scripts.length);
	await button(page, m.behind.tryIt).click();
	await page.locator(".predict-strip").first().waitFor();
	const scripts = await page.evaluate(() => tarryDesk.sheet.value.scripts.map((s) => s.name));
	assert.equal(scripts.length, rows + 1);
	assert.equal(await page.getByLabel(w.predict.script).inputValue(), String(rows));
	// Only the row that the press is about is asked for.
	assert.equal(await page.locator(".predict-strip").count(), 1);
	await answer(page, "never");
});

desk("a row that only follows is no reason to look at it first", {}, async ({ page }) => {
	await open(page);
	await page.getByLabel(w.predict.sures.certain).first().check();
	await noDelay(page);
	const row = (name) =>
		page.locator(".predict-results > ul > li").filter({ has: page.locator(`b:text-is("${name}")`) });
	await row("H1").getByText(m.right.followOn, { exact: true }).waitFor();
	assert.match(await row("KT1.notc").textContent(), new RegExp(w.predict.thought.certainWrong));
	assert.doesNotMatch(await row("H1").textContent(), new RegExp(w.predict.thought.certainWrong));
	const made = JSON.parse((await downloaded(page, () => button(page, w.predict.list.saveJson).click())).text);
	assert.deepEqual(Object.keys(made.rows[0]), ["row", "start", "edges", "sure", "right", "firstWrong"]);
});

desk("what is missing is told once, and what was not said is named", {}, async ({ page }) => {
	await open(page);
	await answer(page, "never");
	const row = page.locator(".predict-results > ul > li").filter({ has: page.locator('b:text-is("KT1.notc")') });
	const told = await row.textContent();
	assert.equal(told.split("KT1.notc closes at 7 s").length, 2, told);
	assert.match(told, /KT1\.notc opens at 12 s/);
	assert.match(told, new RegExp(w.predict.sureNotSaid));
});

desk("of a row in which nothing was drawn that is said, and no more", {}, async ({ page }) => {
	await open(page);
	await button(page, w.predict.reveal).click();
	await page.locator(".mark-behind .mark-text").waitFor();
	assert.doesNotMatch(await page.locator(".predict-results > ul").textContent(), /no line yet/);
});

for (const [how, context] of [
	["on a desk", {}],
	["on a phone", phone],
]) {
	desk(`the figures of a chart to choose can be read ${how}`, { context }, async ({ page }) => {
		await open(page);
		await task(page, "choose");
		await page.locator(".choose-option").first().waitFor();
		const sizes = await page
			.locator(".choose-option svg")
			.first()
			.evaluate((svg) => {
				const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
				return [...svg.querySelectorAll("text")].map((t) => Number(t.getAttribute("font-size")) * scale);
			});
		assert.ok(Math.min(...sizes) >= 10, `${sizes}`);
	});
}

desk("a chart is chosen: one is right, each other has its reason, the first choice is kept", {}, async ({ page }) => {
	await open(page);
	await task(page, "choose");
	await page.locator(".choose-option").first().waitFor();
	const before = await page.locator(".choose").textContent();
	for (const letter of "ABCD") assert.doesNotMatch(before, new RegExp(m.choose.right(letter)));
	await page.getByRole("radio", { name: m.choose.sources.level }).check();
	await page.getByLabel(m.choose.code, { exact: true }).fill("apple-3");
	await page.keyboard.press("Enter");
	await page.locator(".choose-option").nth(3).waitFor();
	const options = await page.locator(".choose-option input").all();
	for (const o of options) {
		await o.check();
		await button(page, m.choose.decide).click();
		await page.locator(".choose-option.picked .choose-feedback").waitFor();
	}
	assert.equal(await page.locator(".choose-feedback.right").count(), 1);
	assert.equal(await page.locator(".choose-feedback.wrong p").count(), (options.length - 1) * 2);
	const made = JSON.parse((await downloaded(page, () => button(page, w.predict.list.saveJson).click())).text);
	assert.equal(made.earlier.length, 0);
	assert.equal(made.format, "tarry predictions");
	assert.doesNotMatch(made.text, /expect /);
	assert.ok(made.rows.length > 0);
});

const table = `learner,item,signal,answer,sure
Ada,1,H1,on 2 s .. 12 s,certain
Ben,1,H1,on 7 s .. 12 s,fairly
`;

async function opened(page) {
	await open(page);
	await task(page, "mark");
	const [chooser] = await Promise.all([page.waitForEvent("filechooser"), button(page, m.mark.open).click()]);
	await chooser.setFiles({ name: "class.csv", mimeType: "text/csv", buffer: Buffer.from(table) });
	await page.locator(".mark-answers").waitFor();
}

desk("a class is marked, overruled, taken back, and shown without names", {}, async ({ page }) => {
	await opened(page);
	await page.locator(".mark-sure").getByText("Ada", { exact: false }).waitFor();
	const marks = page.locator(".mark-mark");
	const first = await marks.first().textContent();
	await page.locator(".mark-answers button").first().click();
	await page.locator(".mark-number").last().fill("2");
	await button(page.locator(".mark-details"), m.mark.overruleLabel("Ada, H1")).waitFor();
	await page.locator(".mark-own button").last().click();
	await marks.first().getByText(m.mark.overruled).waitFor();
	const saved = await downloaded(page, () => button(page, m.mark.saveOverrules).click());
	assert.match(saved.text, /"learner": "Ada"[\s\S]*"mark": 2/);
	// A reload keeps files and overrules.
	await page.reload();
	await page.locator('main[aria-busy="false"]').waitFor();
	await area(page, "predict");
	await task(page, "mark");
	await marks.first().getByText(m.mark.overruled).waitFor();
	await button(page, m.mark.undo).click();
	await page.waitForFunction((was) => document.querySelector(".mark-mark").textContent === was, first);
	await page.getByLabel(m.mark.hide).check();
	await page.locator(".mark-answers").getByText("L01").waitFor();
	assert.doesNotMatch(await page.locator(".mark-class").textContent(), /Ada|Ben/);
});

desk(
	"how a table must look stands there, the example can be opened, and who was not marked is named",
	{},
	async ({ page }) => {
		await open(page);
		await task(page, "mark");
		assert.match(
			await page.locator(".mark-how").textContent(),
			/learner,item,signal,answer,sure\s+Ada,1,H1,on 2 s .. 5 s,certain/,
		);
		const example = await downloaded(page, () => button(page, m.mark.table.save).click());
		const put = async (text) => {
			const [chooser] = await Promise.all([page.waitForEvent("filechooser"), button(page, m.mark.open).click()]);
			await chooser.setFiles({ name: "class.csv", mimeType: "text/csv", buffer: Buffer.from(text) });
		};
		await put(example.text);
		await page.locator(".mark-answers tbody tr").nth(2).waitFor();
		assert.equal(await page.locator(".mark-problems").count(), 0);
		assert.equal(await page.locator(".mark-how").count(), 0);
		await put(`${example.text}Dora,1,H1,who knows,guess\n`);
		await page.locator(".mark-problems li").first().waitFor();
		assert.ok(await page.locator(".mark-problems li").first().isVisible());
	},
);

desk("telling presses are found and taken into the file", {}, async ({ page }) => {
	await open(page);
	await task(page, "tell");
	await page.locator(".tell-scripts li").first().waitFor();
	assert.match(await page.locator(".tell-scripts").textContent(), /This script can't reveal “/);
	const scripts = await page.evaluate(() => tarryDesk.sheet.value.scripts.length);
	await page.locator(".tell-presses > li button").first().click();
	await page.waitForFunction((n) => tarryDesk.sheet.value.scripts.length === n + 1, scripts);
	assert.equal(await page.evaluate(() => tarryDesk.errors.value), 0);
	await page.waitForFunction((n) => document.querySelectorAll(".tell-scripts > li").length === n + 1, scripts);
});

const file = join(room, "teach.html");
tarry("pack", libraryFile(1), "-o", file, "--predict", "all");
desk(
	"a lesson has the learner's part and works without the editor",
	{ url: pathToFileURL(file).href },
	async ({ page }) => {
		await page.locator(".predict-strip").first().waitFor();
		assert.equal(await page.getByRole("radio", { name: m.task.mark }).count(), 0);
		assert.equal(await page.getByRole("radio", { name: m.task.tell }).count(), 0);
		await answer(page, "on 2 s .. 12 s");
		await button(page, m.behind.tryIt).click();
		await page.locator(".predict-strip").first().waitFor();
		await task(page, "choose");
		await page.locator(".choose-option").first().waitFor();
	},
);

async function clean(page, where) {
	await page.waitForTimeout(50);
	const found = await page.evaluate(async () => {
		const r = await window.axe.run(document, { resultTypes: ["violations"] });
		const bad = r.violations.filter((v) => v.impact === "serious" || v.impact === "critical");
		return bad.map((v) => `${v.id}: ${v.nodes.map((n) => n.html.slice(0, 160)).slice(0, 3)}`);
	});
	assert.deepEqual(found, [], where);
	const over = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
	assert.ok(over <= 0, `${where} is ${over} px too wide`);
}

for (const [how, context] of [
	["on light ground", {}],
	["on dark ground", { colorScheme: "dark" }],
	["on a phone", phone],
]) {
	desk(`nothing serious in the four tasks ${how}`, { context }, async ({ page }) => {
		await page.evaluate(axe);
		await opened(page);
		await page.locator(".mark-answers button").first().click();
		await clean(page, "mark");
		await task(page, "tell");
		await page.locator(".tell-presses > li").first().waitFor();
		for (const fold of await page.locator(".tell summary").all()) await fold.click();
		await clean(page, "tell");
		await task(page, "choose");
		await page.locator(".choose-option input").first().check();
		await button(page, m.choose.decide).click();
		await page.locator(".choose-feedback").waitFor();
		await clean(page, "choose");
		await task(page, "draw");
		await noDelay(page);
		await page.locator(".mark-next").waitFor();
		await clean(page, "draw");
	});
}
