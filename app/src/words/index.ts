// All words of the desk in one table. A second language is a second table of
// the same shape.

import { common } from "./common";
import { files } from "./files";
import { look } from "./look";
import { mark } from "./mark";
import { predict } from "./predict";
import { print } from "./print";
import { run } from "./run";
import { write } from "./write";

export const english = { ...common, run, write, predict, mark, print, files, look };
export type Words = typeof english;
export const w: Words = english;
