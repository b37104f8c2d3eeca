// The plan in writing: the text itself, with what can't be read marked beside its line.

import { capital, figures, h } from "./make.js";

let desk = null;

export const writing = {
  word: "writing",
  tab: "Text",
  asks: "The plan in writing",
  begin() { desk = null; },
  leaf(job, board) {
    desk ??= make(job, board);
    desk.update();
    return desk.place;
  },
};

function make(job) {
  const gutter = h("div", { class: "gutter", "aria-hidden": "true" });
  const area = h("textarea", { "aria-label": "The plan", spellcheck: "false", wrap: "off", autocapitalize: "off", autocomplete: "off", "data-held": "writing" });
  const said = h("ul", { class: "said-lines" });
  const place = h("div", { class: "writing" }, h("p", { class: "quiet" }, "What you type is worked out at once, and kept. What stands after a # is for you alone."), h("div", { class: "sheet" }, gutter, area), h("div", { role: "status" }, said));
  let seen = null, timer = 0, sending = false;

  async function send() {
    clearTimeout(timer);
    if (sending || seen === null || area.value === seen) return;
    sending = true;
    const text = area.value;
    const good = await job.write(text);
    sending = false;
    if (good) seen = text;
    else if (job.clash) { seen = job.text; offer(); }
    if (area.value !== text && good) timer = setTimeout(send, 300);
  }

  function offer() {
    const mine = area.value, theirs = job.text;
    job.clash = null;
    said.replaceChildren(h("li", { class: "stop" }, "Somebody else changed the plan while you wrote. ",
      h("button", { type: "button", onclick: () => { area.value = theirs; seen = theirs; mark(); } }, "Take theirs"), " ",
      h("button", { type: "button", onclick: () => { seen = theirs; area.value = mine; send(); } }, "Keep mine")));
  }

  function mark() {
    const found = (job.built?.findings ?? []).concat((job.checked ?? []).filter((f) => f.grade === "stop" || f.grade === "care"));
    const worst = new Map();
    for (const f of found) if (f.line && (f.grade === "stop" || f.grade === "care") && worst.get(f.line)?.grade !== "stop") worst.set(f.line, f);
    const count = area.value.split("\n").length;
    gutter.replaceChildren(...Array.from({ length: count }, (_, i) => h("span", { class: worst.get(i + 1)?.grade ?? null, title: worst.get(i + 1)?.says ?? null }, String(i + 1))));
    gutter.scrollTop = area.scrollTop;
    area.rows = Math.max(12, Math.min(count + 1, 200));
    const read = (job.built?.findings ?? []).filter((f) => f.grade === "stop");
    said.replaceChildren(...read.slice(0, 60).map((f) => h("li", { class: f.grade }, h("button", { type: "button", class: "linked", onclick: () => goTo(f.line) }, `line ${f.line}`), " ", figures(capital(`${f.says} ${f.advice}`)))));
  }

  function goTo(line) {
    const lines = area.value.split("\n");
    const start = lines.slice(0, line - 1).join("\n").length + (line > 1 ? 1 : 0);
    area.focus({ preventScroll: true });
    area.setSelectionRange(start, start + (lines[line - 1]?.length ?? 0));
    const high = parseFloat(getComputedStyle(area).lineHeight);
    area.scrollTop = Math.max(0, (line - 4) * high);
    gutter.children[line - 1]?.scrollIntoView({ block: "center" });
  }

  area.addEventListener("input", () => { clearTimeout(timer); timer = setTimeout(send, 220); });
  area.addEventListener("change", send);
  area.addEventListener("scroll", () => { gutter.scrollTop = area.scrollTop; });
  let gone = "";
  return {
    place,
    update() {
      if (job.text === undefined) return;
      if (seen === null || (area.value === seen && job.text !== seen)) {
        const at = area.selectionStart;
        area.value = seen = job.text;
        area.setSelectionRange(at, at);
      }
      mark();
      const line = Number(location.hash.split("/")[1]);
      if (line && gone !== location.hash) { gone = location.hash; requestAnimationFrame(() => goTo(line)); }
    },
  };
}
addEventListener("hashchange", () => { if (location.hash.startsWith("#writing/")) desk?.update(); });
