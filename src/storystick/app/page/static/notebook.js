// The notebook of one plan: the drawing, and one question of the job at a time beside it.

import { bytes } from "./ask.js";
import { Board } from "./board.js";
import { fill, h, same } from "./make.js";
import { Job } from "./job.js";
import { askWhy } from "./why.js";
import { LEAVES } from "./leaves.js";
import { tools } from "./tools.js";

const name = document.getElementById("boot").dataset.name;
const leaf = document.getElementById("leaf");
const index = document.getElementById("index");
const job = new Job(name);
const board = new Board(document.getElementById("board"), (wanted) => bytes(`${job.path}/bodies`, { wanted }));
let open = "", pointed = "", reveal = false;

function wanted() {
  const word = location.hash.slice(1).split("/")[0];
  return LEAVES.find((one) => one.word === word) ?? LEAVES[1];
}

function drawIndex() {
  fill(index, LEAVES.map((one) => {
    const mark = one.mark?.(job);
    return same(`index ${one.word}`, [mark, one.word === open], () => h("a", { href: `#${one.word}`, "aria-current": one.word === open ? "page" : null, "data-held": `index ${one.word}` },
      h("span", {}, one.tab), mark ? h("b", { class: `dot ${mark.kind}` }, mark.text, h("span", { class: "unseen" }, ` ${mark.says}`)) : null));
  }));
}

function turnTo() {
  const one = wanted();
  const fresh = one.word !== open;
  open = one.word;
  document.body.dataset.leaf = open;
  if (fresh) {
    board.choose([]);
    board.mark([]);
    board.alone(null);
    board.lay(null);
    leaf.scrollTop = 0;
    one.begin?.(job, board);
  }
  pointAt();
  draw();
  if (fresh && performance.now() > 3000) leaf.focus({ preventScroll: true });
}

/** The part that the address speaks of, by its letter or its name: `#piece/A`. */
function pointAt() {
  const said = open === "piece" ? decoded(location.hash.split("/")[1] ?? "") : "";
  if (!said || pointed === location.hash || !job.built?.parts) return;
  pointed = location.hash;
  const part = job.built.parts.find((one) => one.letter === said || one.names.includes(said));
  board.choose(part?.names ?? []);
  board.note.textContent = part ? `${part.letter}  ${part.names[0]}` : `There is no part ${said} in this plan.`;
  job.tapped = part?.names[0] ?? null;
  reveal = Boolean(part);
}

function decoded(text) {
  try { return decodeURIComponent(text); } catch { return text; }
}

function draw() {
  const one = wanted();
  const inside = one.leaf(job, board);
  if (!(inside instanceof Node && leaf.contains(inside))) fill(leaf, same("asks", one.asks, () => h("h2", {}, one.asks)), inside);
  if (reveal) { reveal = false; leaf.querySelector(".tapped")?.scrollIntoView({ block: "center" }); }
  drawIndex();
  drawState();
}

function drawState() {
  const place = document.getElementById("state");
  place.classList.toggle("away", !job.near);
  place.textContent = job.says();
  const act = (word, says, does) => same("halt", word, () => h("button", { type: "button", class: "plain", "data-held": "halt", "aria-label": says, onclick: does }, word));
  fill(document.getElementById("halt"), job.progress ? act("stop", "Stop what is being worked out", () => job.stop()) : job.stopped ? act("go on", "Go on with what was stopped", () => job.goOn()) : null);
  const title = document.getElementById("title");
  if (job.built?.title) { title.textContent = job.built.title; document.title = `${job.built.title} – storystick`; }
}

function drawBlock() {
  const own = job.built?.sizes ?? [];
  if (!own.length) { fill(board.block); return; }
  const first = own[0];
  fill(board.block, h("b", {}, job.built.title), h("span", {}, first.name, " ", first.size.map((s) => s.text).join(" × ")),
    h("span", {}, `${job.built.counts.parts} parts, ${job.built.counts.different} different`));
}

job.addEventListener("change", draw);
job.addEventListener("state", () => { drawState(); drawIndex(); });
job.addEventListener("piece", async () => {
  drawBlock();
  if (job.built.picture) await board.show(job.built.picture);
  if (open === "piece" && location.hash.includes("/") && pointed !== location.hash) { pointAt(); draw(); }
});
board.place.addEventListener("tapped", (event) => {
  const found = event.detail;
  board.choose(found ? [found.name] : []);
  job.tapped = found?.kind === "part" ? found.name : null;
  board.note.textContent = found ? `${found.letter ? found.letter + "  " : ""}${found.name}` : "";
  if (found && open === "piece") draw();
  if (found && open === "piece") leaf.querySelector(".tapped")?.scrollIntoView({ block: "nearest" });
});
document.addEventListener("click", (event) => {
  const why = event.target.closest("[data-why]");
  if (why) { event.preventDefault(); askWhy(job, why.dataset.why, why); }
});
document.addEventListener("keydown", (event) => {
  const typing = /^(INPUT|TEXTAREA|SELECT)$/.test(event.target.tagName);
  if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "z" && !typing) {
    event.preventDefault();
    job.undo(event.shiftKey);
  }
});
addEventListener("hashchange", turnTo);
tools(document.getElementById("tools"), job);
turnTo();
job.open();
globalThis.storystick = { job, board };
