// The worker: holds the engine, so that the page never freezes. It gets the
// packed engine once, then calls; each is answered with a reply or a failure.

import { decompress } from "fzstd";
import type { Failure } from "./protocol";

interface GoRuntime {
	importObject: WebAssembly.Imports;
	run(instance: WebAssembly.Instance): Promise<void>;
}
declare const Go: new () => GoRuntime;

type Answer = (call: string, request: string) => string;
const scope = globalThis as unknown as {
	tarry?: Answer;
	tarryReady?: () => void;
	postMessage(m: unknown): void;
	onmessage: ((m: MessageEvent) => void) | null;
};

/** Reads what build.mjs wrote: 13 or 14 bits in two of 91 signs, whichever of the printable ones mean nothing in HTML. */
function unpack(text: string): Uint8Array {
	const values = new Uint8Array(128);
	let next = 0;
	for (let c = 33; c < 127; c++) if (!"<&\\".includes(String.fromCharCode(c))) values[c] = next++;
	const out = new Uint8Array(Math.ceil((text.length / 2) * 1.75));
	let size = 0;
	let held = 0;
	let count = 0;
	for (let i = 0; i + 1 < text.length; i += 2) {
		const v = (values[text.charCodeAt(i)] as number) + 91 * (values[text.charCodeAt(i + 1)] as number);
		held |= v << count;
		count += (v & 8191) > 88 ? 13 : 14;
		for (; count > 7; count -= 8) {
			out[size++] = held & 255;
			held >>>= 8;
		}
	}
	if (text.length % 2 === 1) out[size++] = held | ((values[text.charCodeAt(text.length - 1)] as number) << count);
	return out.subarray(0, size);
}

async function wake(packed: string) {
	const go = new Go();
	const { instance } = await WebAssembly.instantiate(decompress(unpack(packed)) as BufferSource, go.importObject);
	const ready = new Promise<void>((resolve) => {
		scope.tarryReady = resolve;
	});
	// The program runs until the worker ends; that it returns is a fault.
	go.run(instance).then(
		() => scope.postMessage({ lost: "the engine ended" }),
		(e) => scope.postMessage({ lost: String(e) }),
	);
	await ready;
	scope.postMessage({ ready: true });
}

function answer(id: number, call: string, request: unknown) {
	if (!scope.tarry) {
		scope.postMessage({ lost: "the engine is not running" });
		return;
	}
	let reply: unknown;
	try {
		reply = JSON.parse(scope.tarry(call, JSON.stringify(request)));
	} catch (e) {
		scope.postMessage({ lost: String(e) });
		return;
	}
	const failure = reply as Partial<Failure>;
	if (failure && typeof failure === "object" && typeof failure.error === "string")
		scope.postMessage({ id, failure: reply });
	else scope.postMessage({ id, reply });
}

scope.onmessage = (m) => {
	const { packed, id, call, request } = m.data;
	if (packed) wake(packed).catch((e) => scope.postMessage({ lost: String(e) }));
	else answer(id, call, request);
};
