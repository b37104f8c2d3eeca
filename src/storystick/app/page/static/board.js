// The drawing: the piece in its place, to be turned, pulled apart, opened, and pointed at.

import { Glass } from "./glass.js";
import { h } from "./make.js";
import { Eye, HERE, onCanvas, placed, VIEWS } from "./turning.js";

const WOOD = { sheet: [0.925, 0.855, 0.725, 1], solid: [0.845, 0.69, 0.49, 1], band: [0.8, 0.66, 0.48, 1] };
const METAL = [0.66, 0.69, 0.71, 1], CHOSEN = [0.58, 0.76, 0.89, 1], WRONG = [0.9, 0.55, 0.48, 1];
const FRESH = [0.96, 0.83, 0.5, 1], PALE = [0.95, 0.93, 0.89, 1];
const INK = [0.11, 0.17, 0.21, 1], SITE = [0.45, 0.52, 0.56, 0.1], SITE_INK = [0.42, 0.48, 0.52, 0.55];
const GHOST = [0.8, 0.78, 0.72, 0.06], GHOST_INK = [0.45, 0.52, 0.56, 0.35];
const FREE_INK = [0.64, 0.16, 0.12, 0.4];
const calm = matchMedia("(prefers-reduced-motion: reduce)");

export class Board {
  /** `bring` gives the bytes of bodies by their marks. */
  constructor(place, bring) {
    this.place = place;
    this.bring = bring;
    this.eye = new Eye();
    this.picture = { parts: [], site: [], hardware: [], moves: [] };
    this.apart = 0;
    this.opened = 0;
    this.swung = 0;
    this.site = true;
    this.hidden = new Set();
    this.chosen = new Set();
    this.wrong = new Set();
    this.only = null;
    this.canvas = h("canvas", { tabindex: "0", role: "img", "aria-label": "Drawing of the piece" });
    this.labels = h("canvas", { class: "labels", "aria-hidden": "true" });
    this.note = h("p", { class: "board-note", role: "status" });
    this.sheet = h("div", { class: "laid", hidden: true });
    this.stage = h("div", { class: "stage" }, this.canvas, this.labels, this.sheet, this.note);
    place.replaceChildren(this.stage, this.#controls(), (this.block = h("div", { class: "title-block" })));
    try {
      this.glass = new Glass(this.canvas);
    } catch {
      this.note.textContent = "This browser can’t draw in three dimensions; everything else works.";
    }
    this.canvas.addEventListener("webglcontextlost", (event) => event.preventDefault());
    this.canvas.addEventListener("webglcontextrestored", () => { this.glass = new Glass(this.canvas); this.show(this.picture); });
    this.#hands();
    new ResizeObserver(() => this.redraw()).observe(this.stage);
  }

  #controls() {
    const slider = (name, word, title) => {
      const input = h("input", { type: "range", min: "0", max: "100", value: "0", id: `board-${name}`, oninput: () => { this[name] = input.value / 100; this.redraw(); } });
      return h("label", { class: "slide", title }, h("span", {}, word), input);
    };
    this.slideOpen = slider("opened", "open", "Pull out its drawers and open its lids");
    this.slideSwing = slider("swung", "move", "Move what moves around it");
    const look = h("select", { "aria-label": "Look from", onchange: () => { this.look(look.value); } },
      ...Object.keys(VIEWS).map((v) => h("option", { value: v }, v === "corner" ? "from a corner" : v === "above" ? "from above" : `from the ${v}`)));
    this.seeSite = h("label", { class: "check" }, h("input", { type: "checkbox", checked: true, onchange: (e) => { this.site = e.target.checked; this.redraw(); } }), h("span", {}, "surroundings"));
    this.unhide = h("button", { type: "button", class: "plain", hidden: true, onclick: () => { this.hidden.clear(); this.redraw(); } }, "show all");
    return h("div", { class: "controls" }, look, slider("apart", "apart", "Pull the parts apart"), this.slideOpen, this.slideSwing, this.seeSite, this.unhide);
  }

  /** Show a picture; bodies that aren't here yet are fetched first. */
  async show(picture) {
    if (!this.glass) { this.picture = picture; return; }
    const all = [...picture.parts, ...picture.site, ...picture.hardware];
    const wanted = [...new Set(all.map((one) => one.body))].filter((mark) => !this.glass.has(mark));
    if (wanted.length) {
      try { this.glass.take(await this.bring(wanted)); } catch { return; }
    }
    const first = !this.picture.parts.length;
    this.picture = picture;
    this.slideOpen.hidden = !picture.moves.some((m) => m.of === "piece");
    this.slideSwing.hidden = !picture.moves.some((m) => m.of === "site");
    this.seeSite.hidden = !picture.site.length;
    this.#measure(first);
    this.note.textContent = picture.parts.length ? "" : "Nothing to draw yet.";
    const says = `Drawing: ${picture.parts.length} parts. Arrow keys turn it, plus and minus bring it nearer, Enter names the part in the middle.`;
    this.canvas.setAttribute("aria-label", says);
    this.redraw();
    this.place.dataset.shown = String(picture.parts.length);
  }

