// The cautions at the head of the page. On a small screen those that have been
// read may be folded to one line each; they are never gone, and a new one
// stands unfolded.

import { useState } from "preact/hooks";
import { sheet } from "../../desk";
import { cautionsRead } from "../../keep/look";
import { w } from "../../words";

/** More would only be ballast: the oldest are shown in full again. */
const remembered = 50;

export function Cautions() {
	const s = sheet.value;
	const all = [...(s?.readOnly ? [s.readOnly] : []), ...(s?.cautions ?? [])];
	const [open, setOpen] = useState("");
	if (all.length === 0) return null;
	const fresh = all.filter((c) => !cautionsRead.value.includes(c));
	const key = all.join("\n");
	const unfolded = fresh.length > 0 || open === key;
	return (
		<aside class={`cautions ${unfolded ? "" : "folded"}`} aria-label={w.caution}>
			<div>
				{all.map((c) => {
					const short = open !== key && !fresh.includes(c);
					return (
						<p key={c} class={`${c === s?.readOnly ? "read-only" : ""} ${short ? "short" : ""}`}>
							{c}
						</p>
					);
				})}
			</div>
			<button
				type="button"
				class="quiet fold"
				aria-expanded={unfolded}
				onClick={() => {
					setOpen(unfolded ? "" : key);
					if (unfolded) cautionsRead.value = [...cautionsRead.value, ...fresh].slice(-remembered);
				}}
			>
				{unfolded ? w.files.cautionLess : w.files.cautionMore}
			</button>
		</aside>
	);
}
