// A new piece: few questions, in the order in which they can be answered with a rule in hand.

import { Refusal, tell } from "./ask.js";
import { fill, h } from "./make.js";
import { sketch } from "./sketch.js";

const place = document.getElementById("asking"), figure = document.getElementById("sketch");
const metric = !/^en-(US|LR)|^my/i.test(navigator.language);
const BEFORE = { doors: " Its doors stand farther forward than that by their thickness.", worktop: " Its top stands a little farther forward than that." };
const said = { purpose: "", units: metric ? "mm" : "inch", place: "free", under: "", wide: ["", "", ""], high: ["", "", ""], deep: "", count: "3", load: "", sheet: "birch plywood", "sold as": metric ? "18" : "3/4", thick: ["", "", ""], stands: "feet", title: "" };
let at = 0;
let wrong = {}, busy = false;

const like = (inch, mm) => (said.units === "mm" ? mm : inch);
const one = (name, label, hint, help) => field(name, label, hint, help, said[name], (v) => { said[name] = v; });
const three = (name, labels, hint) => h("div", { class: labels.length > 1 ? "threes-in" : null }, labels.map((label, i) => field(`${name}-${i}`, label, i ? "" : hint, "", said[name][i], (v) => { said[name][i] = v; })));

function field(name, label, hint, help, value, take) {
  const id = `a-${name}`.replace(/\W+/g, "-");
  return h("div", { class: "line" }, h("label", { for: id }, label),
    h("input", { id, "data-held": id, value, placeholder: hint, autocomplete: "off", autocapitalize: "off", enterkeyhint: "next", oninput: (e) => take(e.target.value), onkeydown: onward }),
    help ? h("p", { class: "help" }, help) : null);
}

/** Enter goes to the next empty line, and from the last one on to the next question. */
function onward(event) {
  if (event.key !== "Enter") return;
  const lines = [...place.querySelectorAll(".line input")];
  const empty = lines.slice(lines.indexOf(event.target) + 1).find((one) => !one.value);
  if (!empty || !event.target.value) return;
  event.preventDefault();
  empty.focus();
}

function choose(name, options, then) {
  return h("div", { class: "choices", role: "group" }, options.map(([word, title, says]) => h("button", { type: "button", class: "choice", "aria-pressed": String(said[name] === word), "data-held": `choose ${name} ${word}`,
    onclick: () => { said[name] = word; then ? then() : draw(); } }, h("strong", {}, title), says ? h("span", {}, says) : null)));
}

