// The desk opens: from a file and from the local server, in both browsers.

import assert from "node:assert/strict";
import { after, test } from "node:test";
import { button, desk, pageURL, part, serve, w } from "./lib.mjs";

const server = await serve();
after(server.stop);

for (const browser of ["chromium", "firefox"]) {
	for (const [how, url] of [
		["a file", pageURL],
		["the local server", server.url],
	]) {
		desk(`opens from ${how} in ${browser}: the first drawing stands`, { browser, url }, async ({ page }) => {
			await page.locator("button[data-part]").first().waitFor();
			assert.ok((await page.locator("svg.picture").first().locator("path, line, text").count()) > 20);
			await button(page, w.run.time.play).waitFor();
		});
	}

	const allow = [/content.?security.?policy/i, /refused by the content policy/, /executing inline script/i];
	desk(`the content policy keeps injected scripts from running in ${browser}`, { browser, allow }, async ({ page }) => {
		const refused = await page.evaluate(
			() =>
				new Promise((done) => {
					document.addEventListener("securitypolicyviolation", (e) => done(e.violatedDirective), { once: true });
					const s = document.createElement("script");
					s.textContent = "window.boo = 1";
					document.body.append(s);
					if (window.boo) done("it ran");
				}),
		);
		assert.match(refused, /script-src/);
		assert.equal(await page.evaluate(() => window.boo), undefined);
	});
}

for (const browser of ["chromium", "firefox"]) {
	desk(`the tests see every error and every request in ${browser}`, { browser }, async ({ page, faults }) => {
		await page.evaluate(async () => {
			setTimeout(() => {
				throw new Error("a stray error");
			});
			console.error("a spoken error");
			await fetch("http://127.0.0.1:9/").catch(() => {});
		});
		for (const what of [/stray error/, /spoken error/, /refused by the content policy/]) {
			while (!faults.some((f) => what.test(f))) await page.evaluate(() => new Promise(requestAnimationFrame));
		}
		faults.length = 0;
	});
}

desk("a part of the drawing says what it is and how it stands", {}, async ({ page }) => {
	const first = page.locator("button[data-part]").first();
	const id = await first.getAttribute("data-part");
	assert.match(await part(page, id).getAttribute("aria-label"), /,/);
});

test("the local server gives the page and nothing else", async () => {
	const page = await fetch(server.url);
	assert.equal(page.status, 200);
	assert.match(await page.text(), /<div id="desk">/);
	const other = await fetch(new URL("/etc/passwd", server.url));
	assert.equal(other.status, 404);
});
