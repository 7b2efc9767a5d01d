import { signal } from "@preact/signals";

/** The projector view is on. */
export const projecting = signal(false);
