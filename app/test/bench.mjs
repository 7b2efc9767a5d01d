// The figures of the desk, as `make bench` prints them: size, first drawing,
// frames of a live run, the way from an edit to its drawing, memory. Run after
// `make app`. It fails if a figure is beyond what the desk promises.

import { mkdtempSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { chromium } from "playwright-core";

const page = resolve(process.env.TARRY_PAGE ?? new URL("../../dist/tarry.html", import.meta.url).pathname);
const args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"];
args.push("--disable-component-update", "--disable-sync");
const executablePath = process.env.CHROMIUM ?? "/usr/bin/chromium";
let failed = 0;

function report(what, value, unit, limit) {
	const over = limit !== undefined && value > limit;
	if (over) failed++;
	const bound = limit === undefined ? "" : `  (at most ${limit} ${unit})${over ? "  TOO MUCH" : ""}`;
	console.log(`${what.padEnd(58)}${String(value).padStart(9)} ${unit}${bound}`);
}

const percentile = (list, p) =>
	[...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.floor((list.length * p) / 100))];

/** A fresh browser each time: nothing is compiled or kept from before. */
async function withPage(use, slow = 1) {
	const dir = mkdtempSync(join(tmpdir(), "tarry-bench-"));
	const context = await chromium.launchPersistentContext(dir, { executablePath, headless: true, args });
	try {
		const tab = context.pages()[0] ?? (await context.newPage());
		const cdp = await context.newCDPSession(tab);
		if (slow > 1) await cdp.send("Emulation.setCPUThrottlingRate", { rate: slow });
		return await use(tab, cdp);
	} finally {
		await context.close();
		rmSync(dir, { recursive: true, force: true });
	}
}

/** Milliseconds from the start of loading to the first drawing on the screen. */
async function firstDrawing(slow) {
	return withPage(async (tab) => {
		await tab.goto(`file://${page}`);
		await tab.waitForFunction(() => globalThis.tarryDesk?.ready.value && document.querySelector("svg [data-shows]"));
		return tab.evaluate(
			() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(performance.now())))),
		);
	}, slow);
}

/** 50 rungs, a third of them flashing on their own, others timing after each other. */
function busyCircuit() {
	const devices = ["S1 switch"];
	const rungs = [];
	for (let i = 1; i <= 25; i++) {
		devices.push(`KT${i} flasher ${300 + 37 * i} ms, ${200 + 53 * i} ms`, `H${i} lamp`);
		rungs.push(`${2 * i - 1}: S1.nc -> KT${i}`, `${2 * i}: KT${i}.tno -> H${i}`);
	}
	return `circuit "Fifty rungs"\n${devices.join("\n")}\n${rungs.join("\n")}\n`;
}

async function ready(tab, text) {
	await tab.setViewportSize({ width: 1280, height: 800 });
	await tab.goto(`file://${page}`);
	await tab.waitForFunction(() => globalThis.tarryDesk?.ready.value);
	if (text) await tab.evaluate((t) => globalThis.tarryDesk.openText("bench", t), text);
	await tab.waitForTimeout(500);
}

async function frames() {
	return withPage(async (tab) => {
		await ready(tab, busyCircuit());
		return tab.evaluate(async () => {
			const d = globalThis.tarryDesk;
			d.speed.value = 10;
			d.play();
			const times = [];
			const from = d.frame.value.now;
			await new Promise((done) => {
				let last = performance.now();
				const end = last + 10_000;
				const tick = (now) => {
					times.push(now - last);
					last = now;
					if (now < end) requestAnimationFrame(tick);
					else done();
				};
				requestAnimationFrame(tick);
			});
			d.pause();
			return { times: times.slice(1), ran: (d.frame.value.now - from) / 1e9, events: d.frame.value.events };
		});
	});
}

async function edits() {
	return withPage(async (tab) => {
		await ready(tab, busyCircuit());
		return tab.evaluate(async () => {
			const d = globalThis.tarryDesk;
			d.mode.value = "write"; // where texts are edited
			await new Promise((r) => setTimeout(r, 500));
			const times = [];
			for (let i = 0; i < 15; i++) {
				const before = d.drawing.value;
				const at = d.text.value.indexOf("H1 lamp") + 7;
				const t = performance.now();
				d.edit(
					[
						{ from: at, to: at, text: i === 0 ? ' "x"' : "" },
						{ from: 9, to: 9, text: "y" },
					].filter((e) => e.text),
				);
				while (d.drawing.value === before) await new Promise((r) => setTimeout(r, 0));
				await new Promise((r) => requestAnimationFrame(r));
				times.push(performance.now() - t);
				await new Promise((r) => setTimeout(r, 200)); // a key every fifth of a second or so
			}
			return times;
		});
	});
}

const hourCircuit = `circuit "An hour"
S1 switch
KT1 flasher 100 ms, 100 ms
KT2 on-delay 30 ms
H1 lamp
1: S1.nc -> KT1
2: KT1.tno -> KT2
3: KT2.notc -> H1
`;

async function hour() {
	return withPage(async (tab, cdp) => {
		await ready(tab, hourCircuit);
		const heap = async () => {
			await cdp.send("HeapProfiler.collectGarbage");
			const { metrics } = await cdp.send("Performance.getMetrics");
			return metrics.find((m) => m.name === "JSHeapUsedSize").value;
		};
		await cdp.send("Performance.enable");
		const rows = [];
		for (const minutes of [15, 30, 45, 60]) {
			await tab.evaluate(async (m) => {
				const d = globalThis.tarryDesk;
				for (let at = d.frame.value.now / 1e9; at < m * 60; at += 5) await d.goTo((at + 5) * 1e9);
			}, minutes);
			const engine = await tab.evaluate(() => globalThis.tarryDesk.call("memory", {}));
			const state = await tab.evaluate(() => ({
				e: globalThis.tarryDesk.frame.value.events,
				d: globalThis.tarryDesk.frame.value.dropped,
			}));
			rows.push({ minutes, events: state.e, dropped: state.d, used: engine.used, heap: await heap() });
		}
		return rows;
	});
}

const mb = (n) => Math.round(n / 1e4) / 100;
report("dist/tarry.html", statSync(page).size, "bytes", 3_000_000);
const usual = [];
const slow = [];
for (let i = 0; i < 5; i++) usual.push(await firstDrawing(1));
for (let i = 0; i < 5; i++) slow.push(await firstDrawing(4));
report("first drawing from a file, median of 5", Math.round(percentile(usual, 50)), "ms", 1000);
report("first drawing, processor slowed 4 times, median of 5", Math.round(percentile(slow, 50)), "ms", 3000);
const live = await frames();
report(
	"50 rungs live at x10 for 10 s: 95th percentile of frames",
	Math.round(percentile(live.times, 95) * 10) / 10,
	"ms",
	20,
);
report("  frames a second", Math.round(live.times.length / 10), "");
report("  seconds of the circuit's time that passed", Math.round(live.ran), "s");
report("  events", live.events, "");
const edited = await edits();
report("50 rungs: an edit's new drawing, median of 15", Math.round(percentile(edited, 50)), "ms", 50);
for (const r of await hour()) {
	report(`after ${r.minutes} min of a 0.2 s flasher: events on record`, r.events, "");
	report("  engine's memory in use", mb(r.used), "MB");
	report("  page's memory in use", mb(r.heap), "MB");
	if (r.minutes === 60 && !r.dropped) failed++;
	if (r.dropped) console.log(`  ${r.dropped}`);
}
process.exit(failed > 0 ? 1 : 0);
