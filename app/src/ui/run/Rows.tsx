// Choosing the chart's rows and their order.

import { type Signal, useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { complain, frame, sheet } from "../../desk";
import { call } from "../../engine";
import { w } from "../../words";
import { Button, Dialog } from "../kit";

function rowWords(row: string): string {
	if (row === "supply") return w.run.chart.supply;
	if (row.endsWith(".elapsed")) return w.run.chart.elapsedRow(row.slice(0, -8));
	const label = sheet.value?.devices.find((d) => d.tag === row.split(".")[0])?.label;
	return label ? `${row} ${label}` : row;
}

/** The rows that the chart shows if none are chosen. */
async function usualRows(): Promise<string[]> {
	const f = frame.peek();
	const from = f?.from ?? 0;
	const c = await call("chart", {
		script: -1,
		rows: [],
		from,
		to: from + 1e9,
		width: 20000,
		blank: [],
		given: [],
		square: 0,
		uncut: true,
	});
	return c.plan.rows.map((r) => r.name);
}

export function Rows(p: { chosen: Signal<string[]>; onClose(): void }) {
	const c = w.run.chart;
	const usual = useSignal<string[]>([]);
	useEffect(() => {
		usualRows()
			.then((rows) => {
				usual.value = rows;
			})
			.catch(complain);
	}, []);
	const shown = p.chosen.value.length > 0 ? p.chosen.value : usual.value;
	const others = (sheet.value?.rows ?? []).filter((r) => !shown.includes(r));
	const set = (rows: string[]) => {
		if (rows.length > 0) p.chosen.value = rows;
	};
	const swap = (i: number, j: number) => {
		const rows = [...shown];
		[rows[i], rows[j]] = [rows[j] as string, rows[i] as string];
		set(rows);
	};
	const item = (row: string, on: boolean, i: number) => (
		<li key={row}>
			<label>
				<input
					type="checkbox"
					checked={on}
					onChange={() => set(on ? shown.filter((r) => r !== row) : [...shown, row])}
				/>
				{rowWords(row)}
			</label>
			{on && (
				<>
					<Button label={c.up(row)} disabled={i === 0} onClick={() => swap(i, i - 1)}>
						{c.upSign}
					</Button>
					<Button label={c.down(row)} disabled={i === shown.length - 1} onClick={() => swap(i, i + 1)}>
						{c.downSign}
					</Button>
				</>
			)}
		</li>
	);
	return (
		<Dialog title={c.rowsTitle} onClose={p.onClose} class="rows">
			<p>{c.rowsAbout}</p>
			<ul>
				{shown.map((r, i) => item(r, true, i))}
				{others.map((r) => item(r, false, -1))}
			</ul>
			<Button
				onClick={() => {
					p.chosen.value = [];
				}}
			>
				{c.usual}
			</Button>
		</Dialog>
	);
}
