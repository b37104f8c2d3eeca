// Why is this number what it is? A slip of paper with the sum, and with what it rests on, down to the line of the plan.

import { figures, fill, h } from "./make.js";

const slip = document.getElementById("slip");
let trail = [];

export async function askWhy(job, of, from) {
  trail = slip.open ? [...trail, of] : [of];
  if (!slip.open) slip.from = from;
  await show(job, of);
}

async function show(job, of) {
  let answer;
  try { answer = await job.why(of); } catch { answer = { unknown: true }; }
  const close = h("button", { type: "button", class: "close", onclick: () => slip.close() }, "Close");
  if (answer.unknown || answer.stuck || answer.missing || !answer.lines?.length) {
    fill(slip, h("h2", { id: "slip-title" }, "Nothing is known about this number"), h("p", {}, "The plan has a mistake that comes first, or it has changed meanwhile."), close);
  } else {
    const [first, ...rest] = answer.lines;
    fill(slip,
      h("p", { class: "eyebrow" }, "Why?"),
      h("h2", { id: "slip-title" }, first.name || "This number"),
      h("p", { class: "giant" }, figures(first.value)),
      first.exact && first.exact !== first.value ? h("p", { class: "quiet" }, `that is ${first.exact}`) : null,
      first.formula ? h("p", { class: "formula" }, "= ", figures(first.formula)) : null,
      first.because ? h("p", {}, figures(told(job, first))) : null,
      line(first),
      rest.length ? h("h3", {}, "It rests on") : null,
      h("ul", { class: "roots" }, rest.map((one) => h("li", { class: `d${Math.min(8, one.depth)} ${one.kind}` },
        h("p", {}, one.ask ? h("button", { type: "button", class: "linked", "data-why": one.ask }, one.name) : h("span", {}, bare(one)),
          " ", h("b", { class: "figure" }, figures(one.value)), one.word ? h("small", { class: "tag" }, one.word) : null),
        one.formula ? h("p", { class: "formula" }, "= ", figures(one.formula)) : null,
        one.because && one.because !== "told above" ? h("p", { class: "quiet" }, figures(told(job, one))) : null,
        line(one)))),
      h("div", { class: "row" }, trail.length > 1 ? h("button", { type: "button", onclick: () => { trail.pop(); show(job, trail.at(-1)); } }, "Back") : null, close));
  }
  if (!slip.open) slip.showModal();
  slip.scrollTop = 0;
}

/** A number that stands in a sum without a name says itself already. */
const bare = (one) => (one.kind === "given" && !one.ask ? "" : one.name || one.word);

/** Its reason, less the file and line that stand below it as a link. */
const told = (job, one) => one.because.split("; ").filter((word) => !one.line || word !== `${job.name}, line ${one.line}`).join("; ");

function line(one) {
  return one.line ? h("p", {}, h("a", { href: `#writing/${one.line}`, onclick: () => slip.close() }, `line ${one.line} of the plan`)) : null;
}

slip.addEventListener("click", (event) => { if (event.target === slip) slip.close(); });
slip.addEventListener("close", () => { trail = []; slip.from?.focus?.(); });
