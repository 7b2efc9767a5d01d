// The title block's cells for files, with the dialogs behind them.

import { signal } from "@preact/signals";
import { mayWrite } from "../../desk";
import { w } from "../../words";
import { Button } from "../kit";
import { PictureDialog } from "../print/PictureDialog";
import { dropping } from "./drop";
import { FileDialog } from "./FileDialog";
import { Library } from "./Library";
import { StateCell } from "./State";

/** The dialog that is open. */
export const fileDialog = signal<"" | "library" | "file">("");

const close = () => {
	fileDialog.value = "";
};

export function FileCells() {
	return (
		<>
			<StateCell />
			{mayWrite.value && (
				<div class="cell files">
					<Button
						class="quiet"
						aria-haspopup="dialog"
						onClick={() => {
							fileDialog.value = "library";
						}}
					>
						{w.files.library}
					</Button>
					<Button
						class="quiet"
						aria-haspopup="dialog"
						onClick={() => {
							fileDialog.value = "file";
						}}
					>
						{w.files.file}
					</Button>
				</div>
			)}
			{fileDialog.value === "library" && <Library onClose={close} />}
			{fileDialog.value === "file" && <FileDialog onClose={close} />}
			<PictureDialog />
			{dropping.value && <p class="drop-here">{w.files.dropNow}</p>}
		</>
	);
}
