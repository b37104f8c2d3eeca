// What is always at hand: back and forth, inch or millimetre, and what can be taken along.

import { ask, file } from "./ask.js";
import { fill, h } from "./make.js";

let open = false, making = "", trouble = "", formats = null;

export function tools(place, job) {
  let drawn = "";
  const draw = () => {
    const now = JSON.stringify([job.units || job.built?.units, !job.past, !job.undone, open, making, trouble, formats]);
    if (now === drawn) return;
    drawn = now;
    const units = job.units || job.built?.units || "inch";
    const redo = (held) => h("button", { type: "button", "data-held": held, disabled: !job.undone, onclick: () => job.undo(true) }, "Redo");
    const pair = (held) => h("div", { class: "pair", role: "group", "aria-label": "Show sizes in" },
      [["inch", "inch"], ["mm", "mm"]].map(([word, said]) => h("button", { type: "button", "data-held": `${held} ${word}`, "aria-pressed": String(units === word), onclick: () => job.show(word) }, said)));
    fill(place,
      h("button", { type: "button", "data-held": "undo", disabled: !job.past, onclick: () => job.undo(), title: "Take the last change back" }, "Undo"),
      h("div", { class: "roomy" }, redo("redo"), pair("units")),
      take(job, units, h("div", { class: "tight" }, pair("units too"), redo("redo too"))));
  };
  job.addEventListener("change", draw);
  draw();
}

/** Files of the plan: for the bench, for somebody else, for other programs. Each is made when it is asked for. */
function take(job, units, first) {
  const again = () => job.dispatchEvent(new Event("change"));
  const bring = async (what, path) => {
    if (making) return;
    making = what;
    trouble = "";
    again();
    try { save(await file(`${job.path}/${path}`)); } catch (fault) { trouble = fault.message; }
    making = "";
    job.progress = null;
    again();
  };
  const one = (what, says, path) => h("button", { type: "button", class: "fetch", "data-held": `take ${what}`, disabled: Boolean(making) && making !== what, onclick: () => bring(what, path) },
    h("span", {}, making === what ? `${what}: being made…` : what), says ? h("small", {}, says) : null);
  const toggled = (event) => {
    open = event.target.open;
    if (open && !formats) ask(`${job.path}/formats`).then((found) => { formats = found.formats; again(); }, () => {});
  };
  return h("details", { class: "take", open, ontoggle: toggled, onkeydown: (e) => { if (e.key === "Escape") { open = false; e.currentTarget.open = false; e.currentTarget.firstElementChild.focus(); } } },
    h("summary", { "data-held": "take" }, h("span", { class: "roomy" }, "Take along"), h("span", { class: "tight" }, "More")),
    h("div", {},
      first,
      trouble ? h("p", { class: "wrong", role: "alert" }, trouble) : null,
      one("Packet", "to print for the bench (PDF)", `packet.pdf?units=${units}`),
      one("One file for anybody", "pictures, drawing, steps; opens in any browser (HTML)", `shared.html?units=${units}`),
      one("The plan’s own file", "to go on with elsewhere (YAML)", "plan"),
      h("a", { href: "/phone" }, "On a phone"),
      formats?.length ? [h("p", { class: "quiet" }, "For other programs and machines"), formats.map((form) => one(kind(form.name), form.says, `export/${form.name}?units=${units}`))] : null));
}

/** A format as it is called: "dxf-inches" is "DXF, inches". */
function kind(name) {
  const [short, ...rest] = name.split("-");
  return [short.toUpperCase(), ...rest].join(", ");
}

/** Hand a file to the browser to keep. */
function save({ name, blob }) {
  const address = URL.createObjectURL(blob);
  h("a", { href: address, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 20_000);
}
