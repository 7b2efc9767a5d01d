// What the text editor is made of.

import { autocompletion, type CompletionContext, completionKeymap } from "@codemirror/autocomplete";
import { defaultKeymap, historyKeymap } from "@codemirror/commands";
import { lintGutter, lintKeymap, type Diagnostic as Mark } from "@codemirror/lint";
import { highlightSelectionMatches, search, searchKeymap } from "@codemirror/search";
import { EditorState, type Extension } from "@codemirror/state";
import { drawSelection, EditorView, highlightActiveLine, keymap, lineNumbers, type ViewUpdate } from "@codemirror/view";
import { call } from "../../engine";
import type { Diagnostic } from "../../protocol";
import { w } from "../../words";
import { edit, replaceText } from "./changes";
import { notation } from "./language";
import { theme } from "./theme";

async function complete(at: CompletionContext) {
	if (!at.explicit && !at.matchBefore(/([\w@."+-]|(->|→|,|:) )$/)) return null;
	try {
		const r = await call("complete", { text: at.state.doc.toString(), at: at.pos });
		if (at.aborted || r.options.length === 0) return null;
		return {
			from: r.from,
			to: r.to,
			options: r.options.map((o, i) => ({ label: o.text, detail: o.about, type: o.kind, boost: Math.max(-99, -i) })),
			validFor: /^[\w+-]*$/,
		};
	} catch {
		// The next keystroke asks again; typing must not be disturbed.
		return null;
	}
}

/** Brings the text into columns, as far as it has no faults. */
export async function tidy() {
	await edit(async (text) => {
		const r = await call("format", { text });
		if (r.refused) return { refused: r.refused };
		return { ...replaceText(text, r.text), said: r.text === text ? w.write.tidyNothing : w.write.tidied };
	});
}

/** The engine's complaints as marks in the editor; places are kept within the text. */
export function marksOf(diagnostics: Diagnostic[], length: number, mend: (d: Diagnostic) => void): Mark[] {
	return diagnostics.map((d) => ({
		from: Math.min(d.from, length),
		to: Math.min(Math.max(d.to, d.from), length),
		severity: d.grade === "notice" ? "info" : d.grade,
		message: d.detail ? `${d.summary}. ${d.detail}` : d.summary,
		actions: d.fix ? [{ name: d.fix.label || w.write.faults.fix, apply: () => mend(d) }] : [],
	}));
}

/** What lies over the text at the foot of the page, where the page itself scrolls. */
function covered(view: EditorView) {
	if (view.scrollDOM.scrollHeight > view.scrollDOM.clientHeight) return null;
	return { bottom: document.querySelector<HTMLElement>(".title-block")?.offsetHeight ?? 0 };
}

const tidyKey = {
	key: "Mod-Shift-f",
	run: () => {
		tidy();
		return true;
	},
};

/** All extensions but the history, which is the document's own. */
export function extensions(onUpdate: (u: ViewUpdate) => void): Extension {
	return [
		lineNumbers(),
		lintGutter(),
		drawSelection(),
		highlightActiveLine(),
		highlightSelectionMatches(),
		notation,
		EditorView.lineWrapping,
		EditorView.scrollMargins.of(covered),
		search({ top: true }),
		autocompletion({ override: [complete], icons: false }),
		EditorState.phrases.of(w.write.phrases),
		EditorView.contentAttributes.of({
			"aria-label": w.write.textLabel,
			tabindex: "0",
			spellcheck: "false",
			autocapitalize: "off",
			autocorrect: "off",
		}),
		keymap.of([tidyKey, ...completionKeymap, ...searchKeymap, ...historyKeymap, ...lintKeymap, ...defaultKeymap]),
		theme,
		EditorView.updateListener.of(onUpdate),
	];
}
