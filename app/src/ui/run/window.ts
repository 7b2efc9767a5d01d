// Which stretch of the run the chart shows, and the way between times and
// places on it.

import type { Nanos, Plan, Unit } from "../../protocol";

export interface Stretch {
	from: Nanos;
	to: Nanos;
}

const second = 1e9;

/** Lengths of "all" that the chart grows through, so that it is not redrawn all the time. */
const lengths = [10, 20, 30, 60, 120, 300, 600, 1200, 3600, 7200, 14400, 43200, 86400];

/**
 * The stretch to show. It stays as long as the cursor is well inside; else it
 * moves so that the cursor has room to run on.
 */
export function stretchFor(seconds: number, now: Nanos, known: Nanos, oldest: Nanos, was?: Stretch): Stretch {
	if (seconds === 0) {
		const need = Math.max(known, now) - oldest;
		const long = lengths.find((l) => l * second * 0.95 >= need) ?? Math.ceil((need / second) * 1.2);
		return { from: oldest, to: oldest + long * second };
	}
	const long = seconds * second;
	if (was && was.to - was.from === long && was.from >= oldest && now >= was.from && now <= was.from + long * 0.95)
		return was;
	if (now <= oldest + long * 0.9) return { from: oldest, to: oldest + long };
	const from = Math.max(oldest, Math.floor((now - long * 0.6) / second) * second);
	return { from, to: from + long };
}

/** The place of an instant; outside the window that of its edge. */
export function placeOf(plan: Plan, at: Nanos): Unit {
	const s = plan.scale;
	let before = s[0];
	if (!before || at <= before.at) return before?.x ?? plan.left;
	for (const after of s) {
		if (after.at >= at) {
			const part = after.at === before.at ? 1 : (at - before.at) / (after.at - before.at);
			return before.x + part * (after.x - before.x);
		}
		before = after;
	}
	return before.x;
}

/** The instant at a place. */
export function timeAt(plan: Plan, x: Unit): Nanos {
	const s = plan.scale;
	let before = s[0];
	if (!before || x <= before.x) return before?.at ?? 0;
	for (const after of s) {
		if (after.x >= x) {
			const part = after.x === before.x ? 1 : (x - before.x) / (after.x - before.x);
			return before.at + part * (after.at - before.at);
		}
		before = after;
	}
	return before.at;
}
