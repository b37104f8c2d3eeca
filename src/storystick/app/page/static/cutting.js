// How to cut? A map of each sheet, its cuts in order, and the next one large.

import { counted, figures, h } from "./make.js";
import { mistakes } from "./piece.js";
import { failed, waiting } from "./sound.js";

let open = 0;

export const cutting = {
  word: "cut",
  tab: "Cut",
  asks: "How to cut?",
  leaf(job, board) {
    if (!job.built) return null;
    if (!job.built.sound) return [mistakes(job), h("p", { class: "quiet" }, "The sheets are laid out as soon as these are put right.")];
    const answer = job.answers.cut;
    if (!answer) return waiting(job, "Laying out the sheets");
    if (!answer.sheets) return failed(job, "cut");
    if (!answer.sheets.length) return h("p", { class: "quiet" }, "There is nothing to cut.");
    const all = answer.sheets.flatMap((sheet, i) => sheet.cuts.map((cut) => ({ cut, i }))).sort((a, b) => a.cut.number - b.cut.number);
    const next = all.find((one) => !job.kept.isDone(one.cut));
    const shown = answer.sheets[Math.min(open, answer.sheets.length - 1)];
    const mine = next && answer.sheets[next.i] === shown ? next.cut : shown.cuts.find((cut) => !job.kept.isDone(cut));
    board.lay([h("p", {}, h("b", {}, shown.key), " ", figures(shown.size)), map(job, shown, mine)]);
    return [
      answer.unplaced.length ? h("p", { class: "wrong" }, `No stock is left for ${answer.unplaced.flatMap((u) => u.parts).join(", ")}.`) : null,
      nextCut(job, answer, mine, shown, all, next),
      h("div", { class: "tabs", role: "group", "aria-label": "Sheets" }, answer.sheets.map((sheet, i) => h("button", { type: "button", "aria-pressed": String(sheet === shown), "data-held": `sheet ${i}`, onclick: () => { open = i; job.dispatchEvent(new Event("change")); } },
        sheet.key, sheet.cuts.every((cut) => job.kept.isDone(cut)) ? " ✓" : ""))),
      h("p", { class: "quiet" }, figures(named(shown)), figures(shown.size), shown.on_hand ? ", from the rack" : ""),
      h("ol", { class: "ticks cuts" }, shown.cuts.map((cut) => line(job, cut, cut === mine))),
    ];
  },
};

/** What a sheet is called, unless that is its size. */
function named(sheet) {
  return sheet.name.replaceAll(" x ", " × ") === sheet.size ? "" : `${sheet.name}, `;
}

function nextCut(job, answer, mine, shown, all, next) {
  if (!mine && !next) return h("div", { class: "now" }, h("p", { class: "eyebrow" }, "Every cut is made"), h("p", {}, `${counted(all.length, "cut")} on ${counted(answer.sheets.length, "sheet")}.`));
  if (!mine) return h("div", { class: "now" }, h("p", { class: "eyebrow" }, "This one is cut up"), h("button", { type: "button", class: "big go", onclick: () => { open = next.i; job.dispatchEvent(new Event("change")); } }, `On to ${answer.sheets[next.i].key}`));
  const done = all.filter((one) => job.kept.isDone(one.cut)).length;
  return h("div", { class: "now" },
    h("p", { class: "eyebrow" }, `Next cut: ${done + 1} of ${all.length}`),
    h("p", { class: "giant" }, mine.setting ? figures(mine.setting) : mine.at > 0 ? figures(mine.from) : "along the edge"),
    h("p", { class: "how" }, mine.purpose ? `${mine.purpose}, ` : "", mine.way, mine.setting ? " with the fence or stop set to this" : mine.at > 0 ? " along a line, from the near edge" : ""),
    h("p", {}, "Gives ", mine.frees.map((p, i) => [i ? " and " : "", p.letter ? h("b", { class: "letter still" }, p.letter) : null, p.letter ? ` ${p.part}` : p.keep ? figures(`a leftover to keep, ${p.says}`) : p.waste ? "waste" : figures(`a piece ${p.says}`)]), "."),
    h("button", { type: "button", class: "big go", "data-held": "cut made", onclick: () => job.kept.tick(mine, true, mine.words) }, "It is cut"));
}

function line(job, cut, now) {
  return h("li", { class: `${job.kept.isDone(cut) ? "done" : ""} ${now ? "current" : ""}`, value: cut.number }, h("label", { class: "tick" },
    h("input", { type: "checkbox", checked: job.kept.isDone(cut), "data-held": cut.key, onchange: (e) => job.kept.tick(cut, e.target.checked, cut.words) }),
    h("span", { class: "what" }, figures(cut.words.replace(/^\d+\s*/, `${cut.number}  `)))));
}

function map(job, sheet, now) {
  const tall = Math.max(sheet.wide, sheet.long * 0.04), pad = sheet.long * 0.012;
  const thick = sheet.long / 260, letter = sheet.long / 32;
  const flip = (y, high) => tall - y - high;
  const pieces = sheet.pieces.map((p) => {
    const high = Math.min(p.wide, tall), small = letter * 0.55, middle = flip(p.y, high) + high / 2;
    const size = Math.min(letter, high * 0.6, p.long * 0.5), room = p.letter && high > letter * 2.2 && p.long > p.says.length * small * 0.55;
    const word = (says, y, tall) => h("svg:text", { x: p.x + p.long / 2, y, "font-size": tall, "text-anchor": "middle", "dominant-baseline": "central" }, says);
    return h("svg:g", { class: p.letter ? "blank" : p.keep ? "keep" : "waste" },
      h("svg:rect", { x: p.x, y: flip(p.y, high), width: p.long, height: high, "stroke-width": thick * 0.6 }),
      p.letter && size > letter * 0.3 ? word(p.letter, room ? middle - letter * 0.4 : middle, size) : null,
      room ? h("svg:g", { class: "size" }, word(p.says, middle + letter * 0.6, small)) : null);
  });
  const lines = sheet.cuts.map((cut) => {
    const { x, y, long, wide } = cut.piece, rip = cut.way === "rip", middle = cut.at + cut.kerf / 2;
    const ends = rip ? { x1: x, x2: x + long, y1: flip(middle, 0), y2: flip(middle, 0) } : { x1: middle, x2: middle, y1: flip(y, 0), y2: flip(y + wide, 0) };
    const state = cut === now ? "next" : job.kept.isDone(cut) ? "made" : "to-come";
    return h("svg:line", { ...ends, class: state, "stroke-width": cut === now ? thick * 3 : thick });
  });
  const held = now ? h("svg:rect", { class: "in-hand", x: now.piece.x, y: flip(now.piece.y, now.piece.wide), width: now.piece.long, height: now.piece.wide, "stroke-width": thick * 1.6 }) : null;
  return h("svg:svg", { class: "map", viewBox: `${-pad} ${-pad} ${sheet.long + 2 * pad} ${tall + 2 * pad}`, role: "img", "aria-label": `Map of ${sheet.key}: ${counted(sheet.pieces.filter((p) => p.letter).length, "part")}, ${counted(sheet.cuts.length, "cut")}` },
    h("svg:rect", { class: "sheet", width: sheet.long, height: tall, "stroke-width": thick }), pieces, lines, held);
}
