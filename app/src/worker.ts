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

/** Reads base64; browsers that can do it themselves are faster. */
function unpack(text: string): Uint8Array<ArrayBuffer> {
	const native = (Uint8Array as unknown as { fromBase64?: (t: string) => Uint8Array<ArrayBuffer> }).fromBase64;
	if (native) return native(text);
	const bytes = atob(text);
	const out = new Uint8Array(bytes.length);
	for (let i = 0; i < bytes.length; i++) out[i] = bytes.charCodeAt(i);
	return out;
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
