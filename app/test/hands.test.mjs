// From a blank sheet to a lamp through a timer's contact, and its run: with the
// keyboard alone, and with a finger alone.

import assert from "node:assert/strict";
import { area, button, desk, drop, libraryText, part, phone, w } from "./lib.mjs";

const { pick, strip, blank } = w.write;

/** A keyboard that counts, and looks at each stop whether the focus can be seen. */
function keyboard(page) {
	const unseen = [];
	let actions = 0;
	const stop = () =>
		page.evaluate(() => {
			const e = document.activeElement;
			if (!e || e === document.body) return { name: "", seen: true };
			// The text's frame shows the focus of the text in it.
			const style = getComputedStyle(e.closest(".cm-editor") ?? e);
			const outlined = style.outlineStyle !== "none" && Number.parseFloat(style.outlineWidth) >= 1;
			// Some of it must stand clear of whatever sticks to the screen's edges.
			const box = e.getBoundingClientRect();
			const clear = [0.1, 0.5, 0.9].some((y) => {
				const there = document.elementFromPoint(box.x + box.width / 2, box.y + box.height * y);
				return there !== null && (e.contains(there) || there.contains(e));
			});
			const name = (e.getAttribute("aria-label") ?? e.textContent ?? "").trim();
			return { name, seen: outlined && clear, tag: `${outlined} ${clear} ${e.outerHTML.slice(0, 200)}` };
		});
	const act = async (how) => {
		actions++;
		await how();
		// Where the focus goes after a dialog or a change is settled a frame later.
		await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => setTimeout(done))));
		const at = await stop();
		if (!at.seen) unseen.push(at.tag);
		return at.name;
	};
	const press = (key) => act(() => page.keyboard.press(key));
	return {
		press,
		type: (text) => act(() => page.keyboard.insertText(text)),
		/** Presses Tab until something has the focus. */
		async to(name, key = "Tab") {
			for (let n = 0; n < 120; n++) {
				const at = await press(key);
				if (at === name || at.startsWith(`${name} `)) return;
			}
			throw new Error(`${name} is not reached by ${key}`);
		},
		counts: () => ({ actions, unseen }),
	};
}

const dialog = (page, name) => page.getByRole("dialog", { name });
const shown = (page, name) => dialog(page, name).getByRole("option").first().waitFor();
const form = (page, kind) => page.locator(".new-device").getByText(pick.makeNew(kind)).waitFor();
const tagGiven = (page, tag) =>
	page.waitForFunction((t) => document.querySelector(".new-device input")?.value === t, tag);
/** Time runs ten times as fast, so that nobody waits for it. */
const hurry = (page) =>
	page.evaluate(() => {
		tarryDesk.speed.value = 10;
	});
const lampOn = (page) => page.locator(`button[data-part="H1"][aria-label$=", ${w.run.state.on}"]`).waitFor();

/** A new device, by search, with what it is usually set to. */
async function makeByKey(page, keys, title, kind, tag) {
	await shown(page, title);
	await keys.type(kind);
	await keys.press("Enter");
	await form(page, kind);
	await tagGiven(page, tag);
	await keys.press("Enter");
}

desk("with the keyboard alone, in under sixty actions, the focus always in sight", {}, async ({ page }) => {
	const keys = keyboard(page);
	await hurry(page);
	await keys.to(w.files.file, "Shift+Tab");
	await keys.press("Enter");
	await keys.to(w.files.fresh);
	await keys.press("Enter");
	await page.getByLabel(blank.titleField, { exact: true }).and(page.locator(":focus")).waitFor();
	await keys.press("Enter");
	await makeByKey(page, keys, pick.contactFirst, "switch", "S1");
	await makeByKey(page, keys, pick.loadOfRung("S1"), "on-delay", "KT1");
	await part(page, "KT1").waitFor();
	await page.locator("button.part:focus").waitFor();
	await keys.press("n");
	await shown(page, pick.contactFirst);
	await keys.type("KT1.notc");
	await keys.press("Enter");
	await makeByKey(page, keys, pick.loadOfRung("KT1.notc"), "lamp", "H1");
	await part(page, "H1").waitFor();
	await keys.to(w.modes.run);
	await keys.press("Enter");
	await page.locator("main.mode-run .board").waitFor();
	await page.keyboard.down("1");
	await page.keyboard.up("1");
	await lampOn(page);
	await keys.press("k");
	await page.waitForFunction(() => !tarryDesk.playing.value);
	const { actions, unseen } = keys.counts();
	assert.deepEqual(unseen, []);
	assert.ok(actions < 60, `${actions} actions`);
});

async function makeByFinger(page, title, kind, tag) {
	const option = dialog(page, title).locator(`#offer-new-${kind}`);
	await option.tap();
	await form(page, kind);
	await tagGiven(page, tag);
	await button(dialog(page, title), pick.put).tap();
}

desk("with a finger alone, nothing typed", { context: phone }, async ({ page }) => {
	await hurry(page);
	await button(page, w.files.file).tap();
	await button(page.getByRole("dialog"), w.files.fresh).tap();
	await button(page, blank.first).tap();
	await makeByFinger(page, pick.contactFirst, "switch", "S1");
	await makeByFinger(page, pick.loadOfRung("S1"), "on-delay", "KT1");
	await part(page, "KT1").waitFor();
	await button(page.locator(".write-bar"), strip.addRung).tap();
	await dialog(page, pick.contactFirst).getByRole("option", { name: "KT1.notc" }).tap();
	await makeByFinger(page, pick.loadOfRung("KT1.notc"), "lamp", "H1");
	await part(page, "H1").waitFor();
	await page.locator(".title-block nav").getByRole("button", { name: w.modes.run }).tap();
	await page.locator(".board button.hand").tap();
	await lampOn(page);
	await button(page, w.run.time.pause).tap();
	await page.waitForFunction(() => !tarryDesk.playing.value);
});

desk("the Tab key goes through every area, is caught nowhere, and is always seen", {}, async ({ page }) => {
	await drop(page, "belt", libraryText(8));
	for (const mode of ["run", "write", "predict", "print"]) {
		await area(page, mode);
		if (mode === "predict") await page.locator(".predict-strip").first().waitFor();
		if (mode === "print") await page.locator(".print-page").first().waitFor();
		const keys = keyboard(page);
		// From the chosen area to the page's end, and then from its beginning.
		for (let n = 0; n < 2; n++) {
			await keys.to(w.look.cell);
			await keys.press("Tab");
		}
		const { actions, unseen } = keys.counts();
		assert.deepEqual(unseen, [], mode);
		assert.ok(actions > 15, `${actions} stops in ${mode}`);
	}
});
