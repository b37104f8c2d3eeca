// The plan as a form: each value of the file on a line of its own, changed in place. The file keeps its comments.

import { capital, figures, h, holding, number, same } from "./make.js";

const NAMES = { length: "text", number: "text", count: "number", angle: "text", weight: "text", money: "text", percent: "text", temperature: "text", text: "text" };

/** A value, a group or a list of the plan as lines of a form. */
export function lines(job, node, wrong) {
  if (node.kind === "value") return line(job, node, wrong);
  if (node.kind === "list") return list(job, node, wrong);
  if (node.kind === "group") return group(job, node, wrong);
  return h("p", { class: "quiet" }, node.label, ": change this in writing.");
}

function mistakes(node, wrong) {
  return (wrong ?? []).filter((f) => f.line === node.line && f.grade === "stop");
}

function line(job, node, wrong) {
  const held = node.path.join("/");
  const id = `in-${held.replace(/\W+/g, "-")}`;
  const found = mistakes(node, wrong), waits = job.pending?.do === "put" && job.pending.path.join("/") === held;
  const shown = waits ? job.pending.value : node.text;
  const made = same(`line ${held}`, [node, found, waits, shown], () => h("div", { class: "line", "data-line": node.line },
    h("label", { for: id }, node.named ? h("b", {}, node.label) : node.label),
    h("div", { class: "entry" },
      control(job, node.input, shown, { id, held, describedby: `${id}-help`, wrong: found.length }, (value) => job.edit({ do: "put", path: node.path, value })),
      node.comes && node.comes.text !== node.text ? h("span", { class: "comes" }, "= ", number(node.comes, null, node.label)) : node.comes ? h("span", { class: "comes" }, h("button", { type: "button", class: "number small", "data-why": node.comes.ask, "aria-label": `${node.label} ${node.text}: why?` }, "why?")) : null),
    h("p", { class: "help", id: `${id}-help` }, waits ? "This waits here until the computer can be reached." : found.length ? found.map((f) => h("span", { class: "wrong" }, figures(`${f.says} ${f.advice}`))) : node.help ?? "")));
  const entry = made.querySelector("input, select");
  if (!entry.dataset.typed && entry.value !== shown) entry.value = shown; // what was refused
  return made;
}

/** One input of the right sort; `done` gets the new text. */
export function control(job, input, text, { id, held, describedby, wrong, label, hint }, done) {
  const common = { id, "data-held": held, "aria-describedby": describedby, "aria-label": label, "aria-invalid": wrong ? "true" : null };
  if ((input.as === "choice" || input.as === "name" || input.as === "flag") && input.options.length) {
    const options = input.options.some((o) => o.toLowerCase() === text.toLowerCase()) || text === "" ? input.options : [text, ...input.options];
    return h("select", { ...common, onchange: (e) => done(e.target.value) },
      text === "" ? h("option", { value: "", selected: true }, "choose") : null,
      options.map((o) => h("option", { value: o, selected: o.toLowerCase() === text.toLowerCase() }, o)));
  }
  const commit = (e) => { if (e.target.value !== text) done(e.target.value); };
  return h("input", { ...common, type: "text", inputmode: NAMES[input.as] === "number" ? "numeric" : null, value: text, autocomplete: "off", autocapitalize: "off", spellcheck: "false",
    placeholder: hint ?? "", title: input.hint, onchange: commit, onkeydown: (e) => { if (e.key === "Escape") { e.target.value = text; e.target.blur(); } } });
}

function list(job, node, wrong) {
  const single = node.items.every((one) => one.kind === "value");
  const held = node.path.join("/"), under = (one) => one.path.join("/");
  return holding(`list ${held}`, 0, () => h("fieldset", { class: "list" }), same(`legend ${held}`, node.label, () => h("legend", {}, node.label)),
    node.help ? same(`help ${held}`, node.help, () => h("p", { class: "help" }, node.help)) : null,
    holding(`items ${held}`, 0, () => h("ol", {}), node.items.map((one, i) => holding(`item ${under(one)}`, 0, () => h("li", {}),
      one.kind === "value" ? lines(job, { ...one, label: `${i + 1}` }, wrong) : lines(job, { ...one, label: summary(one, i) }, wrong),
      same(`beside ${under(one)}`, [i, one.kind, one.text], () => h("span", { class: "beside" },
        h("button", { type: "button", class: "plain", "aria-label": `One more after ${i + 1}`, title: "one more below", onclick: () => job.edit({ do: "add", path: node.path, key: String(i + 1), value: one.kind === "value" ? one.text : "open" }) }, "+"),
        h("button", { type: "button", class: "plain", "aria-label": `Take out ${i + 1}`, title: "take out", onclick: () => job.edit({ do: "take", path: one.path }) }, "×")))))),
    node.items.length || !single ? null : adder(job, node.path, "0", node.of));
}

function summary(node, i) {
  if (node.kind !== "group") return String(i + 1);
  const words = node.rows.map((row) => row.label).slice(0, 3).join(", ");
  return `${i + 1}: ${words}`;
}

function adder(job, path, key, input) {
  return h("button", { type: "button", class: "plain", onclick: () => job.edit({ do: "add", path, key, value: input.options[0] ?? "1" }) }, "add one");
}

function group(job, node, wrong) {
  const held = node.path.join("/");
  const inner = [
    ...node.rows.map((row) => holding(`held ${row.path.join("/")}`, 0, () => h("div", { class: "held" }), lines(job, row, wrong),
      row.kind !== "value" || node.rows.length < 2 ? null : same(`out ${row.path.join("/")}`, row.label, () => h("button", { type: "button", class: "plain out", "aria-label": `Take out ${row.label}`, onclick: () => job.edit({ do: "take", path: row.path }) }, "×")))),
    node.may?.length ? more(job, node) : null,
  ];
  if (node.named) return holding(`inner ${held}`, 0, () => h("div", { class: "inner" }), inner);
  return holding(`group ${held}`, 0, () => h("fieldset", { class: "group" }), same(`legend ${held}`, node.label, () => h("legend", {}, capital(node.label))),
    node.help ? same(`help ${held}`, node.help, () => h("p", { class: "help" }, node.help)) : null, inner);
}

/** Lines that could stand here as well; their fields are made when somebody wants to see them. */
function more(job, node) {
  const held = `more/${node.path.join("/")}`;
  return same(held, node.may, () => {
    const inside = h("div", {});
    const filled = (e) => { if (e.target.open && !inside.firstChild) inside.append(...node.may.map((one) => offered(job, node, one, held))); };
    return h("details", { class: "more", ontoggle: filled }, h("summary", { "data-held": held }, "Say more"), inside);
  });
}

function offered(job, node, one, held) {
  const id = `add-${node.path.concat(one.name).join("-").replace(/\W+/g, "-")}`;
  return h("div", { class: "line" }, h("label", { for: id }, one.name),
    h("div", { class: "entry" }, control(job, one.input, "", { id, held: `${held}/${one.name}`, describedby: `${id}-help`, hint: one.default ? `${one.default} if not said` : "" },
      (value) => value.trim() && job.edit({ do: "add", path: node.path, key: one.name, value: quoted(value) }))),
    h("p", { class: "help", id: `${id}-help` }, one.help));
}

/** A text as it may stand in a plan, in quotes where it needs them. */
export function quoted(text) {
  return /^[\w][\w .,+*/()"'×½¼¾⅛⅜⅝⅞-]*$/u.test(text) && !/: | #|, /.test(text) ? text : `'${text.replaceAll("'", "''")}'`;
}
