// What is it? The piece: its sizes, what it is made from, and every part.

import { capital, counted, figures, h, holding, number, same } from "./make.js";
import { lines } from "./forms.js";
import { addNamed, brief, openOnes } from "./there.js";

export const piece = {
  word: "piece",
  tab: "Piece",
  asks: "What is it?",
  mark: (job) => {
    const stops = (job.built?.findings ?? []).filter((f) => f.grade === "stop").length;
    return stops ? { kind: "stop", text: stops, says: "mistakes in the plan" } : null;
  },
  leaf(job, board) {
    if (!job.built) return h("p", { class: "quiet" }, "Opening the plan.");
    const { built } = job;
    const section = (name) => built.form.find((one) => one.section === name)?.entries ?? [];
    return [
      built.about ? same("about", built.about, () => h("p", { class: "lead" }, built.about)) : null,
      mistakes(job),
      built.sizes?.length ? same("sizes", built.sizes, () => h("div", { class: "sizes" }, built.sizes.map((one) => h("div", {}, h("h3", {}, capital(one.name)),
        h("p", { class: "threes" }, ["wide", "deep", "high"].map((word, i) => h("span", {}, number(one.size[i], null, word), h("small", {}, word)))))))) : null,
      heading("How it is made"),
      section("build").map((entry) => card(job, entry, board)),
      heading("What it is made from"),
      section("stock").map((entry) => card(job, entry)),
      addNamed(job, "stock", "One more stock", "What do you call it?", "Which sheet, and how thick?", (said) => sheetOf(said), "birch plywood, 12 mm"),
      heading("What it carries"),
      section("loads").map((entry) => holding(`load ${entry.path.join("/")}`, 0, () => h("div", { class: "entry-card" }), lines(job, entry, built.findings))),
      addNamed(job, "loads", "A load", "On what?", "How much?", (said) => said, "20 kg"),
      built.parts?.length ? [heading(`${counted(built.counts.parts, "part")}, ${built.counts.different} different`), parts(job, board)] : null,
    ];
  },
};

const heading = (says) => same(`heading ${says}`, 0, () => h("h3", {}, says));

function sheetOf(said) {
  const [sheet, thick] = said.split(",").map((word) => word.trim());
  return `{sheet: ${sheet || "birch plywood"}, sold as: ${thick || "18 mm"}}`;
}

const SHOWN = 12; // mistakes told beside the form; all of them stand at the text

/** Mistakes in the plan itself: where, what, and the nearest thing that works. */
export function mistakes(job) {
  const found = (job.built?.findings ?? []).filter((f) => f.grade === "stop");
  if (!found.length) return null;
  return h("div", { class: "mistakes", role: "alert" },
    h("p", {}, h("b", {}, `${counted(found.length, "thing")} in the plan ${found.length === 1 ? "has" : "have"} to be put right first`), job.built.old ? ". The drawing shows how it was before." : "."),
    h("ul", {}, found.slice(0, SHOWN).map((f) => h("li", {}, h("p", {}, figures(capital(`${f.says} ${f.mend ? "" : f.advice}`))), h("p", { class: "row small" },
      f.mend ? h("button", { type: "button", class: "mend", "data-held": `mend ${f.line} ${f.column}`, onclick: () => job.edit({ do: "mend", at: f.mend.at, value: f.mend.text }) }, f.mend.says) : null,
      f.line ? h("a", { href: `#writing/${f.line}` }, `line ${f.line}`) : null)))),
    found.length > SHOWN ? h("p", {}, h("a", { href: `#writing/${found[SHOWN].line}` }, `and ${found.length - SHOWN} more, in the text`)) : null);
}

function card(job, entry, board) {
  const held = entry.path.join("/");
  if (entry.kind === "value") return holding(`card ${held}`, 0, () => h("div", { class: "entry-card" }), lines(job, entry, job.built.findings));
  return holding(`card ${held}`, openOnes.has(held), () => h("details", { class: "entry-card", open: openOnes.has(held), ontoggle: (e) => {
    if (e.target.open === openOnes.has(held)) return;
    openOnes[e.target.open ? "add" : "delete"](held);
    job.dispatchEvent(new Event("change"));
    if (e.target.open && board) board.choose(job.built.parts?.flatMap((p) => p.names).filter((n) => n.startsWith(`${entry.label}.`)) ?? []);
  } }),
  same(`head ${held}`, entry, () => h("summary", { "data-held": `entry/${held}` }, h("b", {}, capital(entry.label)), h("span", { class: "quiet" }, board ? (entry.rows?.[0]?.label ?? "") : brief(entry)))),
  openOnes.has(held) ? lines(job, entry, job.built.findings) : null);
}

function parts(job, board) {
  const rows = job.built.parts;
  return holding("parts", 0, () => h("ul", { class: "parts" }), rows.map((part) => {
    const tapped = Boolean(job.tapped && part.names.includes(job.tapped));
    const last = job.built.sound ? (job.answers.checked ?? job.answers.last?.checked)?.last[part.names[0]] : "";
    return same(`part ${part.letter}`, [part, tapped, last], () => h("li", { class: tapped ? "tapped" : null },
      h("button", { type: "button", class: "letter", "data-held": `part ${part.letter}`, "aria-label": `Show ${part.letter}, ${part.names[0]}, in the drawing`, "aria-pressed": String(Boolean(tapped)),
        onclick: () => { job.tapped = tapped ? null : part.names[0]; board.choose(tapped ? [] : part.names); job.dispatchEvent(new Event("change")); } }, part.letter),
      h("div", {}, h("b", {}, short(part.names)), part.names.length > 1 ? h("span", { class: "times" }, ` × ${part.names.length}`) : null,
        h("p", { class: "dims" }, part.size.map((s, i) => [i ? " × " : "", number(s, null, ["length", "width", "thickness"][i])]), " ", h("span", { class: "quiet" }, part.stock)),
        part.fit_to ? h("p", { class: "quiet" }, "Cut to fit: ", part.fit_to) : null,
        last ? h("p", { class: "quiet" }, `Better cut when the rest stands dry, to what is there: the size here is provisional. Cut at once it goes wrong in ${last} of builds.`) : null,
        tapped ? h("p", { class: "row small" }, h("button", { type: "button", class: "plain", onclick: () => board.hide(part.names) }, "hide in the drawing"),
          part.line ? h("a", { href: `#writing/${part.line}` }, `line ${part.line}`) : null) : null)));
  }));
}

function short(names) {
  const last = names.map((name) => name.split(".").slice(1).join(" ") || name);
  return last.length === 1 ? last[0] : last[0].replace(/ \d+$/, "");
}
