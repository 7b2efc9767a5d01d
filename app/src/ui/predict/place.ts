// From times to places on a chart and back, as its plan says.

import type { Nanos, Plan, Unit } from "../../protocol";

type Point = Plan["scale"][number];

function between(scale: Point[], before: (p: Point) => boolean): [Point, Point] {
	const i = Math.max(
		1,
		scale.findIndex((p) => !before(p)),
	);
	const last = scale.length - 1;
	const at = before(scale[last] as Point) ? last : i;
	return [scale[at - 1] as Point, scale[at] as Point];
}

const within = (x: number, a: number, b: number) => Math.min(Math.max(x, a), b);

/** Where an instant stands; what lies outside stands at the edge. */
export function xOf(plan: Plan, at: Nanos): Unit {
	const [a, b] = between(plan.scale, (p) => p.at < at);
	if (b.at <= a.at) return a.x;
	return within(a.x + ((at - a.at) / (b.at - a.at)) * (b.x - a.x), a.x, b.x);
}

/** The instant at a place; beside the plot the first or the last one. */
export function atOf(plan: Plan, x: Unit): Nanos {
	const [a, b] = between(plan.scale, (p) => p.x < x);
	if (b.x <= a.x) return a.at;
	return within(a.at + ((x - a.x) / (b.x - a.x)) * (b.at - a.at), a.at, b.at);
}

/** The last instant that the chart shows. */
export const endOf = (plan: Plan): Nanos => plan.scale[plan.scale.length - 1]?.at ?? 0;
