// What this is, which version, and what is inside.

import { useEffect, useState } from "preact/hooks";
import { complain } from "../../desk";
import { call } from "../../engine";
import { w } from "../../words";
import { Dialog } from "../kit";

declare const VERSION: string;

export function About(p: { onClose(): void }) {
	const [caution, setCaution] = useState("");
	useEffect(() => {
		call("about", {}).then((a) => setCaution(a.caution), complain);
	}, []);
	return (
		<Dialog title={w.look.aboutTitle} onClose={p.onClose} class="about-dialog">
			<p>{w.look.what}</p>
			<p>{w.look.version(VERSION)}</p>
			{caution && (
				<section class="cautions" aria-label={w.caution}>
					<p>{caution}</p>
				</section>
			)}
			<h3>{w.look.inside}</h3>
			<ul class="inside">
				{w.look.inside1.map(([what, who]) => (
					<li key={what}>
						<strong>{what}</strong>
						<span>{who}</span>
					</li>
				))}
			</ul>
			{w.look.licences.map(([name, text]) => (
				<details key={name}>
					<summary>{name}</summary>
					<p class="licence">{text}</p>
				</details>
			))}
		</Dialog>
	);
}
