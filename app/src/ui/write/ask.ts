// Questions that a change of the picture begins with: which contact, which load.

import { change } from "../../desk";
import type { Change } from "../../protocol";
import { w } from "../../words";
import { changeAll } from "./changes";
import { asking, byName, type Choice, type Pick } from "./state";

const p = w.write.pick;

const pick = (one: Pick) => {
	asking.value = { name: "pick", pick: one };
};

/** Asks for a contact or load and makes one change with it. */
export function pickFor(want: "contact" | "load", title: string, make: (name: string) => Change) {
	pick({
		want,
		title,
		take: async (c) => (await change({ ...make(c.name), declare: c.declare })) !== undefined,
	});
}

const declared = (c: Choice): Change => ({ do: "add-device", ...c.device });

/** Asks for the contact and the load of a new rung. */
export function addRung(after: number) {
	pick({
		want: "contact",
		title: p.contactFirst,
		orNone: true,
		take: (contact) => {
			loadOfRung(after, contact);
			return true;
		},
	});
}

function loadOfRung(after: number, contact: Choice) {
	const first = contact.device ? [declared(contact)] : [];
	pick({
		want: "load",
		title: contact.name ? p.loadOfRung(contact.name) : p.loadAlone,
		taken: contact.device ? [contact.device.tag] : [],
		take: async (load) => {
			const rung: Change = { do: "add-rung", after, path: contact.name, loads: load.name, declare: load.declare };
			return (await changeAll([...first, rung])) !== undefined;
		},
	});
}

export function addDevice() {
	pick({
		want: "device",
		title: p.device,
		take: async (c) => {
			if ((await change(declared(c))) === undefined) return false;
			byName.value = c.device?.tag ?? "";
			return true;
		},
	});
}
