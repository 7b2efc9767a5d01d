// The engine's page documents as nodes of this page.

const parser = new DOMParser();

/** Reads a page as XML, so that nothing in it can run; returns undefined if it is no SVG. */
export function pageNode(source: string): SVGSVGElement | undefined {
	const root = parser.parseFromString(source, "image/svg+xml").documentElement;
	if (root.localName !== "svg" || root.namespaceURI !== "http://www.w3.org/2000/svg") return undefined;
	return document.importNode(root, true) as unknown as SVGSVGElement;
}

/** Gives every id of a page another beginning: a page can then stand in the document twice. */
export function renamed(node: SVGSVGElement, prefix: string): SVGSVGElement {
	for (const e of node.querySelectorAll("[id]")) e.id = prefix + e.id;
	const by = node.getAttribute("aria-labelledby");
	if (by)
		node.setAttribute(
			"aria-labelledby",
			by
				.split(" ")
				.map((id) => prefix + id)
				.join(" "),
		);
	return node;
}
