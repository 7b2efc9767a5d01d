// Starts the engine before the page's own script has been read, and again
// whenever it is lost. Until the page listens, what the worker says waits.

declare const WORKER_SOURCE: string;

/** A worker with the engine in it, and what it said before anybody listened. */
export interface Started {
	worker: Worker;
	early: MessageEvent[];
}

function start(): Started {
	const packed = document.getElementById("engine")?.textContent ?? "";
	const url = URL.createObjectURL(new Blob([WORKER_SOURCE], { type: "text/javascript" }));
	const worker = new Worker(url);
	const early: MessageEvent[] = [];
	worker.onmessage = (m) => early.push(m);
	worker.postMessage({ packed: packed.trim() });
	return { worker, early };
}

const able = typeof Worker !== "undefined" && typeof WebAssembly !== "undefined";
Object.assign(globalThis, { tarryStart: start, tarryStarted: able ? start() : undefined });
