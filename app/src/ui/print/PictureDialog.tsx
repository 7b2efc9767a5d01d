// The pictures of the board as it stands, asked for from wherever it is seen.

import { signal } from "@preact/signals";
import { w } from "../../words";
import { Dialog } from "../kit";
import { Pictures } from "./Pictures";

type What = "drawing" | "chart" | "frame";

/** The picture that is to be saved, null while nobody asks. */
const asked = signal<What | null>(null);

/** Opens the dialog. */
export const savePicture = (what: What) => {
	asked.value = what;
};
export const askPicture = () => savePicture("drawing");

export function PictureDialog() {
	if (!asked.value) return null;
	return (
		<Dialog
			title={w.print.pictures.title}
			class="picture-dialog"
			onClose={() => {
				asked.value = null;
			}}
		>
			<Pictures first={asked.value} inDialog />
		</Dialog>
	);
}
