// A picture that the engine made: looked at, not touched.

import { useLayoutEffect, useRef } from "preact/hooks";
import type { Picture } from "../../protocol";
import { svgNodes } from "../kit";

/** `most` is the greatest width in rem. */
export function Sketch(p: { of: Picture; words: string; most: number }) {
	const { of } = p;
	const ref = useRef<SVGSVGElement>(null);
	useLayoutEffect(() => {
		ref.current?.replaceChildren(...svgNodes(of.svg));
	}, [of.svg]);
	return (
		<svg
			ref={ref}
			class="mark-sketch engine-svg chart"
			role="img"
			aria-label={p.words}
			viewBox={`0 0 ${of.width} ${of.height}`}
			style={{ maxWidth: `${p.most}rem` }}
		/>
	);
}
