// The page's side of the worker: calls and their replies. A lost worker is
// replaced; who needs its state back listens to `renewed`.

import { signal } from "@preact/signals";
import type { Call, Failure, Reply, Request } from "./protocol";
import type { Started } from "./start";

/** See start.ts: how a worker is started, and the one that already is. */
declare const tarryStart: () => Started;
declare let tarryStarted: Started | undefined;

/** "waking" until the engine runs, "lost" if it can't be made to run. */
export const engineState = signal<"waking" | "ready" | "lost">("waking");

/** What a call fails with: bad input to be said, or a fault. */
export class CallError extends Error {
	constructor(
		message: string,
		readonly kind: "input" | "fault" | "lost",
	) {
		super(message);
	}
}

interface Waiting {
	resolve(reply: unknown): void;
	reject(e: CallError): void;
}

let worker: Worker | undefined;
let waiting = new Map<number, Waiting>();
let queue: { id: number; call: string; request: unknown }[] = [];
let lastID = 0;
let losses = 0;
let calm: ReturnType<typeof setTimeout> | undefined;
const renewal: (() => Promise<void>)[] = [];
let renewing = false;

/** Calls `then` whenever a lost worker has been replaced; other calls wait until it is through. */
export function onRenewed(then: () => Promise<void>) {
	renewal.push(then);
}

/** What this browser lacks, empty if it has all. */
export function lacks(): string[] {
	const missing: string[] = [];
	if (typeof WebAssembly === "undefined") missing.push("WebAssembly");
	if (typeof Worker === "undefined") missing.push("Worker");
	return missing;
}

/** Starts the engine. */
export function wake() {
	const { worker: born, early } = tarryStarted ?? tarryStart();
	tarryStarted = undefined;
	worker = born;
	born.onmessage = (m) => {
		if (worker === born) heard(m.data);
	};
	born.onerror = (e) => {
		e.preventDefault();
		if (worker === born) lost(e.message || "worker error");
	};
	for (const m of early) heard(m.data);
	if (calm) clearTimeout(calm);
	calm = setTimeout(() => {
		losses = 0;
	}, 60_000);
}

function heard(m: { ready?: boolean; lost?: string; id?: number; reply?: unknown; failure?: Failure }) {
	if (m.ready) {
		const again = losses > 0;
		engineState.value = "ready";
		renewing = again;
		if (again) void Promise.all(renewal.map((then) => then())).finally(release);
		else release();
		return;
	}
	if (m.lost !== undefined) return lost(m.lost);
	const w = waiting.get(m.id as number);
	waiting.delete(m.id as number);
	if (!w) return;
	if (m.failure) w.reject(new CallError(m.failure.error, m.failure.fault ? "fault" : "input"));
	else w.resolve(m.reply);
}

/** Sends the calls that had to wait. */
function release() {
	renewing = false;
	const held = queue;
	queue = [];
	for (const c of held) worker?.postMessage(c);
}

/** Gives up on the worker and starts another, but not for ever. */
function lost(why: string) {
	console.warn("engine lost:", why);
	worker?.terminate();
	worker = undefined;
	queue = [];
	const failed = waiting;
	waiting = new Map();
	for (const w of failed.values()) w.reject(new CallError(why, "lost"));
	losses++;
	if (losses > 3) {
		engineState.value = "lost";
		return;
	}
	engineState.value = "waking";
	wake();
}

/** Ends the worker as a crash would: for tests, and for a call that hangs. */
export function loseWorker() {
	lost("stopped from the page");
}

/** Asks the engine. Calls are answered in order. */
export function call<C extends Call>(name: C, request: Request<C>): Promise<Reply<C>> {
	return send(name, request, engineState.value === "ready" && !renewing);
}

/** Asks before all calls that wait for the engine to be itself again: for what makes it so. */
export function callNow<C extends Call>(name: C, request: Request<C>): Promise<Reply<C>> {
	return send(name, request, true);
}

function send<C extends Call>(name: C, request: Request<C>, now: boolean): Promise<Reply<C>> {
	return new Promise((resolve, reject) => {
		if (engineState.value === "lost") {
			reject(new CallError("the engine does not run", "lost"));
			return;
		}
		const id = ++lastID;
		waiting.set(id, { resolve: resolve as (r: unknown) => void, reject });
		const message = { id, call: name, request };
		if (now && worker) worker.postMessage(message);
		else queue.push(message);
	});
}
