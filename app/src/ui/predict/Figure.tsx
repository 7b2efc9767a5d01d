// A chart of the engine on the page, with room for what is laid over it.

import type { ComponentChildren } from "preact";
import { useLayoutEffect, useRef } from "preact/hooks";
import type { Chart } from "../../protocol";
import { svgNodes } from "../kit";
import { resized, widen } from "./state";

export function Figure(p: { chart: Chart; name: string; children?: ComponentChildren }) {
	const svg = useRef<SVGSVGElement>(null);
	const box = useRef<HTMLDivElement>(null);
	useLayoutEffect(() => {
		svg.current?.replaceChildren(...svgNodes(p.chart.svg));
	}, [p.chart]);
	useLayoutEffect(() => {
		const b = box.current;
		if (!b) return;
		const watch = new ResizeObserver(() => resized(b.clientWidth));
		watch.observe(b);
		return () => watch.disconnect();
	}, []);
	// Without rows to draw in, the box itself must take the keys that scroll it.
	const keys = p.children ? {} : ({ tabIndex: 0, role: "group", "aria-label": p.name } as const);
	return (
		<div
			class="predict-scroll"
			ref={box}
			onScroll={(e) => e.currentTarget.classList.toggle("scrolled", e.currentTarget.scrollLeft > 24)}
			{...keys}
		>
			<div class="predict-figure" style={{ "--wide": widen.value }}>
				<svg
					ref={svg}
					class="engine-svg chart"
					viewBox={`0 0 ${p.chart.width} ${p.chart.height}`}
					role="img"
					aria-label={`${p.name}. ${p.chart.words}`}
				/>
				{p.children}
			</div>
		</div>
	);
}
