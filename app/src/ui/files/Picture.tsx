// A small drawing of a circuit, asked for when it comes into view: the engine
// draws one after the other, so that the board goes on meanwhile.

import { useEffect, useRef } from "preact/hooks";
import { call } from "../../engine";
import type { Reply } from "../../protocol";
import { svgNodes } from "../kit";

type Small = Reply<"thumbnail">;

const made = new Map<string, Small | null>();
const wanted: { text: string; put(s: Small | null): void }[] = [];
let busy = false;

async function work() {
	if (busy) return;
	busy = true;
	for (let next = wanted.shift(); next; next = wanted.shift()) {
		let small = made.get(next.text);
		if (small === undefined) {
			small = await call("thumbnail", { text: next.text }).catch(() => null);
			made.set(next.text, small);
		}
		next.put(small);
	}
	busy = false;
}

function element(s: Small): SVGSVGElement {
	const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
	svg.setAttribute("viewBox", `0 0 ${s.width} ${s.height}`);
	svg.setAttribute("class", "engine-svg");
	svg.append(...svgNodes(s.svg));
	return svg;
}

/** Leaves out the margins, which a small picture has no room for. */
function trim(svg: SVGSVGElement) {
	const b = svg.getBBox();
	const gap = 200;
	if (b.width > 0) svg.setAttribute("viewBox", `${b.x - gap} ${b.y - gap} ${b.width + 2 * gap} ${b.height + 2 * gap}`);
}

export function Picture(p: { text: string; label: string }) {
	const ref = useRef<HTMLSpanElement>(null);
	useEffect(() => {
		const box = ref.current;
		if (!box) return;
		const wish = {
			text: p.text,
			put(s: Small | null) {
				if (!s) return;
				const svg = element(s);
				box.replaceChildren(svg);
				trim(svg);
			},
		};
		const sight = new IntersectionObserver(
			(entries) => {
				if (!entries.some((e) => e.isIntersecting)) return;
				sight.disconnect();
				wanted.push(wish);
				work();
			},
			{ rootMargin: "100px" },
		);
		sight.observe(box);
		return () => {
			sight.disconnect();
			const at = wanted.indexOf(wish);
			if (at >= 0) wanted.splice(at, 1);
		};
	}, [p.text]);
	return <span ref={ref} class="small-drawing" role="img" aria-label={p.label} />;
}
