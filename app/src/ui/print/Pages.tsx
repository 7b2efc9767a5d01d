// The pages as they are printed: small on the screen, whole on paper.

import { useLayoutEffect, useRef, useState } from "preact/hooks";
import type { Printed } from "../../protocol";
import { w } from "../../words";
import { Button, Dialog } from "../kit";
import { pageNode, renamed } from "./node";

const t = w.print;

/** Millimetres of a page, read off its view box of 1/100 mm; some sheets lie on their side. */
function sizeOf(source: string, p: Printed): [number, number] {
	const m = /viewBox="0 0 (\d+) (\d+)"/.exec(source.slice(0, 1000));
	return m ? [Number(m[1]) / 100, Number(m[2]) / 100] : [p.width / 100, p.height / 100];
}

/** The name of the paper of that size, for the style sheet. */
const paperOf = (size: [number, number]) => (size[0] > size[1] ? "sheet-on-its-side" : "sheet-upright");

/** Tells the browser which paper it prints on, as long as the pages are on screen. */
function usePaper(sizes: [number, number][]) {
	const rules = [...new Map(sizes.map((s) => [paperOf(s), s]))].map(
		([name, [wide, high]]) => `@page ${name} { size: ${wide}mm ${high}mm; margin: 0; }
			@media print { .${name} { page: ${name}; width: ${wide}mm; height: ${high - 0.1}mm; } }`,
	);
	const text = rules.join("\n");
	useLayoutEffect(() => {
		const style = document.createElement("style");
		style.textContent = text;
		document.head.append(style);
		return () => style.remove();
	}, [text]);
}

/** All pages. The same nodes are seen on the screen and printed. */
export function Pages(p: { printed: Printed; stale: boolean }) {
	const [open, setOpen] = useState(-1);
	const { pages } = p.printed;
	const sizes = pages.map((source) => sizeOf(source, p.printed));
	usePaper(sizes);
	return (
		<>
			<ol class="print-pages" aria-label={t.preview} aria-busy={p.stale}>
				{pages.map((source, i) => (
					<li
						key={`${i} ${source.length}`}
						class={`print-page ${paperOf(sizes[i] as [number, number])}`}
						style={{ "--ratio": sizes[i]?.join(" / ") }}
					>
						<Page source={source} />
						<button
							type="button"
							class="print-enlarge"
							aria-label={t.enlarge(i + 1, pages.length)}
							title={t.enlarge(i + 1, pages.length)}
							onClick={() => setOpen(i)}
						>
							<span aria-hidden="true">{i + 1}</span>
						</button>
					</li>
				))}
			</ol>
			{open >= 0 && open < pages.length && (
				<Large pages={pages} at={open} onTurn={setOpen} onClose={() => setOpen(-1)} />
			)}
		</>
	);
}

function Page(p: { source: string; prefix?: string }) {
	const ref = useRef<HTMLDivElement>(null);
	useLayoutEffect(() => {
		const node = pageNode(p.source);
		if (node && p.prefix) renamed(node, p.prefix);
		ref.current?.replaceChildren(...(node ? [node] : []));
	}, [p.source, p.prefix]);
	return <div class="print-svg" ref={ref} />;
}

/** One page as wide as the screen lets it be. */
function Large(p: { pages: string[]; at: number; onTurn(to: number): void; onClose(): void }) {
	const last = p.pages.length - 1;
	return (
		<Dialog title={t.page(p.at + 1, p.pages.length)} onClose={p.onClose} class="print-large">
			<div class="print-turn">
				<Button disabled={p.at === 0} onClick={() => p.onTurn(p.at - 1)}>
					{t.previous}
				</Button>
				<Button disabled={p.at === last} onClick={() => p.onTurn(p.at + 1)}>
					{t.next}
				</Button>
			</div>
			<Page source={p.pages[p.at] ?? ""} prefix="large-" />
		</Dialog>
	);
}
