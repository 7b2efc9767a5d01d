// What is done under Predict: draw, choose, mark, or look for better presses.

import { signal } from "@preact/signals";
import { lesson } from "../../lesson";

export type Task = "draw" | "choose" | "mark" | "tell";

export const task = signal<Task>("draw");

/** A lesson without the editor is a learner's: what would tell the answers is the instructor's. */
export const tasks: Task[] = lesson && !lesson.editor ? ["draw", "choose"] : ["draw", "choose", "mark", "tell"];
