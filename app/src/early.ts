// Runs in the page's head, so that the first paint has the right ground.

import { applyGround, type Ground } from "./keep/ground";
import { readRecord } from "./keep/store";

applyGround((readRecord("look")?.ground as Ground) ?? "system");
