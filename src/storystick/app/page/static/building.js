// How to build? One step at a time, large enough to be read from the bench.

import { capital, counted, figures, h, number } from "./make.js";
import { mistakes } from "./piece.js";
import { putting } from "./putting.js";
import { failed, waiting } from "./sound.js";

let at = null;
let awake = null;

export const building = {
  word: "build",
  tab: "Build",
  asks: "How to build?",
  begin() { at = null; },
  leaf(job, board) {
    if (!job.built) return null;
    if (!job.built.sound) return [mistakes(job), h("p", { class: "quiet" }, "The steps follow as soon as these are put right.")];
    const answer = job.answers.steps;
    if (!answer) return waiting(job, "Putting the steps in order");
    if (!answer.steps) return failed(job, "steps");
    if (!answer.steps.length) return h("p", { class: "quiet" }, "There is nothing to build yet.");
    const steps = answer.steps;
    const next = steps.findIndex((one) => !job.kept.isDone(one));
    const shown = at ?? (next < 0 ? steps.length - 1 : next);
    const step = steps[Math.min(shown, steps.length - 1)];
    const fresh = new Set(step.new.length ? step.new : step.parts);
    board.alone(step.shows.length ? { shows: new Set(step.shows), fresh } : step.parts.length ? { shows: fresh, fresh, ghosts: true } : null);
    const go = (to) => { at = Math.max(0, Math.min(steps.length - 1, to)); job.dispatchEvent(new Event("change")); document.getElementById("leaf").scrollTop = 0; };
    const done = job.kept.isDone(step);
    return [
      h("article", { class: `step ${done ? "done" : ""}` },
        h("p", { class: "eyebrow" }, `Step ${shown + 1} of ${steps.length} · ${step.stage}`, step.hands_on ? ` · about ${step.hands_on} min` : ""),
        h("h3", { class: "step-title" }, figures(step.title)),
        step.letters.length ? h("p", { class: "letters" }, step.letters.map((l) => h("b", { class: "letter still" }, l))) : null,
        step.settings.map((s) => h("div", { class: "setting" }, s.to ? h("p", { class: "giant" }, number({ text: s.to, ask: s.ask }, null, s.name)) : null,
          h("p", { class: "how" }, [s.name, s.machine, s.tool].filter(Boolean).join(", ")), s.says ? h("p", {}, figures(s.says)) : null, s.test ? h("p", { class: "check" }, h("b", {}, "Try it first: "), figures(s.test)) : null)),
        h("ul", { class: "does" }, step.does.map((text) => h("li", {}, figures(text)))),
        step.caution ? h("p", { class: "caution" }, h("b", {}, "Mind: "), figures(step.caution)) : null,
        step.check ? h("p", { class: "check" }, h("b", {}, "Check: "), figures(step.check)) : null,
        step.reads.map((one) => reading(job, one)),
        step.waits ? h("p", { class: "quiet" }, `Then it must stand for about ${span(step.waits)}.`) : null,
        step.why_here ? h("details", { class: "more" }, h("summary", { "data-held": "why here" }, "Why now?"), h("p", {}, step.why_here)) : null),
      h("div", { class: "thumb" },
        h("button", { type: "button", "data-held": "before", "aria-label": "The step before", disabled: shown === 0, onclick: () => go(shown - 1) }, "‹"),
        h("button", { type: "button", class: "big go", "data-held": "done", "aria-pressed": String(done), onclick: () => { job.kept.tick(step, !done, step.title); if (!done && shown < steps.length - 1) go(shown + 1); } }, done ? "Not done after all" : "Done, next"),
        h("button", { type: "button", "data-held": "after", "aria-label": "The step after", disabled: shown === steps.length - 1, onclick: () => go(shown + 1) }, "›")),
      moved(job),
      putting(job),
      wake(job),
      h("details", { class: "more" }, h("summary", { "data-held": "all steps" }, `All ${counted(steps.length, "step")}`),
        h("ol", { class: "all-steps" }, steps.map((one, i) => h("li", { class: job.kept.isDone(one) ? "done" : null }, h("button", { type: "button", class: "linked", onclick: () => go(i) }, figures(one.title)))))),
      answer.tools?.length ? h("details", { class: "more" }, h("summary", { "data-held": "tools" }, "Tools"), h("ul", {}, answer.tools.map((t) => h("li", {}, t)))) : null,
    ];
  },
};

