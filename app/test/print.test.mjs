// What is printed from the browser are the command's own sheets, drawn in lines
// and letters.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { area, button, desk, downloaded, drop, libraryFile, libraryText, room, tarry, w } from "./lib.mjs";

const tool = (name, ...args) => execFileSync(name, args, { encoding: "utf8" });
const pages = (file) => Number(/^Pages:\s+(\d+)/m.exec(tool("pdfinfo", file))[1]);

/** The button that prints, once all pages are drawn. */
const drawn = (page) => button(page.locator(".print-out"), w.print.print).and(page.locator(":enabled"));

/** Goes to Print and waits for the pages. */
async function pagesDrawn(page, parts) {
	await area(page, "print");
	await page.locator(".print-page").first().waitFor();
	if (parts) {
		await button(page, w.print.none).click();
		for (const words of parts) await page.getByRole("checkbox", { name: words, exact: true }).check();
	}
	await drawn(page).waitFor();
}

/** Prints as the browser's own dialog would. */
async function printed(page, name) {
	const file = join(room, name);
	await page.pdf({ path: file, preferCSSPageSize: true, printBackground: true });
	return file;
}

desk("the browser prints the command's sheets, page for page", {}, async ({ page }) => {
	await drop(page, "belt", libraryText(8));
	await pagesDrawn(page);
	const file = await printed(page, "browser.pdf");
	const own = join(room, "own.pdf");
	tarry("sheet", libraryFile(8), "-o", own);
	assert.equal(pages(file), pages(own));
	const text = tool("pdftotext", "-layout", file, "-");
	const title = await page.evaluate(() => tarryDesk.sheet.value.title);
	assert.ok(text.includes(title), "the title can be found in the text");
	assert.ok(!text.includes(w.print.lead), "nothing of the screen is printed");
	assert.equal(tool("pdfimages", "-list", file).trim().split("\n").length, 2, "no page is a raster");
	assert.match(tool("pdfinfo", file), /Page size:.*\(A4\)/);
});

desk("letter paper prints on letter paper, and the date stands on the sheet", {}, async ({ page }) => {
	await drop(page, "sizer", libraryText(1));
	const parts = await page.evaluate(async () => (await tarryDesk.call("about", {})).parts);
	const drawing = parts.find((p) => p.name === "drawing").words;
	await pagesDrawn(page, [drawing]);
	await page.getByLabel(w.print.papers.letter, { exact: true }).check();
	await page.getByLabel(w.print.college, { exact: true }).fill("Training Bay 7");
	await page.getByLabel(w.print.date, { exact: true }).fill("2031-05-06");
	await page.waitForFunction(() =>
		/Training Bay 7[\s\S]*2031-05-06|2031-05-06[\s\S]*Training Bay 7/.test(
			document.querySelector(".print-pages")?.textContent ?? "",
		),
	);
	const file = await printed(page, "letter.pdf");
	assert.match(tool("pdfinfo", file), /Page size:\s+(612 x 792|792 x 612) pts/);
	assert.match(tool("pdftotext", file, "-"), /2031-05-06/);
});

desk("the PDF that the desk makes is the command's own", {}, async ({ page }) => {
	await drop(page, "sizer", libraryText(1));
	await pagesDrawn(page);
	await page.getByLabel(w.print.date, { exact: true }).fill("2031-05-06");
	await drawn(page).waitFor();
	const [file] = await Promise.all([page.waitForEvent("download"), button(page, w.print.pdf).click()]);
	const path = join(room, "desk.pdf");
	await file.saveAs(path);
	const own = join(room, "command.pdf");
	tarry("sheet", libraryFile(1), "-o", own, "--date", "2031-05-06");
	assert.equal(pages(path), pages(own));
	assert.equal(tool("pdftotext", "-layout", path, "-"), tool("pdftotext", "-layout", own, "-"));
});

desk("the drawing is saved as a picture that stands by itself", {}, async ({ page }) => {
	await drop(page, "sizer", libraryText(1));
	await area(page, "print");
	const file = await downloaded(page, () => button(page, w.print.pictures.save).click());
	assert.match(file.name, /\.svg$/);
	assert.match(file.text, /^(<\?xml[^>]*>\s*)?<svg [^>]*viewBox/);
	assert.match(file.text, /KT1/);
	assert.doesNotMatch(file.text, /(href|src)="http/);
});
