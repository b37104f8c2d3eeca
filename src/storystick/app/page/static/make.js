// Small pieces of the page, made without any markup in text: whatever a plan says is shown as it stands.

/** An element with its attributes and what is in it. `on...` attributes are listeners; null, undefined and false are left out. */
export function h(tag, attributes, ...inside) {
  const element = tag.includes(":")
    ? document.createElementNS("http://www.w3.org/2000/svg", tag.slice(tag.indexOf(":") + 1))
    : document.createElement(tag);
  for (const [name, value] of Object.entries(attributes ?? {})) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (name === "value") element.value = value;
    else element.setAttribute(name, value === true ? "" : String(value));
  }
  element.append(...inside.flat(4).filter((one) => one !== null && one !== undefined && one !== false));
  return element;
}

/** A text with its fractions set as fractions; what is read aloud and copied stays as it was. */
export function figures(said) {
  const out = [], text = String(said).replace(/ x (?=\d)/g, " × ");
  let last = 0;
  for (const found of text.matchAll(/(?<![\w./])\d{1,3}\/\d{1,3}(?![\w./])/g)) {
    out.push(text.slice(last, found.index), h("span", { class: "frac" }, found[0]));
    last = found.index + found[0].length;
  }
  out.push(text.slice(last));
  return out;
}

/** A number that can be asked why. */
export function number(one, ask, label) {
  const text = typeof one === "string" ? one : one.text;
  const of = typeof one === "string" ? ask : one.ask;
  if (!of) return h("span", { class: "number" }, figures(text));
  return h("button", { type: "button", class: "number", "data-why": of, "aria-label": `${label ? label + " " : ""}${text}: why?` }, figures(text));
}

const made = new Map();

/** What was made before under this name, as long as what it rests on is the same; made anew where it is not. */
export function same(name, rests, make) {
  const text = JSON.stringify(rests) ?? "", before = made.get(name);
  if (before?.text === text) return before.element;
  const element = make();
  made.set(name, { text, element });
  return element;
}

/** Have it made anew the next time, whatever it rests on. */
export function anew(name) { made.delete(name); }

/** The same, with other things in it: those that were in it before stay untouched. */
export function holding(name, rests, make, ...inside) {
  const element = same(name, rests, make);
  fill(element, ...inside);
  return element;
}

/** Leave those children where they are that are wanted still, in their order; put the others in, take the rest out. */
function put(place, inside) {
  const wanted = inside.flat(4).filter((one) => one !== null && one !== undefined && one !== false)
    .map((one) => (one instanceof Node ? one : document.createTextNode(String(one))));
  const stay = new Set(wanted);
  for (const old of [...place.childNodes]) if (!stay.has(old)) old.remove();
  let here = place.firstChild;
  for (const one of wanted) {
    if (one === here) here = here.nextSibling;
    else place.insertBefore(one, here);
  }
}

/** Put children in place of those that were there, keeping the focus where it was. */
export function fill(place, ...inside) {
  const active = document.activeElement;
  const known = place.contains(active) ? ["data-held", "data-why"].find((word) => active.hasAttribute(word)) : null;
  const held = known ? active.getAttribute(known) : null;
  const typed = held && active.dataset.typed ? active.value : null;
  const caret = held && "selectionStart" in active ? active.selectionStart : null;
  put(place, inside);
  if (!held || document.activeElement === active) return;
  const again = place.querySelector(`[${known}="${CSS.escape(held)}"]`);
  if (!again) return;
  if (typed !== null && again !== active) { again.value = typed; again.dataset.typed = "1"; }
  again.focus({ preventScroll: true });
  if (caret !== null && again.setSelectionRange && /^(text|search|)$/.test(again.type ?? "x")) {
    try { again.setSelectionRange(caret, caret); } catch { /* not a text */ }
  }
}

/** 1 part, 2 parts */
export const counted = (count, word, words) => `${count} ${count === 1 ? word : (words ?? word + "s")}`;

export const capital = (text) => text.slice(0, 1).toUpperCase() + text.slice(1);

// What is being typed is kept when the page is drawn anew around it.
document.addEventListener("input", (event) => { if ("value" in event.target) event.target.dataset.typed = "1"; });
document.addEventListener("change", (event) => { delete event.target.dataset?.typed; }, true);
