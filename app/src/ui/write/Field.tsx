// A field with its name above it.

import { useEffect, useLayoutEffect, useRef } from "preact/hooks";

let last = 0;

export function Field(p: {
	label: string;
	value: string;
	onInput(v: string): void;
	hint?: string;
	/** Its words are marked when they come in, so that typing replaces them. */
	select?: boolean;
	focus?: boolean;
	/** The user goes on to something else. */
	onLeave?(): void;
}) {
	const input = useRef<HTMLInputElement>(null);
	const id = useRef("");
	if (!id.current) id.current = `field-${++last}`;
	const untouched = useRef(true);
	// A dialog that opens gives the focus to what is marked for it; elsewhere it must be taken.
	useLayoutEffect(() => {
		if (p.focus) input.current?.focus();
	}, []);
	const mark = () => {
		if (p.select && untouched.current && document.activeElement === input.current) input.current?.select();
	};
	useEffect(mark, [p.value]);
	return (
		<div class="field">
			<label for={id.current}>{p.label}</label>
			<input
				ref={input}
				id={id.current}
				autofocus={p.focus}
				onFocus={mark}
				onBlur={p.onLeave}
				value={p.value}
				autocomplete="off"
				spellcheck={false}
				aria-describedby={p.hint ? `${id.current}-hint` : undefined}
				onInput={(e) => {
					untouched.current = false;
					p.onInput(e.currentTarget.value);
				}}
			/>
			{p.hint && <small id={`${id.current}-hint`}>{p.hint}</small>}
		</div>
	);
}
