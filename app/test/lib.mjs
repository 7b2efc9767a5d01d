// What the browser tests share: the two browsers, the desk opened in one with
// everything watched that must never happen, and the few moves that most tests
// begin with. The page is ../dist/tarry.html (TARRY_PAGE), the command
// ../bin/tarry (TARRY).

import assert from "node:assert/strict";
import { execFileSync, spawn } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { after, test } from "node:test";
import { fileURLToPath, pathToFileURL } from "node:url";
import { buildSync } from "esbuild";
import * as playwright from "playwright-core";

const here = dirname(fileURLToPath(import.meta.url));
const root = resolve(here, "../..");
export const pageFile = resolve(process.env.TARRY_PAGE ?? join(root, "dist/tarry.html"));
export const command = resolve(process.env.TARRY ?? join(root, "bin/tarry"));
export const pageURL = pathToFileURL(pageFile).href;

/** The desk's own words: what a test looks for is what stands in the table. */
export const w = (await wordsOf()).english;

async function wordsOf() {
	const made = buildSync({
		entryPoints: [join(here, "../src/words/index.ts")],
		bundle: true,
		format: "esm",
		write: false,
	});
	return import(`data:text/javascript;base64,${Buffer.from(made.outputFiles[0].text).toString("base64")}`);
}

/** A room for files that is gone after the tests. */
export const room = mkdtempSync(join(tmpdir(), "tarry-test-"));
const running = new Map();
after(async () => {
	for (const b of running.values()) await (await b).close();
	rmSync(room, { recursive: true });
});

/** Runs the command and gives what it wrote. */
export const tarry = (...args) => execFileSync(command, args, { encoding: "utf8", cwd: room });

const library = join(root, "library");
/** The file of the library's circuit with that number. */
export function libraryFile(number) {
	const start = `${String(number).padStart(2, "0")}-`;
	return join(
		library,
		readdirSync(library).find((f) => f.startsWith(start)),
	);
}
export const libraryText = (number) => readFileSync(libraryFile(number), "utf8");

const chromiumArgs = [
	"--no-sandbox",
	"--disable-gpu",
	"--disable-quic",
	"--no-first-run",
	"--disable-background-networking",
	"--disable-component-update",
	"--disable-sync",
];

// Debian's Firefox is spoken to over WebDriver BiDi. It doesn't know the one
// command by which a colour scheme is set, which every new context sends.
async function launchFirefox() {
	const browser = await playwright.firefox.launch({ channel: "moz-firefox", executablePath: "/usr/bin/firefox-esr" });
	const session = browser._connection.toImpl(browser)._browserSession;
	const kind = Object.getPrototypeOf(session);
	const { send } = kind;
	kind.send = function (method, params) {
		if (method === "emulation.setMediaFeaturesOverride") return Promise.resolve({});
		return send.call(this, method, params);
	};
	return browser;
}

/** The browser of that name, started once for a file of tests. */
export function browserOf(name) {
	if (!running.has(name)) {
		const started =
			name === "firefox"
				? launchFirefox()
				: playwright.chromium.launch({ executablePath: "/usr/bin/chromium", args: chromiumArgs });
		running.set(name, started);
	}
	return running.get(name);
}

export const desktop = { viewport: { width: 1280, height: 800 } };
export const phone = { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true };

/** Notes whatever must not happen on a context's pages. */
function watch(context, url, allowed) {
	const faults = [];
	const note = (what, text) => {
		if (!allowed.some((a) => a.test(text))) faults.push(`${what}: ${text}`);
	};
	const own = new URL(url).href.split("#")[0];
	context.on("weberror", (e) => note("uncaught", String(e.error().stack ?? e.error())));
	context.on("console", (m) => m.type() === "error" && note("console", m.text()));
	context.on("request", (r) => {
		if (!/^(blob|data|about):/.test(r.url()) && r.url().split("#")[0] !== own) note("request", r.url());
	});
	return { faults, note };
}

/** Runs in each page before its own scripts: what the content policy refuses is said aloud. */
function tellRefusals() {
	document.addEventListener("securitypolicyviolation", (e) => {
		console.error(`refused by the content policy: ${e.violatedDirective} ${e.blockedURI}`);
	});
}

