// The picker for a contact, a load or a new device: a search field over a list.
// What is there comes first; a new device is asked for its tag and settings.

import { useEffect, useState } from "preact/hooks";
import { message } from "../../desk";
import type { Kind } from "../../protocol";
import { w } from "../../words";
import { Dialog } from "../kit";
import type { Offer } from "./candidates";
import { reason } from "./changes";
import { loadKinds } from "./kinds";
import { NewDevice } from "./NewDevice";
import { Offers } from "./Offers";
import { asking, type Choice, type Pick } from "./state";

export function Picker(props: { pick: Pick }) {
	const [kind, setKind] = useState<Kind | null>(null);
	const [query, setQuery] = useState("");
	const [refused, setRefused] = useState("");
	useEffect(loadKinds, []);
	const close = () => {
		if (asking.value?.name === "pick" && asking.value.pick === props.pick) asking.value = null;
	};
	const choose = async (c: Choice) => {
		message.value = null;
		if (await props.pick.take(c)) close();
		else setRefused(reason());
	};
	const take = (o: Offer) => {
		setRefused("");
		if (o.kind) setKind(o.kind);
		else choose({ name: o.name ?? "" });
	};
	return (
		<Dialog title={props.pick.title} class="picker" onClose={close}>
			{refused && (
				<p class="refused" role="alert">
					{refused}
				</p>
			)}
			{kind ? (
				<NewDevice kind={kind} pick={props.pick} onBack={() => setKind(null)} onDone={choose} />
			) : (
				<Offers pick={props.pick} query={query} onQuery={setQuery} onTake={take} />
			)}
			{!kind && <p class="hint keyboard-only">{w.write.pick.hint}</p>}
		</Dialog>
	);
}
