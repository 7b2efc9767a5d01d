// The small parts that every area builds with.

import type { ButtonHTMLAttributes, ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { w } from "../words";

/** A dialog over the page; Escape and a press beside it close it. */
export function Dialog(p: { title: string; onClose(): void; class?: string; children: ComponentChildren }) {
	const ref = useRef<HTMLDialogElement>(null);
	useEffect(() => {
		const d = ref.current;
		if (d && !d.open) d.showModal();
	}, []);
	return (
		<dialog
			ref={ref}
			class={`dialog ${p.class ?? ""}`}
			aria-label={p.title}
			onClose={p.onClose}
			onPointerDown={(e) => {
				if (e.target === ref.current) ref.current?.close();
			}}
		>
			<div class="dialog-body">
				<div class="dialog-head">
					<h2>{p.title}</h2>
					<Button class="quiet" onClick={() => ref.current?.close()} label={w.desk.close}>
						×
					</Button>
				</div>
				{p.children}
			</div>
		</dialog>
	);
}

/** A button. Give `label` when what it shows is no word. */
export function Button(
	p: {
		label?: string;
		pressed?: boolean;
		children: ComponentChildren;
	} & ButtonHTMLAttributes<HTMLButtonElement>,
) {
	const { label, pressed, children, ...rest } = p;
	return (
		<button type="button" aria-label={label} title={label} aria-pressed={pressed} {...rest}>
			{children}
		</button>
	);
}

/** A choice among a few words, side by side. */
export function Choice<T extends string | number>(p: {
	label: string;
	value: T;
	of: { value: T; words: string }[];
	onChange(v: T): void;
}) {
	return (
		<fieldset class="choice">
			<legend>{p.label}</legend>
			{p.of.map((o) => (
				<label key={o.value} class={o.value === p.value ? "chosen" : ""}>
					<input type="radio" name={p.label} checked={o.value === p.value} onChange={() => p.onChange(o.value)} />
					{o.words}
				</label>
			))}
		</fieldset>
	);
}

/** Hands a file to the browser to be saved. */
export function download(name: string, type: string, data: string | Uint8Array<ArrayBuffer>) {
	const url = URL.createObjectURL(new Blob([data], { type }));
	const a = document.createElement("a");
	a.href = url;
	a.download = name;
	a.click();
	setTimeout(() => URL.revokeObjectURL(url), 10_000);
}

/** Bytes of a base64 text. */
export function bytes(base64: string): Uint8Array<ArrayBuffer> {
	const raw = atob(base64);
	const out = new Uint8Array(raw.length);
	for (let i = 0; i < raw.length; i++) out[i] = raw.charCodeAt(i);
	return out;
}

const parser = new DOMParser();

/** Turns inner SVG made by the engine into nodes. It is read as XML, so nothing in it can run. */
export function svgNodes(inner: string): SVGElement[] {
	const doc = parser.parseFromString(`<svg xmlns="http://www.w3.org/2000/svg">${inner}</svg>`, "image/svg+xml");
	return [...doc.documentElement.children].map((n) => document.importNode(n, true) as SVGElement);
}
