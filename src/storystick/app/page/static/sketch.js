// A sketch of the piece that is asked about, and of where the rule is put.

import { h } from "./make.js";

const s = (tag, attributes, ...inside) => h(`svg:${tag}`, attributes, ...inside);
const line = (x1, y1, x2, y2, kind) => s("line", { x1, y1, x2, y2, class: kind });

/** A case in parallel view; `part` is what is measured now. */
export function sketch(said, part) {
  const x = 110, y = 90, wide = 190, high = 220, deep = 60, rise = 34;
  const on = (name) => (part === name ? "rule" : "ink");
  const inside = [];
  const count = Math.max(1, Math.min(12, Number(said.count) || 3));
  const rows = said.purpose === "drawers" ? count - 1 : said.purpose === "shelves" || said.purpose === "doors" ? count : 1;
  for (let i = 1; i <= rows; i++) {
    const at = y + (high * i) / (rows + 1);
    inside.push(line(x + 6, at, x + wide - 6, at, on("inside")));
    if (said.purpose === "drawers") inside.push(line(x + wide / 2 - 14, at - 12, x + wide / 2 + 14, at - 12, "faint"));
  }
  if (said.purpose === "doors") {
    inside.length = 0;
    inside.push(line(x + wide / 2, y + 6, x + wide / 2, y + high - 6, "ink"), line(x + wide / 2 - 9, y + high / 2 - 14, x + wide / 2 - 9, y + high / 2 + 14, "faint"), line(x + wide / 2 + 9, y + high / 2 - 14, x + wide / 2 + 9, y + high / 2 + 14, "faint"));
    if (part === "inside") for (let i = 1; i <= rows; i++) inside.push(line(x + 6, y + (high * i) / (rows + 1), x + wide - 6, y + (high * i) / (rows + 1), "rule"));
  }
  const feet = said.stands === "castors" ? [20, wide - 20].map((dx) => s("circle", { cx: x + dx, cy: y + high + 9, r: 8, class: on("feet") }))
    : said.stands === "feet" ? [14, wide - 14].map((dx) => s("rect", { x: x + dx - 6, y: y + high, width: 12, height: 9, class: on("feet") }))
    : said.stands === "plinth" ? [s("rect", { x: x + 12, y: y + high, width: wide - 24, height: 14, class: on("feet") })] : [];
  const there = [];
  if (said.place === "gap") there.push(s("rect", { x: x - 66, y: y - 30, width: 56, height: high + 46, class: "there" }), s("rect", { x: x + wide + deep + 12, y: y - 30, width: 46, height: high + 46, class: "there" }));
  if (said.under) there.push(s("rect", { x: x - 30, y: y - rise - 48, width: wide + deep + 60, height: 22, class: "there" }));
  const rules = [];
  const both = (x1, y1, x2, y2) => rules.push(line(x1, y1, x2, y2, "rule"), s("circle", { cx: x1, cy: y1, r: 4, class: "end" }), s("circle", { cx: x2, cy: y2, r: 4, class: "end" }));
  if (part === "wide" && said.place === "gap") for (const dy of [20, high / 2, high - 14]) both(x - 10, y + dy, x + wide + deep + 12, y + dy);
  else if (part === "wide") both(x, y + high + 30, x + wide, y + high + 30);
  if (part === "high" && said.under) for (const dx of [8, wide / 2, wide - 8]) both(x + dx, y - rise - 26, x + dx, y + high + 16);
  else if (part === "high") both(x - 24, y, x - 24, y + high + 10);
  if (part === "deep") both(x + wide + 8, y + high + 4, x + wide + deep + 8, y + high - rise + 4);
  if (part === "load") rules.push(s("path", { d: `M${x + wide / 2} ${y - 58}v44m-10 -12l10 12l10 -12`, class: "rule" }));
  if (part === "sheet") rules.push(s("path", { d: `M${x - 8} ${y + 30}h8m9 0h10M${x - 8} ${y + 22}v16M${x + 19} ${y + 22}v16`, class: "rule" }));
  return s("svg", { viewBox: "0 0 420 400", role: "img", "aria-label": part ? `Sketch showing where to measure: ${part}` : "Sketch of the piece" },
    line(20, y + high + 17, 400, y + high + 17, "floor"), there,
    s("path", { d: `M${x} ${y}l${deep} ${-rise}h${wide}v${high}l${-deep} ${rise}`, class: "ink back" }),
    s("path", { d: `M${x + wide} ${y}l${deep} ${-rise}`, class: "ink" }),
    s("rect", { x, y, width: wide, height: high, class: "ink front" }), s("rect", { x: x + 6, y: y + 6, width: wide - 12, height: high - 12, class: part === "sheet" ? "rule hollow" : "faint hollow" }),
    said.purpose === "worktop" ? s("path", { d: `M${x - 6} ${y}v-10l${deep} ${-rise}h${wide + 12}v10l${-deep} ${rise}z`, class: "ink front" }) : null,
    said.purpose ? inside : null, feet, rules);
}
