// Putting right: each fit that broke, with what can be done about it, the cheapest first; one tap takes one.

import { capital, counted, figures, h, number } from "./make.js";

/** What broke, and what can be done; nothing where every fit is as it should be, as far as is known. */
export function putting(job) {
  const fits = job.answers.broken?.fits ?? [];
  if (!fits.length) return null;
  return h("section", { class: "setting putting", "aria-label": "Putting right" },
    h("h3", {}, `Putting right: ${counted(fits.length, "fit")} out`),
    fits.map((one) => broken(job, one)));
}

function broken(job, fit) {
  const taken = job.kept.waiting.some((one) => one.what === "remedy" && one.key === fit.name);
  const [first, ...others] = fit.remedies;
  return h("article", { class: "broken" },
    h("p", {}, h("b", {}, fit.name), `: too ${fit.tight ? "tight" : "loose"}. Gap `, number({ text: fit.gap.text, ask: `page:gap of ${fit.name}` }, null, `gap of ${fit.name}`), ", wanted ", figures(fit.wanted), "."),
    fit.chosen ? h("p", { class: "check" }, h("b", {}, "Taken: "), figures(fit.chosen)) : null,
    taken ? h("p", { class: "quiet", role: "status" }, "Written down; it is being reckoned anew.") : null,
    first && !fit.chosen ? remedy(job, fit, first, taken) : null,
    others.length || fit.chosen ? h("details", { class: "more" }, h("summary", { "data-held": `others ${fit.name}` }, fit.chosen ? "Something else" : `${counted(others.length, "other way", "other ways")}`),
      (fit.chosen ? fit.remedies : others).map((one) => remedy(job, fit, one, taken))) : null);
}

function remedy(job, fit, one, taken) {
  const also = one.also.slice(0, 6).map((other) => h("li", { class: other.good ? null : "wrong" }, `${other.fit}: gap then `, figures(other.gap), other.good ? ", still good" : other.spoilt ? ", no longer good" : ", not good either way"));
  return h("div", { class: "remedy" },
    h("p", { class: "says" }, figures(capital(one.says)), "."),
    h("p", { class: one.enough ? "quiet" : "wrong" }, [one.minutes ? `About ${one.minutes} min` : "Costs nothing yet: only on paper", one.left ? figures(one.left) : "", one.enough ? "" : "not enough for it"].filter(Boolean).flatMap((text, i) => (i ? ["; ", text] : [text])), "."),
    also.length ? h("ul", {}, h("li", {}, "Moves with it:"), also) : null,
    h("button", { type: "button", class: "mend take", "data-held": `take ${fit.name} ${one.mark}`, disabled: taken, onclick: () => job.kept.putRight(fit.name, one) }, one.way === "live" ? "I live with it" : "I do this"));
}
