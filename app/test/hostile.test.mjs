// Whatever a circuit's text holds, it is text: none of it runs, none of it
// becomes markup, on any screen, in any file.

import assert from "node:assert/strict";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { area, button, desk, drop, hand, part, pause, room, tarry, w } from "./lib.mjs";

const bad = [
	"</script><script>window.boo=1</script>",
	"<img src=x onerror=window.boo=1>",
	"'><svg onload=window.boo=1>",
	"]]><iframe srcdoc='<script>parent.boo=1</script>'>",
	"&lt;img src=x&gt; {{window.boo=1}} javascript:window.boo=1",
];
const text = `circuit "${bad[0]}"
station "${bad[1]}"
aim "${bad[2]}"
trap "${bad[3]}"
say "${bad[4]}"
try "${bad[0]}${bad[1]}"
caution "${bad[1]}"
supply 24 V dc
S1 switch "${bad[1]}"
KT1 on-delay 1 s "${bad[2]}"
H1 lamp "${bad[0]}"
1: S1.no -> KT1
2: KT1.notc -> H1
script "${bad[0]}"
  1 s close S1
  end 4 s
script "${bad[1]}"
  1 s close S1
  end 4 s
`;

/** Nothing ran, and nothing stands in the page that only markup could have put there. */
async function harmless(page, where) {
	const found = await page.evaluate(() => ({
		boo: window.boo,
		made: [...document.querySelectorAll("img, iframe, object, embed, foreignObject, link[rel=stylesheet], a[href]")]
			.filter((e) => !e.closest(".cm-editor"))
			.map((e) => e.outerHTML.slice(0, 200)),
		handlers: [...document.querySelectorAll("*")]
			.filter((e) => [...e.attributes].some((a) => /^on/i.test(a.name) || /^\s*javascript:/i.test(a.value)))
			.map((e) => e.outerHTML.slice(0, 200)),
		scripts: document.scripts.length,
	}));
	assert.deepEqual(found, { boo: undefined, made: [], handlers: [], scripts: found.scripts }, where);
	return found.scripts;
}

async function inDialog(page, open, then) {
	await open();
	const dialog = page.getByRole("dialog").last();
	await dialog.waitFor();
	await then?.(dialog);
	await harmless(page, await dialog.getAttribute("aria-label"));
	await page.keyboard.press("Escape");
	await dialog.waitFor({ state: "detached" });
}

async function visitRun(page) {
	await page.getByText(bad[1], { exact: true }).first().waitFor();
	await hand(page, "S1").click();
	await page.waitForFunction(() => tarryDesk.frame.value.on[2]);
	await pause(page);
	await button(page.locator(".why-ask"), w.run.reasons.why).click();
	await part(page, "H1").click();
	await page.locator(".answer").waitFor();
	await harmless(page, "run");
	await inDialog(page, () => button(page, w.run.scripts.keep).click());
	await inDialog(page, () => button(page, w.run.chart.rows).click());
}

async function visitWrite(page) {
	await area(page, "write");
	await part(page, "KT1").click();
	await harmless(page, "write");
	const strip = page.locator(".strip");
	for (const act of ["rename", "label", "setting", "kind"]) {
		await inDialog(page, () => button(strip, w.write.strip[act]).click());
	}
	await inDialog(page, () => button(page, w.write.strip.addRung).click());
	await inDialog(page, () => button(page, w.write.strip.title).click());
}

async function visitRest(page) {
	await area(page, "predict");
	await page.locator(".predict-strip").first().waitFor();
	await button(page, w.predict.reveal).click();
	await page.locator(".predict-results").waitFor();
	await harmless(page, "predict");
	await area(page, "print");
	await page.locator(".print-page").first().waitFor();
	await harmless(page, "print");
	await inDialog(page, () => page.locator(".print-enlarge").first().click());
}

desk("a hostile circuit is only text on every screen", {}, async ({ page }) => {
	const before = await harmless(page, "before");
	await drop(page, `${bad[1].replaceAll("/", "-")}`, text);
	assert.equal(await page.evaluate(() => tarryDesk.errors.value), 0);
	await visitRun(page);
	await visitWrite(page);
	await visitRest(page);
	await inDialog(page, () => button(page, w.files.file).click());
	await inDialog(page, () => button(page, w.files.library).click());
	await page.reload();
	await page.locator("h1").getByText(bad[0]).waitFor();
	assert.equal(await harmless(page, "after a reload"), before);
});

const source = join(room, "bad.tarry");
writeFileSync(source, text);
const packed = join(room, "bad.html");
tarry("pack", source, "-o", packed, "--title", bad[0], "--editor");

desk("a lesson with a hostile circuit is only text", { url: pathToFileURL(packed).href }, async ({ page }) => {
	await page.locator(".lesson-head h2").getByText(bad[0]).waitFor();
	await page.locator(".notes").getByText(bad[2]).waitFor();
	await harmless(page, "lesson");
	await visitRest(page);
});

desk("a hostile file of predictions is only text", {}, async ({ page }) => {
	await drop(page, "bad", text);
	await area(page, "predict");
	const attempt = {
		format: "tarry predictions",
		version: 1,
		circuit: bad[1],
		text: bad[0],
		script: bad[2],
		learner: bad[3],
		tolerance: "1",
		rows: [{ row: bad[1], start: false, edges: ["1"], sure: "guess", right: false, firstWrong: "2" }],
		at: "2031-01-01T10:00:00Z",
		earlier: [],
	};
	const [chooser] = await Promise.all([page.waitForEvent("filechooser"), button(page, w.predict.list.open).click()]);
	await chooser.setFiles({
		name: "bad.json",
		mimeType: "application/json",
		buffer: Buffer.from(JSON.stringify(attempt)),
	});
	await page.getByText(w.predict.list.opened(1)).waitFor();
	await page.locator(".predict-table").getByText(bad[1]).first().waitFor();
	await harmless(page, "predictions");
});
