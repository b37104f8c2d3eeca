// The drawing: the piece in its place, to be turned, pulled apart, opened, and pointed at.

import { Glass } from "./glass.js";
import { hands } from "./hands.js";
import { letters } from "./letters.js";
import { h } from "./make.js";
import { Measured, standing } from "./standing.js";
import { Eye, VIEWS } from "./turning.js";

const STILL = 700; // [ms]
const COARSE = 0.5; // so much fewer dots each way while something changes, where the processor draws
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
    this.meeting = null;
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
    hands(this);
    new ResizeObserver(() => this.redraw()).observe(this.stage);
  }

  #controls() {
    const slider = (name, word, title) => {
      const input = h("input", { type: "range", min: "0", max: "100", value: "0", id: `board-${name}`, oninput: () => { this.meeting = null; this[name] = input.value / 100; this.redraw(); } });
      return h("label", { class: "slide", title }, h("span", {}, word), input);
    };
    this.slideOpen = slider("opened", "open", "Pull out its drawers, open its doors and lids");
    this.slideSwing = slider("swung", "move", "Move what moves around it");
    const look = h("select", { "aria-label": "Look from", onchange: () => { this.look(look.value); } },
      ...Object.keys(VIEWS).map((v) => h("option", { value: v }, v === "corner" ? "from a corner" : v === "above" ? "from above" : `from the ${v}`)));
    this.seeSite = h("label", { class: "check" }, h("input", { type: "checkbox", checked: true, onchange: (e) => { this.site = e.target.checked; this.redraw(); } }), h("span", {}, "around it"));
    this.unhide = h("button", { type: "button", class: "plain", hidden: true, onclick: () => { this.hidden.clear(); this.redraw(); } }, "show all");
    return h("div", { class: "controls" }, look, slider("apart", "apart", "Pull the parts apart"), this.slideOpen, this.slideSwing, this.seeSite, this.unhide);
  }

  /** Show a picture; bodies that aren’t here yet are fetched first. */
  async show(picture) {
    if (!this.glass) { this.picture = picture; return; }
    if (!(await this.#fetched([...picture.parts, ...picture.site, ...picture.hardware]))) return;
    const first = !this.picture.parts.length;
    this.picture = picture;
    this.meeting = null;
    this.slideOpen.hidden = !picture.moves.some((m) => m.of === "piece");
    this.slideSwing.hidden = !picture.moves.some((m) => m.of === "site");
    this.seeSite.hidden = !picture.site.length;
    this.#measure(first);
    this.note.textContent = picture.parts.length ? "" : "Nothing to draw yet.";
    const says = `Drawing: ${picture.parts.length} parts. Arrow keys turn it, with Shift they shift it, plus and minus bring it nearer, Enter names the part in the middle.`;
    this.canvas.setAttribute("aria-label", says);
    this.redraw();
    this.place.dataset.shown = String(picture.parts.length);
  }

  async #fetched(things) {
    const wanted = [...new Set(things.map((one) => one.body))].filter((mark) => !this.glass.has(mark));
    if (!wanted.length) return true;
    try { this.glass.take(await this.bring(wanted)); } catch { this.note.textContent = "The drawing did not come through."; return false; }
    return true;
  }

  /** Look at all of it, or at those parts that are shown alone; `again`: anew, though it has hardly changed. */
  #measure(again) {
    if (!this.glass) return;
    this.measured = new Measured(this.picture, this.glass.bodies);
    const alone = this.only && this.measured.box(this.picture.parts.filter((one) => this.only.shows.has(one.name)));
    if (alone && again) {
      this.eye.hold(...alone);
      if (this.only.ghosts) this.eye.radius *= 1.25; // with some room to see where they belong
    } else if (this.measured.any) {
      const { low, high, middle } = this.measured, radius = Math.hypot(...low.map((v, i) => high[i] - v)) / 2;
      if (again || Math.abs(this.eye.radius - radius) > this.eye.radius * 0.3) this.eye.hold(low, high);
      else if (!this.only) this.eye.middle = middle;
    }
  }

  things() { return standing(this); }

  redraw() {
    if (this.refining) this.#refine();
    if (this.asked || !this.glass) return;
    this.asked = requestAnimationFrame(() => { this.asked = 0; this.#draw(); });
  }

  #draw() {
    const dense = Math.min(2, devicePixelRatio || 1);
    const { clientWidth: wide, clientHeight: high } = this.stage;
    if (!wide || !high) return;
    const fine = this.fine || !this.glass.slow;
    for (const [canvas, share] of [[this.canvas, fine ? dense : dense * COARSE], [this.labels, dense]]) {
      if (canvas.width !== Math.round(wide * share)) canvas.width = Math.round(wide * share);
      if (canvas.height !== Math.round(high * share)) canvas.height = Math.round(high * share);
    }
    this.unhide.hidden = !this.hidden.size;
    this.eye.wider = 1 + 0.7 * this.apart;
    const seen = this.eye.matrix(wide, high);
    this.drawn = this.things();
    this.glass.draw(this.drawn, seen, fine);
    if (!fine) this.#refine();
    this.fine = false;
    this.drawnPicture = this.picture;
    letters(this, seen, wide, high, dense);
  }

  /** When nothing has moved for a while, draw it once more with smooth edges. */
  #refine() {
    clearTimeout(this.refining);
    this.refining = setTimeout(() => { this.refining = 0; this.fine = true; this.redraw(); }, STILL);
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

  /** Names with all that is inside those that are assemblies. */
  #all(names) {
    const found = new Set(names);
    for (const one of [...this.picture.parts, ...this.picture.hardware]) {
      if (names.some((name) => one.assembly === name || one.assembly?.startsWith(`${name}.`))) found.add(one.name);
    }
    return found;
  }

  choose(names) { this.chosen = this.#all(names); this.meeting = null; this.redraw(); }

  mark(names) { this.about = names; this.wrong = this.#all(names); this.meeting = null; this.redraw(); }

  /** Show where two things meet: a body, and how far on its way whatever moves has come by then; null takes it away. */
  async meet(meeting) {
    if (!this.glass || (meeting && !(await this.#fetched([meeting])))) return;
    this.meeting = meeting;
    this.redraw();
  }

  /** Lay a drawing of another sort over it (a map of a sheet); null takes it away. */
  lay(drawing) {
    this.sheet.hidden = !drawing;
    this.place.classList.toggle("covered", Boolean(drawing));
    this.sheet.replaceChildren(...(drawing ? [drawing].flat() : []));
  }

  /** Show some parts alone, the fresh ones in a colour of their own; null shows the whole piece. */
  alone(only) {
    const names = only ? [...only.shows].sort().join() : "";
    this.only = only;
    if (names !== (this.lone ?? "")) {
      this.lone = names;
      this.#measure(true);
      this.eye.zoom = 1;
      this.eye.shift = [0, 0];
    }
    this.redraw();
  }

  hide(names) { for (const name of names) this.hidden.add(name); this.redraw(); }

  /** What is seen at a spot of the drawing, in its own pixels. */
  at(x, y) {
    const dense = this.canvas.width / Math.max(1, this.stage.clientWidth);
    const things = this.things().filter((one) => one.kind === "part" || one.kind === "hardware");
    const seen = this.eye.matrix(this.stage.clientWidth, this.stage.clientHeight);
    return things[this.glass.pick(things, seen, x * dense, y * dense)] ?? null;
  }

  tap(x, y) {
    const found = this.glass ? this.at(x, y) : null;
    this.place.dispatchEvent(new CustomEvent("tapped", { detail: found }));
  }
}
