// What is always at hand: back and forth, inch or millimetre, and what can be taken along.

import { fill, h } from "./make.js";

export function tools(place, job) {
  const draw = () => {
    const units = job.units || job.built?.units || "inch";
    fill(place,
      h("button", { type: "button", "data-held": "undo", disabled: !job.past, onclick: () => job.undo(), title: "Take the last change back" }, "Undo"),
      h("button", { type: "button", "data-held": "redo", disabled: !job.undone, onclick: () => job.undo(true) }, "Redo"),
      h("div", { class: "pair", role: "group", "aria-label": "Show sizes in" },
        ...[["inch", "inch"], ["mm", "mm"]].map(([word, said]) => h("button", { type: "button", "data-held": `units ${word}`, "aria-pressed": String(units === word), onclick: () => job.show(word) }, said))),
      h("details", { class: "take" }, h("summary", { "data-held": "take" }, "Take along"),
        h("div", {},
          h("a", { href: `${job.path}/packet.pdf?units=${units}`, download: "" }, "Packet for the bench (PDF)"),
          h("a", { href: `${job.path}/plan`, download: "" }, "The plan’s file"),
          h("a", { href: "/phone" }, "On a phone"))));
  };
  job.addEventListener("change", draw);
  draw();
}
