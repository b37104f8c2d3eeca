// What to buy? Each line can be ticked, at the desk or in the yard.

import { capital, counted, figures, h } from "./make.js";
import { mistakes } from "./piece.js";
import { failed, waiting } from "./sound.js";

export const buying = {
  word: "buy",
  tab: "Buy",
  asks: "What to buy?",
  leaf(job) {
    if (!job.built) return null;
    if (!job.built.sound) return [mistakes(job), h("p", { class: "quiet" }, "The list follows as soon as these are put right.")];
    const answer = job.answers.bought;
    if (!answer) return waiting(job, "Laying out the sheets, to know how many");
    if (!answer.lines) return failed(job, "bought");
    const left = answer.lines.filter((one) => !job.kept.isDone(one) && one.count > one.have).length;
    const kinds = [...new Set(answer.lines.map((one) => one.kind || "other"))];
    return [
      h("p", { class: "lead" }, h("b", { class: "figure" }, answer.total), left ? `, ${counted(left, "line")} still to get` : ", all of it is here"),
      answer.unpriced ? h("p", { class: "quiet" }, `${counted(answer.unpriced, "line")} without a price ${answer.unpriced === 1 ? "is" : "are"} not in the sum.`) : null,
      kinds.map((kind) => [h("h3", {}, capital(kind)), h("ul", { class: "ticks" }, answer.lines.filter((one) => (one.kind || "other") === kind).map((one) => line(job, one)))]),
      answer.lines.some((one) => one.guessed) ? h("p", { class: "quiet" }, "~ marks a guessed price: write what it costs where you buy it into the plan or the shop’s file.") : null,
    ];
  },
};

/** More than one of what things are sold by; measures stay as they are. */
const plural = (unit) => (/^(m|mm|cm|ft|in|kg|g|lb|l|ml)$/.test(unit) ? unit : unit.endsWith("x") ? `${unit}es` : `${unit}s`);

function line(job, one) {
  const enough = one.have >= one.count;
  const done = enough || job.kept.isDone(one);
  return h("li", { class: done ? "done" : null }, h("label", { class: "tick" },
    h("input", { type: "checkbox", checked: done, disabled: enough, "data-held": one.key, onchange: (e) => job.kept.tick(one, e.target.checked, `${one.what} ${one.size}`) }),
    h("span", { class: "what" }, h("b", { class: "figure" }, one.unit === "each" ? `${one.count} × ` : `${counted(one.count, one.unit, plural(one.unit))} `), one.what, one.size ? h("span", { class: "size" }, one.size.startsWith("x ") ? " " : ", ", figures(one.size)) : null,
      h("small", {}, [one.have ? `${one.have} in the rack` : "", one.for].filter(Boolean).join(" · "))),
    h("span", { class: "price" }, one.total, one.guessed && one.total ? " ~" : "")));
}
