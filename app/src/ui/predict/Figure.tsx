// A chart of the engine on the page, with room for what is laid over it.

import type { ComponentChildren } from "preact";
import { useLayoutEffect, useRef } from "preact/hooks";
import type { Chart } from "../../protocol";
import { svgNodes } from "../kit";
import { widen } from "./state";

export function Figure(p: { chart: Chart; name: string; children?: ComponentChildren }) {
	const svg = useRef<SVGSVGElement>(null);
	const names = useRef<SVGSVGElement>(null);
	useLayoutEffect(() => {
		const nodes = svgNodes(p.chart.svg);
		// The rows' names stay in sight when a wide chart is scrolled.
		const labels = nodes.filter((n) => n.classList.contains("row-label"));
		svg.current?.replaceChildren(...nodes.filter((n) => !labels.includes(n)));
		names.current?.replaceChildren(...labels);
	}, [p.chart]);
	// Without rows to draw in, the box itself must take the keys that scroll it.
	const keys = p.children ? {} : ({ tabIndex: 0, role: "group", "aria-label": p.name } as const);
	return (
		<div
			class="predict-scroll"
			onScroll={(e) => names.current?.style.setProperty("--scrolled", `${e.currentTarget.scrollLeft}px`)}
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
				<svg
					ref={names}
					class="engine-svg chart predict-names"
					viewBox={`0 0 ${p.chart.width} ${p.chart.height}`}
					aria-hidden="true"
				/>
			</div>
		</div>
	);
}
