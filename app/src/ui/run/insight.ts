// Keeps a part of the board in sight while the board finds its size: it is laid
// out anew some time after it came onto the screen.

/** Here the answers stand beside the board, so that both can be seen. */
const beside = "(min-width: 62rem)";

/** Scrolls to a part, and again whenever the drawing changes its size, until the reader does anything. */
export function keepInSight(id: string) {
	const page = document.querySelector(".board .drawing-page");
	if (!page || !id || !matchMedia(beside).matches) return;
	const watch = new ResizeObserver(() => {
		if (!page.isConnected) return stop();
		page.querySelector(`[data-part="${CSS.escape(id)}"]`)?.scrollIntoView({ block: "nearest" });
	});
	const hands = ["wheel", "pointerdown", "keydown", "touchstart"];
	const stop = () => {
		watch.disconnect();
		for (const h of hands) window.removeEventListener(h, stop, true);
	};
	for (const h of hands) window.addEventListener(h, stop, { capture: true, passive: true });
	watch.observe(page);
}
