// Builds dist/tarry.html: the page, its style, its script, the worker and the
// engine in one file. Usage: node build.mjs [--out FILE] [--go GO]
//
// The page's content policy names the hashes of the two scripts, so nothing else
// can run, whatever a circuit's text or a lesson holds.

import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import { mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import * as esbuild from "esbuild";

const here = dirname(fileURLToPath(import.meta.url));
const root = resolve(here, "..");
const option = (name, usual) => {
	const at = process.argv.indexOf(name);
	return at < 0 ? usual : process.argv[at + 1];
};
const out = resolve(option("--out", join(root, "dist/tarry.html")));
const go = option("--go", "go");

/** See unpack in src/worker.ts: no sign of it means anything in HTML. */
const signs = Array.from({ length: 94 }, (_, i) => String.fromCharCode(33 + i)).filter((c) => !"<&\\".includes(c));

/** Bytes as text: 13 or 14 bits in two of 91 signs, an eighth shorter than base64. */
function written(bytes) {
	const out = [];
	let held = 0;
	let count = 0;
	const put = (v) => out.push(signs[v % 91] + signs[Math.floor(v / 91)]);
	for (const b of bytes) {
		held |= b << count;
		count += 8;
		if (count <= 13) continue;
		const short = held & 8191;
		const wide = short > 88 ? 13 : 14;
		put(wide === 13 ? short : held & 16383);
		held >>= wide;
		count -= wide;
	}
	if (count > 0) out.push(signs[held % 91]);
	if (count > 7 || held > 90) out.push(signs[Math.floor(held / 91)]);
	return out.join("");
}

/** A number of a WebAssembly file, seven bits to a byte, and the place behind it. */
function numberAt(bytes, at) {
	let n = 0;
	for (let shift = 0; ; shift += 7) {
		const b = bytes[at++];
		n += (b & 127) * 2 ** shift;
		if (b < 128) return [n, at];
	}
}

/** The place at which a program's data begin: section 11, behind the code. */
function dataOf(bytes) {
	for (let at = 8; at < bytes.length; ) {
		if (bytes[at] === 11) return at;
		const [length, begin] = numberAt(bytes, at + 1);
		at = begin + length;
	}
	throw new Error("the engine has no section of data");
}

/** Packs bytes with zstd. */
function packed(dir, bytes) {
	const from = join(dir, "part");
	writeFileSync(from, bytes);
	execFileSync("zstd", ["-q", "-f", "--ultra", "-19", from, "-o", `${from}.zst`], { stdio: "inherit" });
	return readFileSync(`${from}.zst`);
}

/**
 * Code and data are packed each for itself: they share so little that one spoils
 * the other's tables. zstd settles its prices by what comes first, and a byte more
 * or less there makes up to a tenth of the whole: a few beginnings are tried.
 */
function packedApart(dir, bytes) {
	const data = dataOf(bytes);
	const tries = Array.from({ length: 24 }, (_, more) => ({
		at: data + more,
		packed: packed(dir, bytes.subarray(data + more)),
	}));
	const best = tries.reduce((a, b) => (b.packed.length < a.packed.length ? b : a));
	return Buffer.concat([packed(dir, bytes.subarray(0, best.at)), best.packed]);
}

/**
 * The engine as WebAssembly, packed with zstd, as text. Nothing is inlined: that
 * saves a tenth of the file, and an instant of a lesson's circuit takes
 * microseconds all the same.
 */
function engine() {
	const dir = mkdtempSync(join(tmpdir(), "tarry-"));
	try {
		const file = join(dir, "tarry.wasm");
		execFileSync(go, ["build", "-trimpath", "-ldflags=-s -w", "-gcflags=all=-l", "-o", file, "./cmd/tarry-wasm"], {
			cwd: root,
			env: { ...process.env, GOOS: "js", GOARCH: "wasm" },
			stdio: "inherit",
		});
		return written(packedApart(dir, readFileSync(file)));
	} finally {
		rmSync(dir, { recursive: true });
	}
}

const shared = {
	bundle: true,
	minify: true,
	write: false,
	format: "iife",
	target: ["es2022"],
	legalComments: "none",
	logLevel: "warning",
	jsx: "automatic",
	jsxImportSource: "preact",
};

async function bundle(entry, more = {}) {
	const made = await esbuild.build({ ...shared, entryPoints: [join(here, entry)], ...more });
	return made.outputFiles[0].text;
}

/** The worker's source: Go's own glue for WebAssembly, then ours. */
async function worker() {
	const goroot = execFileSync(go, ["env", "GOROOT"], { encoding: "utf8" }).trim();
	const glue = readFileSync(join(goroot, "lib/wasm/wasm_exec.js"), "utf8");
	const small = await esbuild.transform(glue, { minify: true, legalComments: "none" });
	return `${small.code}\n${await bundle("src/worker.ts")}`;
}

/** Which source this is, for the page about the desk. */
function sourceVersion() {
	try {
		return execFileSync("git", ["describe", "--always", "--dirty"], {
			cwd: root,
			encoding: "utf8",
			stdio: ["ignore", "pipe", "ignore"],
		}).trim();
	} catch {
		return "unversioned";
	}
}

const script = await bundle("src/main.tsx", {
	define: { VERSION: JSON.stringify(sourceVersion()) },
});
const early = await bundle("src/early.ts");
const start = await bundle("src/start.ts", { define: { WORKER_SOURCE: JSON.stringify(await worker()) } });
const style = await bundle("src/style/index.css", { format: undefined, loader: { ".css": "css" } });
if (/<\/script/i.test(script + early + start) || /<\/style/i.test(style))
	throw new Error("the bundle would end its own element");

const hash = (source) => createHash("sha256").update(source).digest("base64");
const parts = {
	STYLE: style,
	EARLY: early,
	START: start,
	SCRIPT: script,
	HASH: hash(script),
	EARLYHASH: hash(early),
	STARTHASH: hash(start),
	ENGINE: engine(),
};
const page = readFileSync(join(here, "src/page.html"), "utf8").replace(
	/%(STYLE|EARLY|START|SCRIPT|HASH|EARLYHASH|STARTHASH|ENGINE)%/g,
	(_, part) => parts[part],
);

mkdirSync(dirname(out), { recursive: true });
writeFileSync(`${out}.part`, page);
renameSync(`${out}.part`, out);
console.log(
	`${out}: ${Buffer.byteLength(page)} bytes (engine ${parts.ENGINE.length}, script ${script.length}, style ${style.length})`,
);