/** What the last reading changed: parts, fits, drawings to print anew; and what was refused. */
function moved(job) {
  const refused = job.kept.refused.map((one) => h("p", { class: "wrong", role: "alert" }, capital(`${one.says}.`)));
  const found = job.moved;
  if (!found) return refused;
  const stale = [found["stale cards"].length ? `cards ${found["stale cards"].join(", ")}` : "", found["stale sheets"].length ? `sheet maps of ${found["stale sheets"].join(", ")}` : ""].filter(Boolean);
  return [refused, h("div", { class: "setting moved", role: "status" },
    h("p", {}, h("b", {}, found.sizes.length ? "After that reading" : "That reading changes no part"), found.sizes.length ? " (what is cut stays as it was printed)" : ""),
    found.slips.map((one) => h("p", { class: "caution" }, h("b", {}, "Mind: "), `${one.number} is ${one.off} off what was reckoned. A slip of the pen?`)),
    h("ul", {}, found.sizes.slice(0, 30).map((one) => h("li", {}, h("b", { class: "letter still" }, one.letter), ` ${one.number}: `, figures(one.old.text), " becomes ", number({ text: one.new.text, ask: `page:${one.number}` }, null, one.number), h("small", {}, ` (${one.why})`)))),
    found.sizes.length > 30 ? h("p", { class: "quiet" }, `and ${counted(found.sizes.length - 30, "number")} more`) : null,
    found.fits.length ? [h("p", {}, h("b", {}, "Fits that move")), h("ul", {}, found.fits.slice(0, 12).map((one) => h("li", {}, `${one.name}: gap `, figures(one.old.text), ", now ", number({ text: one.new.text, ask: `page:gap of ${one.name}` }, null, `gap of ${one.name}`), `; goes wrong in ${percent(one.trouble[0])}, now in ${percent(one.trouble[1])}`)))] : null,
    stale.length ? h("p", {}, h("b", {}, "Print again: "), stale.join("; ")) : null)];
}

function percent(share) { return share < 0.005 ? "under 1 %" : share > 0.995 ? "over 99 %" : `${Math.round(share * 100)} %`; }

function span(minutes) {
  return minutes < 90 ? `${minutes} minutes` : `${Math.round(minutes / 30) / 2} hours`;
}

function reading(job, one) {
  const key = one.name, id = `read-${key.replace(/\W+/g, "-")}`;
  return h("form", { class: "reading", onsubmit: (e) => { e.preventDefault(); const input = e.target.querySelector("input"); if (input.value.trim()) { delete input.dataset.typed; job.kept.read(key, input.value.trim()); } } },
    h("label", { for: id }, "Measure and write down: ", h("b", {}, key)),
    h("div", { class: "row" }, h("input", { id, "data-held": id, value: job.kept.reading(key, job.built.manner?.unit), placeholder: one.expected, autocomplete: "off", inputmode: "text" }), h("button", { type: "submit" }, "Keep")),
    h("p", { class: "quiet" }, "Reckoned: ", number({ text: one.expected, ask: one.ask }, null, key)));
}

function wake(job) {
  if (!("wakeLock" in navigator)) return null;
  const on = Boolean(awake && !awake.released);
  return h("label", { class: "check" }, h("input", { type: "checkbox", checked: on, "data-held": "awake", onchange: async (e) => {
    try { if (e.target.checked) awake = await navigator.wakeLock.request("screen"); else await awake?.release(); } catch { e.target.checked = false; }
    job.dispatchEvent(new Event("state"));
  } }), h("span", {}, "keep the screen awake"));
}
