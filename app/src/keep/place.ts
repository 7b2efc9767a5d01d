// The file on disk that the work was opened from or saved in.

import { signal } from "@preact/signals";

/** A file that can be written to again, in browsers that have such. */
export interface Handle {
	readonly name: string;
	getFile(): Promise<File>;
	createWritable(): Promise<{ write(data: string): Promise<void>; close(): Promise<void> }>;
	requestPermission?(o: { mode: "readwrite" }): Promise<string>;
}

export interface Place {
	name: string;
	/** The text as it stands in the file; null if it is known to differ. */
	text: string | null;
	handle?: Handle;
}

/** Where the work on the desk was last saved or came from, null for nowhere. */
export const inFile = signal<Place | null>(null);

export function keepFile(place: Place | undefined) {
	inFile.value = place ?? null;
}