  #measure(again) {
    if (!this.glass) return;
    const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity];
    this.centres = new Map();
    this.spans = new Map();
    const take = (one, pose) => {
      const body = this.glass.bodies.get(one.body);
      if (!body) return;
      const corner = (k) => [0, 1, 2].map((i) => ((k >> i) & 1 ? body.high : body.low)[i]);
      const at = placed(pose), sum = [0, 0, 0], least = [Infinity, Infinity, Infinity], most = [-Infinity, -Infinity, -Infinity];
      for (let k = 0; k < 8; k++) {
        const c = corner(k);
        for (let i = 0; i < 3; i++) {
          const v = at[i] * c[0] + at[4 + i] * c[1] + at[8 + i] * c[2] + at[12 + i];
          least[i] = Math.min(least[i], v); most[i] = Math.max(most[i], v); sum[i] += v / 8;
        }
      }
      for (let i = 0; i < 3; i++) { low[i] = Math.min(low[i], least[i]); high[i] = Math.max(high[i], most[i]); }
      this.centres.set(one.name, sum);
      this.spans.set(one.name, [least, most]);
    };
    for (const one of [...this.picture.parts, ...this.picture.hardware]) take(one, one.pose);
    const alone = this.only && this.#box(this.picture.parts.filter((one) => this.only.shows.has(one.name)));
    if (alone && again) { this.eye.hold(...alone); if (this.only.ghosts) this.eye.radius *= 1.25; this.middle ??= this.eye.middle; this.#gather(); return; }
    if (low[0] === Infinity) for (const one of this.picture.site) take(one, HERE);
    if (low[0] === Infinity) return;
    this.middle = low.map((v, i) => (v + high[i]) / 2);
    this.#gather();
    if (again || Math.abs(this.eye.radius - Math.hypot(...low.map((v, i) => high[i] - v)) / 2) > this.eye.radius * 0.3) this.eye.hold(low, high);
    else if (!this.only) this.eye.middle = this.middle;
  }

  /** The box round some parts, with some room to see where they belong. */
  #box(parts) {
    if (!parts.length || !this.centres) return null;
    const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity];
    for (const one of parts) {
      const span = this.spans.get(one.name);
      if (!span) continue;
      for (let i = 0; i < 3; i++) { low[i] = Math.min(low[i], span[0][i]); high[i] = Math.max(high[i], span[1][i]); }
    }
    return low[0] === Infinity ? null : [low, high];
  }

  #gather() {
    this.homes = new Map();
    for (const one of this.picture.parts) {
      const c = this.centres.get(one.name);
      if (!c) continue;
      const home = this.homes.get(one.assembly) ?? { sum: [0, 0, 0], count: 0 };
      home.sum = home.sum.map((v, i) => v + c[i]); home.count += 1;
      this.homes.set(one.assembly, home);
    }
  }

  /** How far a part stands off when the piece is pulled apart: along its thickness, and with its group. */
  #off(one) {
    if (!this.apart || !this.centres) return [0, 0, 0];
    const c = this.centres.get(one.name);
    if (!c) return [0, 0, 0];
    const home = this.homes.get(one.assembly);
    const mine = home ? home.sum.map((v) => v / home.count) : this.middle;
    const thin = one.size ? one.size.indexOf(Math.min(...one.size)) : -1;
    const way = thin >= 0 ? one.pose.slice(thin * 3, thin * 3 + 3) : [0, 0, 0];
    const along = way.reduce((s, w, i) => s + w * (c[i] - mine[i]), 0);
    const far = this.apart * 0.45 * this.eye.radius;
    const push = thin < 0 || Math.abs(along) < 1 ? 0 : Math.sign(along) * far * 0.55;
    return mine.map((v, i) => way[i] * push + this.apart * 0.9 * (v - this.middle[i]) + (thin >= 0 ? 0 : this.apart * 0.6 * (c[i] - this.middle[i])));
  }

  #moved() {
    const by = new Map();
    for (const move of this.picture.moves) {
      const share = move.of === "site" ? this.swung : this.opened;
      if (!share) continue;
      for (const name of move.names) {
        if (move.kind === "slide") by.set(name, { by: move.way.map((w) => w * move.far * share) });
        else if (move.about) by.set(name, { swing: { about: move.about, axis: move.axis, degrees: move.degrees[0] + (move.degrees[1] - move.degrees[0]) * share } });
      }
    }
    return by;
  }

  things() {
    const moved = this.#moved(), found = [];
    const put = (one, pose, tint, ink, kind) => {
      const move = moved.get(one.name) ?? {}, off = this.#off(one);
      const by = off.map((v, i) => v + (move.by ? move.by[i] : 0));
      found.push({ name: one.name, kind, letter: one.letter, body: one.body, at: placed(pose, by, move.swing), tint, ink, by });
    };
    for (const one of this.picture.parts) {
      if (this.hidden.has(one.name)) continue;
      if (this.only && !this.only.shows.has(one.name)) {
        if (this.only.ghosts) put(one, one.pose, GHOST, GHOST_INK, "ghost");
        continue;
      }
      let tint = one.solid ? WOOD.solid : (WOOD[one.form] ?? WOOD.sheet);
      if (this.only) tint = this.only.fresh.has(one.name) ? FRESH : PALE;
      if (this.wrong.has(one.name)) tint = WRONG;
      if (this.chosen.has(one.name)) tint = CHOSEN;
      put(one, one.pose, tint, INK, "part");
    }
    if (!this.only) {
      for (const one of this.picture.hardware) if (!this.hidden.has(one.name)) put(one, one.pose, this.wrong.has(one.name) ? WRONG : METAL, INK, "hardware");
      if (this.site) for (const one of this.picture.site) {
        const tint = one.free ? [0, 0, 0, 0] : this.wrong.has(one.name) ? [0.8, 0.3, 0.25, 0.35] : SITE;
        put({ ...one, size: null }, HERE, tint, one.free || this.wrong.has(one.name) ? FREE_INK : SITE_INK, "site");
        found[found.length - 1].at = placed(HERE, moved.get(one.name)?.by ?? [0, 0, 0], moved.get(one.name)?.swing);
      }
    }
    return found;
  }

  redraw() {
    if (this.asked || !this.glass) return;
    this.asked = requestAnimationFrame(() => { this.asked = 0; this.#draw(); });
  }

  #draw() {
    const dense = Math.min(2, devicePixelRatio || 1);
    const { clientWidth: wide, clientHeight: high } = this.stage;
    if (!wide || !high) return;
    for (const canvas of [this.canvas, this.labels]) {
      if (canvas.width !== Math.round(wide * dense)) canvas.width = Math.round(wide * dense);
      if (canvas.height !== Math.round(high * dense)) canvas.height = Math.round(high * dense);
    }
    this.unhide.hidden = !this.hidden.size;
    this.eye.wider = 1 + 0.7 * this.apart;
    const seen = this.eye.matrix(wide, high);
    this.drawn = this.things();
    this.glass.draw(this.drawn, seen, this.eye.axes().toward);
    this.drawnPicture = this.picture;
    this.#letters(seen, wide, high, dense);
  }

  /** Letters of the parts: of those that are chosen, and of all when they stand apart. */
  #letters(seen, wide, high, dense) {
    const pen = this.labels.getContext("2d");
    pen.setTransform(dense, 0, 0, dense, 0, 0);
    pen.clearRect(0, 0, wide, high);
    const wanted = this.drawn.filter((one) => one.kind === "part" && one.letter && (this.apart > 0.25 || (this.chosen.has(one.name) && this.chosen.size < 10) || (this.only?.fresh.size < 10 && this.only.fresh.has(one.name))));
    if (wanted.length > 90) return;
    pen.font = "600 15px 'Source Sans', sans-serif";
    pen.textAlign = "center";
    pen.textBaseline = "middle";
    for (const one of wanted) {
      const body = this.glass.bodies.get(one.body);
      if (!body) continue;
      const c = body.low.map((v, i) => (v + body.high[i]) / 2);
      const point = [0, 1, 2].map((i) => one.at[i] * c[0] + one.at[4 + i] * c[1] + one.at[8 + i] * c[2] + one.at[12 + i]);
      const [x, y] = onCanvas(seen, point, wide, high);
      const half = Math.max(11, pen.measureText(one.letter).width / 2 + 6);
      pen.fillStyle = this.chosen.has(one.name) ? "#1f5f8b" : "rgba(251,250,246,.92)";
      pen.strokeStyle = "#1c2b36";
      pen.lineWidth = 1;
      pen.beginPath();
      pen.roundRect(x - half, y - 11, half * 2, 22, 11);
      pen.fill();
      pen.stroke();
      pen.fillStyle = this.chosen.has(one.name) ? "#fff" : "#1c2b36";
      pen.fillText(one.letter, x, y + 0.5);
    }
  }

  look(name) {
    const [yaw, pitch] = VIEWS[name];
    this.eye.shift = [0, 0];
    this.eye.zoom = 1;
    if (calm.matches) { this.eye.yaw = yaw; this.eye.pitch = pitch; this.redraw(); return; }
    const from = [this.eye.yaw, this.eye.pitch], start = performance.now();
    const step = (now) => {
      const t = Math.min(1, (now - start) / 320), ease = t * t * (3 - 2 * t);
      this.eye.yaw = from[0] + (yaw - from[0]) * ease;
      this.eye.pitch = from[1] + (pitch - from[1]) * ease;
      this.redraw();
      if (t < 1) requestAnimationFrame(step);
    };
    requestAnimationFrame(step);
  }

  choose(names) { this.chosen = new Set(names); this.redraw(); }

  mark(names) { this.wrong = new Set(names); this.redraw(); }

  /** Lay a drawing of another sort over it (a map of a sheet); null takes it away. */
  lay(drawing) {
    this.sheet.hidden = !drawing;
    this.place.classList.toggle("covered", Boolean(drawing));
    this.sheet.replaceChildren(...(drawing ? [drawing].flat() : []));
  }

  /** Show some parts alone, the fresh ones in a colour of their own; null shows the whole piece. */
  alone(only) {
    const names = only ? [...only.shows].sort().join() : "";
    if (names !== this.lone) { this.lone = names; this.only = only; this.#measure(true); this.eye.zoom = 1; this.eye.shift = [0, 0]; }
    this.only = only;
    this.redraw();
  }

  hide(names) { for (const name of names) this.hidden.add(name); this.redraw(); }

  /** What is seen at a spot of the drawing, in its own pixels. */
  at(x, y) {
    const dense = this.canvas.width / Math.max(1, this.stage.clientWidth);
    const things = this.things().filter((one) => one.kind !== "site" && one.kind !== "ghost");
    const seen = this.eye.matrix(this.stage.clientWidth, this.stage.clientHeight);
    return things[this.glass.pick(things, seen, x * dense, y * dense)] ?? null;
  }

  #tap(x, y) {
    const found = this.glass ? this.at(x, y) : null;
    this.place.dispatchEvent(new CustomEvent("tapped", { detail: found }));
  }

  #hands() {
    const down = new Map();
    let far = 0, gap = 0;
    const canvas = this.canvas;
    canvas.addEventListener("pointerdown", (e) => {
      canvas.setPointerCapture(e.pointerId);
      down.set(e.pointerId, [e.offsetX, e.offsetY]);
      far = down.size > 1 ? 99 : 0;
    });
    canvas.addEventListener("pointermove", (e) => {
      const before = down.get(e.pointerId);
      if (!before) return;
      const dx = e.offsetX - before[0], dy = e.offsetY - before[1];
      down.set(e.pointerId, [e.offsetX, e.offsetY]);
      far += Math.abs(dx) + Math.abs(dy);
      const high = this.stage.clientHeight, wide = this.stage.clientWidth;
      if (down.size === 2) {
        const [a, b] = [...down.values()], now = Math.hypot(a[0] - b[0], a[1] - b[1]);
        if (gap) this.eye.scale(now / gap);
        gap = now;
        this.eye.shift[0] += dx / wide; this.eye.shift[1] -= dy / high;
      } else if (e.shiftKey || e.buttons === 4) {
        this.eye.shift[0] += (2 * dx) / wide; this.eye.shift[1] -= (2 * dy) / high;
      } else if (far > 4) this.eye.turn(-dx * 0.008, dy * 0.008);
      this.redraw();
    });
    const up = (e) => {
      if (down.delete(e.pointerId) && far <= 6 && e.type === "pointerup") this.#tap(e.offsetX, e.offsetY);
      gap = 0;
    };
    canvas.addEventListener("pointerup", up);
    canvas.addEventListener("pointercancel", up);
    canvas.addEventListener("wheel", (e) => { e.preventDefault(); this.eye.scale(Math.exp(-e.deltaY * 0.0012)); this.redraw(); }, { passive: false });
    canvas.addEventListener("keydown", (e) => {
      const turn = { ArrowLeft: [0.12, 0], ArrowRight: [-0.12, 0], ArrowUp: [0, 0.12], ArrowDown: [0, -0.12] }[e.key];
      if (turn) this.eye.turn(...turn);
      else if (e.key === "+" || e.key === "=") this.eye.scale(1.15);
      else if (e.key === "-") this.eye.scale(1 / 1.15);
      else if (e.key === "0") this.look("corner");
      else if (e.key === "Enter") this.#tap(this.stage.clientWidth / 2, this.stage.clientHeight / 2);
      else return;
      e.preventDefault();
      this.redraw();
    });
  }
}
