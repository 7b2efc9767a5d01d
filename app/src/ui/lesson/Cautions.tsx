// The cautions at the head of the page. On a small screen they may be folded
// to one line once they have been read; they are never gone, and others than
// those that were read stand unfolded again.

import { useState } from "preact/hooks";
import { sheet } from "../../desk";
import { cautionsRead } from "../../keep/look";
import { w } from "../../words";

export function Cautions() {
	const s = sheet.value;
	const all = [...(s?.readOnly ? [s.readOnly] : []), ...(s?.cautions ?? [])];
	const key = all.join("\n");
	const [open, setOpen] = useState("");
	if (all.length === 0) return null;
	const folded = cautionsRead.value === key && open !== key;
	return (
		<aside class={`cautions ${folded ? "folded" : ""}`} aria-label={w.caution}>
			<div>
				{all.map((c) => (
					<p key={c} class={c === s?.readOnly ? "read-only" : ""}>
						{c}
					</p>
				))}
			</div>
			<button
				type="button"
				class="quiet fold"
				aria-expanded={!folded}
				onClick={() => {
					setOpen(folded ? key : "");
					if (!folded) cautionsRead.value = key;
				}}
			>
				{folded ? w.files.cautionMore : w.files.cautionLess}
			</button>
		</aside>
	);
}
