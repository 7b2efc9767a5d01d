// The engine measures words by its own fonts and brings them along. They are
// put in force after the first drawing, which stands with the system's fonts
// until then.

import { call } from "../../engine";
import { bytes } from "../kit";

export async function loadFonts() {
	try {
		const about = await call("about", {});
		for (const f of about.fonts) {
			const face = new FontFace(f.family, bytes(f.data), { weight: f.weight });
			document.fonts.add(await face.load());
		}
	} catch (e) {
		// The system's fonts do; the drawing only looks a little different.
		console.warn("fonts:", e);
	}
}