/**
 * A test on an open desk. `options`: browser, url, context (Playwright's
 * options), init (runs in the page before it), allow (patterns of faults that
 * the test itself causes), unready (the desk isn't expected to come up).
 */
export function desk(name, options, body) {
	test(name, { timeout: 90_000 }, async () => {
		const browser = await browserOf(options.browser ?? "chromium");
		const url = options.url ?? pageURL;
		const context = await browser.newContext({ ...desktop, acceptDownloads: true, ...options.context });
		context.setDefaultTimeout(15_000);
		const { faults } = watch(context, url, options.allow ?? []);
		try {
			await context.addInitScript(tellRefusals);
			if (options.init) await context.addInitScript(options.init);
			const page = await context.newPage();
			await page.goto(url);
			if (!options.unready) await ready(page);
			await body({ page, context, url, faults });
			assert.deepEqual(faults, []);
		} catch (e) {
			// What went wrong on the page tells more than what a test missed because of it.
			if (faults.length > 0 && !faults.includes(e.message)) e.message += `\non the page:\n${faults.join("\n")}`;
			throw e;
		} finally {
			await context.close();
		}
	});
}

/** Waits until the first drawing stands. */
export async function ready(page) {
	await page.locator('main[aria-busy="false"]').waitFor();
}

export const button = (place, name, exact = true) => place.getByRole("button", { name, exact });

/** Goes to one of the four areas. */
export async function area(page, mode) {
	const way = page.locator(".title-block nav").getByRole("button", { name: w.modes[mode], exact: true });
	await way.click();
	await page.locator(`main.mode-${mode} .${mode}`).waitFor();
}

/** Opens a text as a user does who drops a file on the page. */
export async function drop(page, name, text) {
	await page.evaluate(
		([n, t]) => {
			const held = new DataTransfer();
			held.items.add(new File([t], n, { type: "text/plain" }));
			window.dispatchEvent(new DragEvent("drop", { dataTransfer: held, bubbles: true, cancelable: true }));
		},
		[`${name}.tarry`, text],
	);
	await page.locator(".state .file-title").getByText(name, { exact: true }).waitFor();
	await ready(page);
}

/** The instant that the board shows, in nanoseconds. */
export const now = (page) => page.evaluate(() => tarryDesk.frame.value.now);

/** Waits until the board shows an instant. */
export const shows = (page, nanos) => page.waitForFunction((at) => tarryDesk.frame.value.now === at, nanos);

/** Stops the time, and waits for the frame that was asked for before: calls are answered in order. */
export async function pause(page) {
	await button(page, w.run.time.pause).click();
	await page.waitForFunction(() => !tarryDesk.playing.value);
	await page.evaluate(() => tarryDesk.call("story", { limit: 1 }));
}

/** Goes on, or back, by one cause; false if nothing is there to go to. */
export async function step(page, way = "next") {
	const to = await page.evaluate((field) => tarryDesk.frame.value[field], way);
	if (to < 0) return false;
	await button(page.locator(".steps"), w.run.time[`${way}Label`]).click();
	await shows(page, to);
	return true;
}

/** The part of the drawing with that id, as a button. */
export const part = (page, id) => page.locator(`button[data-part="${id}"]`);

/** The hand of a device in the strip of hands. */
export const hand = (page, tag) =>
	page.locator(".hands .hand-button").filter({ has: page.locator(`b:text-is("${tag}")`) });

/** What a press hands to the browser as a file: its name and its text. */
export async function downloaded(page, press) {
	const [file] = await Promise.all([page.waitForEvent("download"), press()]);
	return { name: file.suggestedFilename(), text: readFileSync(await file.path(), "utf8") };
}

/** Serves the desk on this computer; gives its address and a way to stop it. */
export async function serve(...args) {
	const child = spawn(command, ["app", "--no-browser", ...args], { stdio: ["ignore", "pipe", "inherit"] });
	const url = await new Promise((done, fail) => {
		let said = "";
		child.stdout.setEncoding("utf8").on("data", (text) => {
			said += text;
			const found = /http:\/\/\S+/.exec(said);
			if (found) done(found[0]);
		});
		child.on("exit", (code) => fail(new Error(`tarry app ended with ${code}: ${said}`)));
	});
	const stop = () =>
		new Promise((done) => {
			child.removeAllListeners("exit").on("exit", done);
			child.kill("SIGINT");
		});
	return { url, stop };
}
