// The questions of the job, in the order in which they are asked.

import { building } from "./building.js";
import { buying } from "./buying.js";
import { cutting } from "./cutting.js";
import { piece } from "./piece.js";
import { sound } from "./sound.js";
import { there } from "./there.js";
import { writing } from "./writing.js";

export const LEAVES = [there, piece, sound, buying, cutting, building, writing];
