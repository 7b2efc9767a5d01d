// Predict first: lines drawn by mouse, by finger and by key, and what the
// revealing says of them. Until then the page knows no answer.

import assert from "node:assert/strict";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { area, button, desk, downloaded, drop, libraryFile, libraryText, phone, room, tarry, w } from "./lib.mjs";

const p = w.predict;
// Circuit 1, its first script: the lamp is on from 7 s to 12 s of 16 s.
const text = libraryText(1);

async function open(page, content = text) {
	await drop(page, "sizer", content);
	await area(page, "predict");
	await page.locator('.predict-strip[data-row="H1"]').waitFor();
}

const strip = (page, row) => page.locator(`.predict-strip[data-row="${row}"]`);

/** Where the script's time runs on the screen: the middle of the square that begins or ends at a second. */
async function paper(page, row) {
	const line = strip(page, row);
	// Clear of the title block, which stays at the foot of the screen.
	await line.evaluate((e) => e.scrollIntoView({ block: "center" }));
	const box = await line.boundingBox();
	const count = Number(await line.getAttribute("aria-valuemax"));
	const square = 16 / count;
	const middle = (n) => [box.x + (box.width * (n + 0.5)) / count, box.y + box.height / 2];
	return { square, begins: (s) => middle(Math.round(s / square)), ends: (s) => middle(Math.round(s / square) - 1) };
}

async function byMouse(page, row, from, to) {
	const at = await paper(page, row);
	await page.mouse.move(...at.begins(from));
	await page.mouse.down();
	await page.mouse.move(...at.ends((from + to) / 2));
	await page.mouse.move(...at.ends(to));
	await page.mouse.up();
}

/** A finger's stroke, as Chromium's own input sees it. */
async function byFinger(page, row, from, to) {
	const at = await paper(page, row);
	const input = await page.context().newCDPSession(page);
	const send = (type, place) => {
		const touchPoints = place ? [{ x: place[0], y: place[1], id: 1 }] : [];
		return input.send("Input.dispatchTouchEvent", { type, touchPoints });
	};
	await send("touchStart", at.begins(from));
	for (let s = from + 1; s <= to; s++) await send("touchMove", at.ends(s));
	await send("touchEnd");
}

async function byKey(page, row, from, to) {
	const { square } = await paper(page, row);
	await strip(page, row).focus();
	await page.keyboard.press("Home");
	for (let s = 0; s < from; s += square) await page.keyboard.press("ArrowRight");
	for (let s = from; s < to; s += square) await page.keyboard.press("Shift+ArrowRight");
}

/** Waits until a row's line stands there in words. */
const inWords = (page, row, words) =>
	page.waitForFunction(
		([label, value]) => document.querySelector(`input[aria-label="${label}"]`).value === value,
		[p.answer(row), words],
	);
const reveal = async (page) => {
	await button(page, p.reveal).click();
	await page.locator(".predict-results").waitFor();
};
const result = (page, row) => page.locator(".predict-results li").filter({ has: page.locator(`b:text-is("${row}")`) });

const ways = [
	["by mouse", byMouse, {}],
	["by finger", byFinger, phone],
	["by key", byKey, {}],
];
for (const [how, draw, context] of ways) {
	desk(`a right line drawn ${how} is right, a wrong one is wrong where it differs`, { context }, async ({ page }) => {
		await open(page);
		await draw(page, "H1", 7, 12);
		await inWords(page, "H1", "on 7 s .. 12 s");
		await draw(page, "KT1.notc", 8, 12);
		await inWords(page, "KT1.notc", "closed 8 s .. 12 s");
		await reveal(page);
		await page.getByText(p.tally(1, 2)).waitFor();
		assert.equal(await result(page, "H1").getAttribute("class"), "right");
		assert.equal(await result(page, "KT1.notc").getAttribute("class"), "wrong");
		assert.match(await result(page, "KT1.notc").textContent(), /\b7 s/);
		await button(page, p.whyLabel("KT1.notc", 7e9)).click();
		await page.locator("main.mode-run").waitFor();
		await page.waitForFunction(() => tarryDesk.frame.value.now === 7e9);
		await page.locator(".answer").getByRole("heading").getByText("KT1.notc").waitFor();
		const foot = await page.locator(".foot").boundingBox();
		const told = await page.locator(".answer").boundingBox();
		assert.ok(told.y >= 0 && told.y + told.height <= foot.y + 1, "the answer is in sight");
	});
}

desk("what happens and why shows the part in question beside the answer", {}, async ({ page }) => {
	await drop(page, "belt", libraryText(8));
	await area(page, "predict");
	const words = page.locator(".predict-answer input").last();
	await words.fill("never");
	await words.press("Enter");
	await reveal(page);
	await page.locator(".predict-results > ul > li.wrong > button").last().click();
	await page.locator(".answer").waitFor();
	const id = await page.evaluate(() => tarryDesk.selected.value);
	await page.waitForFunction((of) => {
		const box = document.querySelector(`.board [data-part="${of}"]`).getBoundingClientRect();
		return box.top >= 0 && box.bottom <= document.querySelector(".foot").getBoundingClientRect().top;
	}, id);
});

