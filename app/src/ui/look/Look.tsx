// The title block's cell "Look": how things are drawn and shown, and the ways
// to the projector, the keys and what is inside.

import { signal } from "@preact/signals";
import { complain, look, view } from "../../desk";
import { grey, ground, textSize } from "../../keep/look";
import { w } from "../../words";
import { Button, Choice, Dialog } from "../kit";
import { About } from "./About";
import { Keys } from "./Keys";
import { projecting } from "./projecting";

export { Projector } from "./Projector";
export { projecting };

/** The dialog that is open. */
export const lookDialog = signal<"" | "look" | "keys" | "about">("");

const close = () => {
	lookDialog.value = "";
};

export function LookCell() {
	return (
		<>
			<div class="cell look">
				<Button
					class="quiet"
					aria-haspopup="dialog"
					onClick={() => {
						lookDialog.value = "look";
					}}
				>
					{w.look.cell}
				</Button>
			</div>
			{lookDialog.value === "look" && <LookDialog />}
			{lookDialog.value === "keys" && <Keys onClose={close} />}
			{lookDialog.value === "about" && <About onClose={close} />}
		</>
	);
}

function Drawn() {
	const v = view.value;
	return (
		<>
			<Choice
				label={w.look.symbols}
				value={v.symbols}
				of={[
					{ value: "international", words: w.look.international },
					{ value: "american", words: w.look.american },
				]}
				onChange={(symbols) => void look({ symbols }).catch(complain)}
			/>
			<Choice
				label={w.look.layout}
				value={v.layout}
				of={[
					{ value: "rungs", words: w.look.rungs },
					{ value: "paths", words: w.look.paths },
				]}
				onChange={(layout) => void look({ layout }).catch(complain)}
			/>
			<Choice
				label={w.look.words}
				value={v.noWords ? "left" : "shown"}
				of={[
					{ value: "shown", words: w.look.shown },
					{ value: "left", words: w.look.left },
				]}
				onChange={(x) => void look({ noWords: x === "left" }).catch(complain)}
			/>
		</>
	);
}

function Shown() {
	return (
		<>
			<Choice
				label={w.look.ground}
				value={ground.value}
				of={[
					{ value: "system", words: w.look.system },
					{ value: "light", words: w.look.light },
					{ value: "dark", words: w.look.dark },
				]}
				onChange={(x) => {
					ground.value = x;
				}}
			/>
			<Choice
				label={w.look.text}
				value={textSize.value}
				of={[
					{ value: "normal", words: w.look.normal },
					{ value: "large", words: w.look.large },
				]}
				onChange={(x) => {
					textSize.value = x;
				}}
			/>
			<Choice
				label={w.look.ink}
				value={grey.value ? "grey" : "coloured"}
				of={[
					{ value: "coloured", words: w.look.coloured },
					{ value: "grey", words: w.look.grey },
				]}
				onChange={(x) => {
					grey.value = x === "grey";
				}}
			/>
			{grey.value && <p class="dialog-note">{w.look.greyHint}</p>}
		</>
	);
}

/** Leaves this dialog for another. */
const lead = (to: "keys" | "about") => (e: Event) => {
	(e.currentTarget as Element).closest("dialog")?.close();
	setTimeout(() => {
		lookDialog.value = to;
	}, 50);
};

function LookDialog() {
	return (
		<Dialog title={w.look.title} onClose={close} class="look-dialog">
			<div class="look-choices">
				<Drawn />
				<Shown />
			</div>
			<div class="look-ways">
				<div>
					<Button
						onClick={(e) => {
							e.currentTarget.closest("dialog")?.close();
							projecting.value = true;
						}}
					>
						{w.look.projector}
					</Button>
					<small>{w.look.projectorHow}</small>
				</div>
				<Button aria-haspopup="dialog" onClick={lead("keys")}>
					{w.look.keys}
				</Button>
				<Button aria-haspopup="dialog" onClick={lead("about")}>
					{w.look.about}
				</Button>
			</div>
		</Dialog>
	);
}
