// Says, wherever the circuit is shown, that its text has faults: what runs then
// is only what was understood.

import { errors, mayWrite, mode, sheet } from "../desk";
import { w } from "../words";
import { Button } from "./kit";

export function FaultBar() {
	const n = errors.value;
	const first = sheet.value?.diagnostics.find((d) => d.grade === "error");
	if (n === 0 || !first || mode.value === "write") return null;
	return (
		<div class="fault-bar" role="alert">
			<p>
				<strong>{w.faults.head(n)}</strong> {w.faults.first(first.summary)}
			</p>
			{mayWrite.value && (
				<Button
					onClick={() => {
						mode.value = "write";
					}}
				>
					{w.faults.correct}
				</Button>
			)}
		</div>
	);
}