desk("while a finger draws the instants stand clear of its row", { context: phone }, async ({ page }) => {
	await open(page);
	const at = await paper(page, "H1");
	const input = await page.context().newCDPSession(page);
	const send = (type, touchPoints) => input.send("Input.dispatchTouchEvent", { type, touchPoints });
	const finger = ([x, y]) => [{ x, y, id: 1 }];
	await send("touchStart", finger(at.begins(2)));
	await send("touchMove", finger(at.ends(4)));
	const readout = page.locator(".predict-readout");
	await readout.getByText(p.stroke("H1", "on", 2e9, 4e9), { exact: true }).waitFor();
	const [label, row] = [await readout.boundingBox(), await strip(page, "H1").boundingBox()];
	assert.ok(label.y + label.height <= row.y || label.y >= row.y + row.height, "it lies over the row");
	await send("touchEnd", []);
	await readout.waitFor({ state: "detached" });
});

/** The words of the drawing at the side, and how large they are to their natural size. */
const circuit = (page) =>
	page.locator(".predict-circuit svg.picture").evaluate((svg) => ({
		words: [...svg.querySelectorAll("text")].map((t) => t.textContent),
		scale: svg.getBoundingClientRect().width / svg.viewBox.baseVal.width / (96 / 2540),
	}));

for (const [how, context] of [
	["on a desk", {}],
	["on a phone", phone],
]) {
	desk(`no rung of the circuit is folded ${how}, and it can be seen larger`, { context }, async ({ page }) => {
		await drop(page, "star-delta", libraryText(11));
		await area(page, "predict");
		await page.locator(".predict-strip").first().waitFor();
		await page.waitForFunction(() => tarryDesk.view.value.width === 0);
		const small = await circuit(page);
		assert.deepEqual(
			small.words.filter((t) => t.includes("→")),
			[],
		);
		assert.ok(small.scale >= 0.54, `${small.scale}`);
		await button(page, p.larger).click();
		await page.waitForFunction(() => {
			const svg = document.querySelector(".predict-circuit svg.picture");
			return svg.getBoundingClientRect().width / svg.viewBox.baseVal.width >= 96 / 2540;
		});
		assert.ok((await circuit(page)).scale > small.scale);
		const over = await page.evaluate(() => document.scrollingElement.scrollWidth - window.innerWidth);
		assert.equal(over, 0);
	});
}

desk("without a script there are ways to one", {}, async ({ page }) => {
	await drop(page, "bare", 'circuit "Bare"\nS1 switch\nH1 lamp\n1: S1.no -> H1\n');
	await area(page, "predict");
	await button(page, p.recordScript).click();
	await page.locator("main.mode-run .run").waitFor();
	await area(page, "predict");
	await button(page, p.writeScript).click();
	await page.locator("main.mode-write .write").waitFor();
});

desk("before the reveal nothing on the page depends on the answer", {}, async ({ page }) => {
	// All but the drawing of the circuit, which a learner needs to predict from; it stands at rest.
	const seen = async (content) => {
		await open(page, content);
		return page.locator(".predict").evaluate((e) => {
			const circuit = e.querySelector(".predict-circuit");
			const marks = circuit.querySelectorAll(".marks > *, .timer-ring.shown").length;
			return e.outerHTML.replace(circuit.outerHTML, `${marks} marks`);
		});
	};
	const bare = text.replace(/^(aim|trap|caution|say|try|#| {2}expect).*\n/gm, "");
	const five = await seen(bare);
	await area(page, "run");
	const six = await seen(bare.replace("on-delay 5 s", "on-delay 6 s"));
	assert.match(five, /predict-strip.*\b0 marks|\b0 marks[\s\S]*predict-strip/);
	assert.equal(six, five);
	for (const row of await page.locator(".predict-answer input").all()) {
		await row.fill("on 1 s .. 2 s");
		await row.press("Enter");
	}
	await reveal(page);
	assert.doesNotMatch(six, /\b8 s/);
	assert.match(await page.locator(".predict-results").textContent(), /\b8 s/);
});

desk("predictions are saved as a file and as a table, and read back", {}, async ({ page }) => {
	await open(page);
	await byMouse(page, "H1", 8, 12);
	await page.getByLabel(p.sures.certain).last().check();
	await reveal(page);
	await page.getByLabel(p.list.learner).fill('=1+1, "Mo"');
	const json = await downloaded(page, () => button(page, p.list.saveJson).click());
	const made = JSON.parse(json.text);
	assert.equal(made.format, "tarry predictions");
	assert.equal(made.learner, '=1+1, "Mo"');
	const row = made.rows.find((r) => r.row === "H1");
	assert.deepEqual(row.edges, ["8", "12"]);
	assert.equal(row.right, false);
	assert.equal(row.firstWrong, "7");
	const csv = await downloaded(page, () => button(page, p.list.saveCsv).click());
	assert.match(csv.text, /"'=1\+1, ""Mo"""/);
	// KT1.notc was left as it was: the command's marks of both files are the desk's.
	await page.locator(".mark-behind").waitFor();
	const [points, of] = /(\d+) of (\d+) points/
		.exec(await page.locator(".mark-behind small").first().textContent())
		.slice(1);
	assert.ok(Number(of) > 2, of);
	for (const [name, saved] of [
		["mo.json", json],
		["mo.csv", csv],
	]) {
		writeFileSync(join(room, name), saved.text);
		const marks = tarry("mark", libraryFile(1), "--answers", name, "--tolerance", `${made.tolerance}s`);
		assert.match(marks, new RegExp(`· ${points} of ${of}\n`), marks);
		assert.match(marks, /KT1\.notc has no line yet/);
	}
	const [chooser] = await Promise.all([page.waitForEvent("filechooser"), button(page, p.list.open).click()]);
	await chooser.setFiles({ name: "mo.json", mimeType: "application/json", buffer: Buffer.from(json.text) });
	await page.getByText(p.list.opened(1)).waitFor();
	await page.getByText(p.list.from("mo.json")).waitFor();
});
