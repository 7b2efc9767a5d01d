// The browser's storage, which may be full or forbidden: nothing here throws.
// Desks of other versions and lessons in other files share it, so every key
// says what it is, and every record its version.

const prefix = "tarry.desk.";

export type Where = "local" | "session";
export type Written = "ok" | "full" | "forbidden";

/** The storage, undefined where even looking at it is forbidden. */
function area(where: Where): Storage | undefined {
	try {
		return (where === "local" ? window.localStorage : window.sessionStorage) ?? undefined;
	} catch {
		return undefined;
	}
}

export function read(key: string, where: Where = "local"): string | null {
	try {
		return area(where)?.getItem(prefix + key) ?? null;
	} catch {
		return null;
	}
}

export function write(key: string, value: string, where: Where = "local"): Written {
	const store = area(where);
	if (!store) return "forbidden";
	try {
		store.setItem(prefix + key, value);
		return "ok";
	} catch (e) {
		return e instanceof DOMException && e.name === "QuotaExceededError" ? "full" : "forbidden";
	}
}

export function drop(key: string, where: Where = "local") {
	try {
		area(where)?.removeItem(prefix + key);
	} catch {
		// What can't be reached can't be dropped.
	}
}

/** The keys that begin so, without that beginning. */
export function keysUnder(start: string): string[] {
	const out: string[] = [];
	try {
		const store = area("local");
		for (let i = 0; store && i < store.length; i++) {
			const k = store.key(i);
			if (k?.startsWith(prefix + start)) out.push(k.slice(prefix.length + start.length));
		}
	} catch {
		// Forbidden: there are none.
	}
	return out;
}

/** Reads a record; null if there is none, or it is no object. */
export function readRecord(key: string, where: Where = "local"): Record<string, unknown> | null {
	const raw = read(key, where);
	if (raw === null) return null;
	try {
		const v: unknown = JSON.parse(raw);
		return v && typeof v === "object" && !Array.isArray(v) ? (v as Record<string, unknown>) : null;
	} catch {
		return null;
	}
}

/** Calls `then` when another tab writes a key; gives the key without the prefix. */
export function onWritten(then: (key: string, value: string) => void) {
	window.addEventListener("storage", (e) => {
		if (e.key?.startsWith(prefix) && e.newValue !== null) then(e.key.slice(prefix.length), e.newValue);
	});
}

/** A name that no other tab or work has. It need not be secret. */
export function freshName(): string {
	return `${Date.now().toString(36)}-${Math.random().toString(36).slice(2, 10)}`;
}
