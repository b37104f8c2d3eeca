// Will it work? What was found, the gravest first: what it is about, what mends it, and what was found good.

import { capital, counted, figures, h } from "./make.js";
import { mistakes } from "./piece.js";

const GRADES = { stop: "Can’t be built like this", care: "Look at this before cutting", note: "Worth knowing", fine: "Looked at and found good" };

export const sound = {
  word: "sound",
  tab: "Check",
  asks: "Will it work?",
  mark: (job) => {
    const found = job.lately ?? [];
    const stops = found.filter((f) => f.grade === "stop").length, cares = found.filter((f) => f.grade === "care").length;
    if (stops) return { kind: "stop", text: stops, says: "to put right" };
    return cares ? { kind: "care", text: cares, says: "to look at" } : null;
  },
  begin(job, board) { markAll(job, board); },
  leaf(job, board) {
    if (!job.built) return null;
    if (!job.built.sound) return [mistakes(job), h("p", { class: "quiet" }, "It is checked as soon as these are put right.")];
    const fresh = job.answers.checked, answer = fresh ?? job.answers.last?.checked;
    if (!answer || (!fresh && job.stopped)) return waiting(job, "Checking everything");
    if (!answer.findings) return failed(job, "checked");
    const found = job.findings;
    const bad = found.filter((f) => f.grade === "stop" || f.grade === "care").length;
    if (!job.looking) markAll(job, board);
    return [
      h("p", { class: "lead" }, bad ? `${counted(bad, "thing")} to look at; ${found.filter((f) => f.grade === "fine").length} found good.` : `Nothing stands in the way. ${counted(found.filter((f) => f.grade === "fine").length, "check")} found good.`),
      answer.weights?.length ? h("p", { class: "quiet" }, answer.weights.map((w, i) => `${i ? ", " : ""}${w.name} ${weight(job, w.kilograms)}`).join("").replace(/^./, (first) => first.toUpperCase()), " when it is done.") : null,
      Object.keys(GRADES).map((grade) => section(job, board, grade, found.filter((f) => f.grade === grade))),
    ];
  },
};

export function weight(job, kilograms) {
  const metric = (job.units || job.built?.units) === "mm";
  return metric ? `${kilograms.toFixed(1)} kg` : `${(kilograms / 0.45359237).toFixed(0)} lb`;
}

function markAll(job, board) {
  const names = (job.lately ?? []).filter((f) => f.grade === "stop").flatMap((f) => f.about);
  board.mark(names);
}

function section(job, board, grade, found) {
  if (!found.length) return null;
  const rows = found.map((f, i) => row(job, board, f, `${grade} ${i}`));
  if (grade === "fine") return h("details", { class: "more" }, h("summary", { "data-held": "fine" }, `${GRADES.fine}: ${found.length}`), h("ul", { class: "findings" }, rows));
  return [h("h3", { class: grade }, GRADES[grade]), h("ul", { class: "findings" }, rows)];
}

function row(job, board, f, held) {
  return h("li", { class: f.grade },
    h("p", { class: "says" }, figures(capital(f.says))),
    f.advice ? h("p", { class: "advice" }, figures(f.advice)) : null,
    f.margin !== null && f.unit ? margin(job, f) : null,
    h("p", { class: "row small" },
      f.mend ? h("button", { type: "button", class: "mend", "data-held": `mend ${held}`, "aria-disabled": job.answers.checked ? null : "true", onclick: () => { if (job.answers.checked) job.edit({ do: "mend", at: f.mend.at, value: f.mend.text }); } }, f.mend.says || "Mend it so") : null,
      f.about.length ? h("button", { type: "button", class: "plain", "data-held": `look ${held}`, onclick: () => show(job, board, f) }, "show where") : null,
      f.line ? h("a", { href: `#writing/${f.line}` }, `line ${f.line}`) : null,
      f.source ? h("span", { class: "quiet" }, f.source) : null));
}

/** Show in the drawing what a finding is about, and the very place where two things meet. */
async function show(job, board, f) {
  job.looking = true;
  board.choose([]);
  board.mark(f.about);
  board.note.textContent = f.about.length > 3 ? `${f.about.slice(0, 2).join(", ")} and ${f.about.length - 2} more` : f.about.join(", ");
  board.place.scrollIntoView({ block: "nearest" });
  if (f.about.length !== 2 || (f.grade !== "stop" && f.grade !== "care")) return;
  const meeting = await job.where(f.about[0], f.about[1]);
  if (!meeting || board.about !== f.about) return;
  await board.meet(meeting);
  board.note.textContent = `${f.about.join(" and ")} run into each other here${Object.entries(meeting.moves).map(([name, share]) => `, ${Math.round(share * 100)} % along the way of ${name}`).join("")}.`;
}

/** How much is to spare, as a bar: the limit is the middle. */
function margin(job, f) {
  if (f.number === null || f.limit === null || !f.limit) return null;
  const share = Math.max(0, Math.min(1, f.number / f.limit / 2));
  const bar = h("svg:svg", { viewBox: "0 0 100 6", class: "bar", "aria-hidden": "true", preserveAspectRatio: "none" },
    h("svg:rect", { width: "100", height: "6", class: "ground" }), h("svg:rect", { width: (share * 100).toFixed(1), height: "6", class: "amount" }), h("svg:rect", { x: "49.6", width: "0.8", height: "6", class: "limit" }));
  return f.grade === "fine" ? null : bar;
}

/** What could not be worked out, why not, and a way to ask again. */
export function failed(job, question) {
  const says = job.answers[question].says;
  return h("div", {}, h("p", { class: "wrong", role: "alert" }, says ? `This could not be worked out: ${says}` : "This could not be worked out."),
    h("p", {}, "The rest of the plan is as good as before. Change what you changed last, or ", h("button", { type: "button", class: "plain", "data-held": "again", onclick: () => { delete job.answers[question]; job.goOn(); } }, "try again"), "."));
}

/** What is being worked on, and a way to stop it. */
export function waiting(job, says) {
  if (job.stopped) return h("p", {}, "Stopped. ", h("button", { type: "button", onclick: () => job.goOn() }, "Go on"));
  const share = job.progress?.share ?? 0;
  return h("div", { class: "waiting" }, h("p", {}, `${says}…`), h("progress", { max: "1", value: share, "aria-label": says }),
    h("button", { type: "button", class: "plain", "data-held": "stop", onclick: () => job.stop() }, "Stop"));
}
