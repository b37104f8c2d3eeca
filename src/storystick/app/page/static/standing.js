// Where everything stands: as built, opened, moved or pulled apart; and in which tone it is drawn.

import { HERE, placed } from "./turning.js";

const WOOD = { sheet: [0.925, 0.855, 0.725, 1], solid: [0.845, 0.69, 0.49, 1], band: [0.8, 0.66, 0.48, 1] };
const METAL = [0.66, 0.69, 0.71, 1], CHOSEN = [0.58, 0.76, 0.89, 1], WRONG = [0.9, 0.55, 0.48, 1];
const FRESH = [0.96, 0.83, 0.5, 1], PALE = [0.95, 0.93, 0.89, 1];
const INK = [0.11, 0.17, 0.21, 1], SITE = [0.45, 0.52, 0.56, 0.1], SITE_INK = [0.42, 0.48, 0.52, 0.55];
const GHOST = [0.8, 0.78, 0.72, 0.06], GHOST_INK = [0.45, 0.52, 0.56, 0.35];
const WRONG_SITE = [0.8, 0.3, 0.25, 0.35], FREE_INK = [0.64, 0.16, 0.12, 0.4], UNSEEN = [0, 0, 0, 0];
const MEETING = [0.78, 0.1, 0.06, 1], MEETING_INK = [0.4, 0, 0, 1];

/** The boxes round things as they stand: each one's middle and span, all of them together, and each group's middle. */
export class Measured {
  constructor(picture, bodies) {
    this.centres = new Map();
    this.spans = new Map();
    this.homes = new Map();
    this.low = [Infinity, Infinity, Infinity];
    this.high = [-Infinity, -Infinity, -Infinity];
    for (const one of [...picture.parts, ...picture.hardware]) this.#take(one, one.pose, bodies.get(one.body));
    if (!this.any) for (const one of picture.site) this.#take(one, HERE, bodies.get(one.body));
    this.middle = this.low.map((v, i) => (v + this.high[i]) / 2);
    for (const one of picture.parts) {
      const c = this.centres.get(one.name);
      if (!c) continue;
      const home = this.homes.get(one.assembly) ?? { sum: [0, 0, 0], count: 0 };
      home.sum = home.sum.map((v, i) => v + c[i]);
      home.count += 1;
      this.homes.set(one.assembly, home);
    }
  }

  get any() { return this.low[0] !== Infinity; }

  #take(one, pose, body) {
    if (!body) return;
    const at = placed(pose), sum = [0, 0, 0], least = [Infinity, Infinity, Infinity], most = [-Infinity, -Infinity, -Infinity];
    for (let k = 0; k < 8; k++) {
      const c = [0, 1, 2].map((i) => ((k >> i) & 1 ? body.high : body.low)[i]);
      for (let i = 0; i < 3; i++) {
        const v = at[i] * c[0] + at[4 + i] * c[1] + at[8 + i] * c[2] + at[12 + i];
        least[i] = Math.min(least[i], v);
        most[i] = Math.max(most[i], v);
        sum[i] += v / 8;
      }
    }
    this.low = this.low.map((v, i) => Math.min(v, least[i]));
    this.high = this.high.map((v, i) => Math.max(v, most[i]));
    this.centres.set(one.name, sum);
    this.spans.set(one.name, [least, most]);
  }

  /** The box round some parts; null where none of them is drawn. */
  box(parts) {
    const spans = parts.map((one) => this.spans.get(one.name)).filter(Boolean);
    if (!spans.length) return null;
    return [[0, 1, 2].map((i) => Math.min(...spans.map((s) => s[0][i]))), [0, 1, 2].map((i) => Math.max(...spans.map((s) => s[1][i])))];
  }

  /** How far a thing stands off when the piece is pulled apart: a part along its thickness, and each with its group. */
  off(one, apart, radius) {
    const c = this.centres.get(one.name);
    if (!apart || !c) return [0, 0, 0];
    const home = this.homes.get(one.assembly);
    const mine = home ? home.sum.map((v) => v / home.count) : this.middle;
    const thin = one.size ? one.size.indexOf(Math.min(...one.size)) : -1;
    const way = thin >= 0 ? one.pose.slice(thin * 3, thin * 3 + 3) : [0, 0, 0];
    const along = way.reduce((s, w, i) => s + w * (c[i] - mine[i]), 0);
    const push = thin < 0 || Math.abs(along) < 1 ? 0 : Math.sign(along) * apart * 0.45 * radius * 0.55;
    return mine.map((v, i) => way[i] * push + apart * 0.9 * (v - this.middle[i]) + (thin >= 0 ? 0 : apart * 0.6 * (c[i] - this.middle[i])));
  }
}

/** What has moved, by its name: how far each thing is on its way. Where a meeting is shown, its mover alone has moved. */
function moves(board) {
  const by = new Map();
  for (const move of board.picture.moves) {
    const share = board.meeting ? (board.meeting.moves[move.name] ?? 0) : move.of === "site" ? board.swung : board.opened;
    if (!share) continue;
    const how = move.kind === "slide"
      ? { by: move.way.map((w) => w * move.far * share) }
      : move.about ? { swing: { about: move.about, axis: move.axis, degrees: move.degrees[0] + (move.degrees[1] - move.degrees[0]) * share } } : null;
    if (how) for (const name of move.names) by.set(name, how);
  }
  return by;
}

/** Everything that is drawn now: its name, kind, body, place and tone. */
export function standing(board) {
  const moved = moves(board), found = [], { picture, only } = board;
  const put = (one, pose, tint, ink, kind) => {
    const move = moved.get(one.name) ?? {}, off = board.measured?.off(one, board.apart, board.eye.radius) ?? [0, 0, 0];
    const by = off.map((v, i) => v + (move.by ? move.by[i] : 0));
    found.push({ name: one.name, kind, letter: one.letter, body: one.body, at: placed(pose, by, move.swing), tint, ink, by });
  };
  for (const one of picture.parts) {
    if (board.hidden.has(one.name)) continue;
    if (only && !only.shows.has(one.name)) {
      if (only.ghosts) put(one, one.pose, GHOST, GHOST_INK, "ghost");
      continue;
    }
    let tint = one.solid ? WOOD.solid : (WOOD[one.form] ?? WOOD.sheet);
    if (only) tint = only.fresh.has(one.name) ? FRESH : PALE;
    if (board.wrong.has(one.name)) tint = WRONG;
    if (board.chosen.has(one.name)) tint = CHOSEN;
    put(one, one.pose, tint, INK, "part");
  }
  if (only) return found;
  for (const one of picture.hardware) if (!board.hidden.has(one.name)) put(one, one.pose, board.wrong.has(one.name) ? WRONG : METAL, INK, "hardware");
  if (board.site) for (const one of picture.site) {
    const wrong = board.wrong.has(one.name), move = moved.get(one.name);
    const tint = one.free ? UNSEEN : wrong ? WRONG_SITE : SITE;
    found.push({ name: one.name, kind: "site", body: one.body, at: placed(HERE, move?.by, move?.swing), tint, ink: one.free || wrong ? FREE_INK : SITE_INK, by: [0, 0, 0] });
  }
  if (board.meeting) found.push({ name: "", kind: "meeting", body: board.meeting.body, at: placed(board.meeting.pose), tint: MEETING, ink: MEETING_INK, by: [0, 0, 0] });
  return found;
}
