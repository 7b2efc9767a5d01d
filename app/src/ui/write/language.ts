// Colours for the words of the text. It only looks at letters, never at what
// they mean: that is the engine's, whose complaints stand beside it. Nothing
// is told by colour alone, so each sort also has a weight or a slant.

import { HighlightStyle, StreamLanguage, type StringStream, syntaxHighlighting } from "@codemirror/language";
import { tags as t } from "@lezer/highlight";

interface At {
	/** Something stands before on the line. */
	begun: boolean;
	/** The first word was a tag: the next one is its kind. */
	kind: boolean;
	dot: boolean;
}

const heads = /^(circuit|station|aim|trap|caution|try|say|supply|wire|plant|script)$/;
const acts =
	/^(press|release|close|open|turn|trip|reset|set|supply|for|to|end|expect|on|off|closed|never|always|closes|opens|after|starts|stops)$/;
const time = /^\d+(\.\d+)?\s*(ms|s|min|h)(?![\w])/;

function word(s: StringStream, st: At): string {
	const text = s.current();
	const first = !st.begun;
	st.begun = true;
	if (st.dot) {
		st.dot = false;
		return "propertyName";
	}
	if (first && heads.test(text)) return "keyword";
	if (first && !acts.test(text)) {
		st.kind = true;
		return "variableName";
	}
	if (st.kind) {
		st.kind = false;
		return "typeName";
	}
	if (acts.test(text)) return "operatorKeyword";
	return /^[A-Z]/.test(text) ? "variableName" : "name";
}

function token(s: StringStream, st: At): string | null {
	if (s.sol()) Object.assign(st, { begun: false, kind: false, dot: false });
	if (s.eatSpace()) return null;
	if (s.eat("#")) {
		s.skipToEnd();
		return "comment";
	}
	if (s.match(/^["“„][^"”]*["”]?/)) return "string";
	if (s.match(/^(->|→|\.\.|\+-|±)/)) return "operator";
	if (s.match(/^@[\w+-]*/)) return "labelName";
	if (s.match(/^\p{L}[\p{L}\d_-]*/u)) return word(s, st);
	const first = !st.begun;
	st.begun = true;
	if (s.match(time)) return "number";
	if (first && s.match(/^\d+:/)) return "heading";
	if (s.match(/^[\d.]*\d%?/)) return "number";
	if (s.next() === ".") st.dot = true;
	return "punctuation";
}

const language = StreamLanguage.define<At>({
	name: "tarry",
	startState: () => ({ begun: false, kind: false, dot: false }),
	token,
	languageData: { commentTokens: { line: "#" } },
});

const style = HighlightStyle.define([
	{ tag: t.comment, color: "var(--faint)", fontStyle: "italic" },
	{ tag: t.string, color: "var(--ink)", fontStyle: "italic" },
	{ tag: t.keyword, color: "var(--ink)", fontWeight: "bold" },
	{ tag: t.operatorKeyword, color: "var(--ink)", textDecoration: "underline", textDecorationColor: "var(--hair)" },
	{ tag: t.variableName, color: "var(--ink)", fontWeight: "bold" },
	{ tag: t.typeName, color: "var(--timing)" },
	{ tag: t.propertyName, color: "var(--live)", fontWeight: "bold" },
	{ tag: t.number, color: "var(--timing)", fontWeight: "bold" },
	{ tag: t.labelName, color: "var(--live)", fontStyle: "italic" },
	{ tag: t.heading, color: "var(--faint)", fontWeight: "bold" },
	{ tag: t.operator, color: "var(--ink)", fontWeight: "bold" },
	{ tag: t.punctuation, color: "var(--faint)" },
]);

export const notation = [language, syntaxHighlighting(style)];
