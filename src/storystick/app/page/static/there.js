// What is there? What was measured, and what stands around the piece.

import { anew, capital, counted, figures, h, holding, number, same } from "./make.js";
import { lines, quoted } from "./forms.js";

export const there = {
  word: "there",
  tab: "Measure",
  asks: "What is there?",
  leaf(job, board) {
    if (!job.built) return h("p", { class: "quiet" }, "Opening the plan.");
    const section = (name) => job.built.form.find((one) => one.section === name)?.entries ?? [];
    const measured = section("measure"), site = section("site");
    return [
      h("p", { class: "lead" }, measured.length ? "Measure these again at your own place; everything else follows from them." : "Nothing was measured yet."),
      measured.map((entry) => entryOf(job, entry)),
      addNamed(job, "measure", "Measure one more thing", "What is it?", "What does the rule say?", (value) => quoted(value)),
      h("h3", {}, "What stands around it"),
      h("p", { class: "quiet" }, site.length ? `${counted(site.length, "thing")}, drawn faintly. Nothing of the piece may run into them, whatever moves.` : "Nothing yet: it stands alone. Machines, walls and pipes can be put in as plain boxes."),
      site.map((entry) => entryOf(job, entry, () => board.choose([entry.label]))),
      addBox(job),
    ];
  },
};

function entryOf(job, entry, look) {
  const known = job.built.measure?.find((one) => one.name === entry.label);
  const held = entry.path.join("/"), open = openOnes.has(held);
  if (entry.kind === "value") return holding(`there ${held}`, 0, () => h("div", { class: "entry-card" }), lines(job, entry, job.built.findings), out(job, entry));
  return holding(`there ${held}`, open, () => h("details", { class: "entry-card", open, ontoggle: (e) => {
    if (e.target.open === openOnes.has(held)) return;
    openOnes[e.target.open ? "add" : "delete"](held);
    job.dispatchEvent(new Event("change"));
    if (e.target.open) look?.();
  } }),
    same(`summary ${held}`, [entry, known], () => h("summary", { "data-held": `entry/${entry.path.join("/")}` }, h("b", {}, capital(entry.label)), known ? h("span", { class: "figure" }, figures(known.text)) : h("span", { class: "quiet" }, brief(entry)))),
    open ? [lines(job, entry, job.built.findings), known ? h("p", {}, "It counts as ", number(known, null, entry.label)) : null, out(job, entry)] : null);
}

export const openOnes = new Set();

/** What an entry says, in a few words: its plain values, and the names of what is longer. */
export function brief(entry) {
  const rows = entry.rows ?? [];
  const words = rows.filter((row) => row.kind === "value" && row.text.length < 24).slice(0, 2).map((row) => row.text);
  return (words.length ? words : rows.map((row) => row.label).slice(0, 3)).join(", ");
}

function out(job, entry) {
  return same(`take out ${entry.path.join("/")}`, 0, () => h("button", { type: "button", class: "plain", "aria-label": `Take ${entry.label} out of the plan`, onclick: () => job.edit({ do: "take", path: entry.path }) }, "take out"));
}

/** Put a line into the plan; the form that it came from is empty and shut when it is in. */
async function putIn(job, form, what) {
  if (!(await job.edit({ do: "add", ...what }))) return;
  anew(form);
  job.dispatchEvent(new Event("change"));
}

export function addNamed(job, section, title, what, value, write, hint = "") {
  return same(`add ${section}`, title, () => adding(job, section, title, what, value, write, hint));
}

function adding(job, section, title, what, value, write, hint) {
  const form = h("form", { class: "add", onsubmit: (e) => {
    e.preventDefault();
    const [name, said] = [...form.querySelectorAll("input")].map((one) => one.value.trim());
    if (name && said) putIn(job, `add ${section}`, { path: [section], key: name, value: write(said) });
  } },
  h("label", {}, what, h("input", { required: true, "data-held": `new ${section} name`, autocomplete: "off" })),
  h("label", {}, value, h("input", { required: true, placeholder: hint, "data-held": `new ${section} value`, autocomplete: "off" })),
  h("button", { type: "submit" }, "Put it in"));
  return h("details", { class: "more" }, h("summary", { "data-held": `add ${section}` }, title), form);
}

function addBox(job) {
  return same("add site", 0, () => addingBox(job));
}

function addingBox(job) {
  const field = (name, label) => h("label", {}, label, h("input", { name, required: true, value: name === "name" ? "" : "0", autocomplete: "off", "data-held": `box ${name}` }));
  const form = h("form", { class: "add", onsubmit: (e) => {
    e.preventDefault();
    const of = (name) => form.elements[name].value.trim() || "0";
    putIn(job, "add site", { path: ["site"], key: of("name"), value: `{box: [${of("wide")}, ${of("deep")}, ${of("high")}], at: [${of("left")}, ${of("front")}, ${of("bottom")}]}` });
  } },
  field("name", "What is it?"), field("wide", "How wide, left to right"), field("deep", "How deep, front to back"), field("high", "How high"),
  field("left", "Its left side, from the left of the room"), field("front", "Its front, from the front of the room"), field("bottom", "Its underside, from the floor"),
  h("button", { type: "submit" }, "Put it there"));
  return h("details", { class: "more" }, h("summary", { "data-held": "add site" }, "Put something there"), form);
}