const STORES = ["drawers", "shelves", "doors"];
const QUESTIONS = [
  { name: "purpose", asks: "What must it do?", draw: () => choose("purpose", [
    ["drawers", "Keep small things in drawers", "a case with drawers on slides"],
    ["shelves", "Hold things on shelves", "a case with fixed and loose shelves"],
    ["doors", "Keep things shut away", "a case with shelves behind doors"],
    ["machine", "Carry a machine or a tool", "a stout case with a shelf"],
    ["worktop", "Give a top to work on", "a case with a doubled top"]], next) },
  { name: "units", asks: "Which rule do you hold?", draw: () => choose("units", [["inch", "Inches", "23 5/8, 24-1/2 or 5' 3 1/2\""], ["mm", "Millimetres", "601.5, or 60 cm"]], () => { said["sold as"] = like("3/4", "18"); next(); }) },
  { name: "place", asks: "Where will it stand?", draw: () => [choose("place", [["free", "On its own", "or against one wall"], ["gap", "Between two things", "walls, legs, machines"]]),
    h("label", { class: "check" }, h("input", { type: "checkbox", checked: said.under === "yes", "data-held": "under", onchange: (e) => { said.under = e.target.checked ? "yes" : ""; draw(); } }), h("span", {}, "It goes under something: a bench, a bed, a stair"))] },
  { name: "wide", asks: () => (said.place === "gap" ? "How wide is the gap?" : "How wide shall it be?"), part: "wide", draw: () => (said.place === "gap"
    ? [h("p", { class: "quiet" }, "Measure at three heights: gaps are seldom true. The smallest one counts."), three("wide", ["At the floor", "Half way up", "At the top"], like("30 1/4", "762"))]
    : three("wide", ["Over all, left to right"], like("24", "600"))) },
  { name: "high", asks: () => (said.under ? "How high is it under there?" : "How high shall it be?"), part: "high", draw: () => (said.under
    ? [h("p", { class: "quiet" }, "From the floor, at three places. The smallest one counts."), three("high", ["At the left", "In the middle", "At the right"], like("33 1/2", "850"))]
    : three("high", ["From the floor to its top"], like("30", "760"))) },
  { name: "deep", asks: "How deep may it be?", part: "deep", draw: () => one("deep", "Front to back, with its back", like("18", "450"), `Leave room for a skirting board, a plug, and your feet.${BEFORE[said.purpose] ?? ""}`) },
  { name: "count", asks: () => (said.purpose === "drawers" ? "How many drawers?" : "How many shelves?"), when: () => STORES.includes(said.purpose), part: "inside", draw: () => one("count", "From top to bottom", "3", "Their heights can be changed later, one by one.") },
  { name: "load", asks: () => (STORES.includes(said.purpose) ? "What does each of them carry?" : "What does it carry?"), part: "load", draw: () => one("load", "On its worst day", like("40 lb", "20 kg"), "A guess is enough. Leave it empty if you can’t say.") },
  { name: "stands", asks: "What does it stand on?", part: "feet", draw: () => choose("stands", [["feet", "Levelling feet", "for a floor that isn’t true"], ["castors", "Castors", "it is rolled about"], ["plinth", "A plinth", "set back for the toes"], ["floor", "Its own bottom", ""]], next) },
  { name: "thick", asks: "How thick is your sheet, really?", part: "sheet", draw: () => [
    one("sheet", "Sheet", "birch plywood", ""), one("sold as", "Sold as", like("3/4", "18"), ""),
    h("p", { class: "quiet" }, "If it is here already, measure it with a calliper near three edges. If not, leave these empty and measure when it comes."),
    three("thick", ["First reading", "Second", "Third"], like("17.6 mm", "17.6"))] },
  { name: "title", asks: "What do you call it?", draw: () => one("title", "Its name", "Bench cabinet", "It becomes the name of the file as well.") },
];

const FIELD_OF = { "sold as": "thick", sheet: "thick" };

function shown() { return QUESTIONS.filter((q) => !q.when || q.when()); }

async function next() {
  if (busy) return;
  busy = true;
  try { await onto(); } finally { busy = false; }
}

async function onto() {
  const list = shown();
  const now = list[at];
  if (now.name === "purpose" && !said.purpose) return;
  if (place.querySelector(".line input")) {
    const only = [now.name, ...Object.keys(FIELD_OF).filter((one) => FIELD_OF[one] === now.name)];
    try { wrong = (await tell("/new", { ...said, only })).wrong; } catch { wrong = {}; }
    if (Object.keys(wrong).length) { draw(true); return; }
  }
  if (at < list.length - 1) { at += 1; draw(true); } else await finish();
}

async function finish() {
  try {
    location.href = (await tell("/new", said)).go;
  } catch (fault) {
    wrong = fault instanceof Refusal ? (fault.data.wrong ?? { title: fault.message }) : { title: fault.message };
    const first = Object.keys(wrong)[0];
    at = Math.max(0, shown().findIndex((q) => q.name === (FIELD_OF[first] ?? first)));
    draw(true);
  }
}

function draw(moved = false) {
  const list = shown();
  const now = list[at];
  const asks = typeof now.asks === "function" ? now.asks() : now.asks;
  const troubles = Object.entries(wrong).filter(([name]) => (FIELD_OF[name] ?? name) === now.name).map(([, says]) => says);
  fill(place,
    h("p", { class: "eyebrow" }, `Question ${at + 1} of ${list.length}`),
    h("form", { onsubmit: (e) => { e.preventDefault(); wrong = {}; next(); } },
      h("h1", { tabindex: "-1" }, asks),
      troubles.map((says) => h("p", { class: "wrong", role: "alert" }, says)),
      now.draw(),
      h("p", { class: "row" },
        at ? h("button", { type: "button", onclick: () => { at -= 1; draw(true); } }, "Back") : null,
        now.name === "purpose" && !said.purpose ? null : h("button", { type: "submit", class: "big go" }, at === list.length - 1 ? "Put it up" : "Go on"))));
  figure.classList.toggle("plain", !said.purpose);
  fill(figure, sketch(said, now.part ?? ""));
  document.title = `${asks} – storystick`;
  if (moved) (place.querySelector("input[id]") ?? place.querySelector("h1")).focus();
}

draw();
