// A plan that was handed on as one file: the drawing is turned here too, and what is read is shown in it.

import { Board } from "./board.js";
import { h } from "./make.js";

const given = JSON.parse(document.getElementById("storystick-drawing").textContent);
const stage = document.getElementById("board");

/** The bodies as they were packed. */
async function unpacked(text) {
  const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate"));
  return new Response(stream).arrayBuffer();
}

function shown(says, names, act) {
  if (!names.length) return null;
  return h("button", { type: "button", class: "plain in-drawing", onclick: () => { act(); stage.scrollIntoView({ block: "nearest" }); } }, says);
}

const among = (text) => (text ? text.split("|") : []);

function begin() {
  const picture = stage.firstElementChild;
  const board = new Board(stage, () => unpacked(given.bodies));
  if (!board.glass) { stage.replaceChildren(picture); return; } // the still picture stays
  stage.classList.add("turns");
  board.show(given.picture);
  const whole = h("button", { type: "button", class: "plain", onclick: () => { board.alone(null); board.choose([]); board.mark([]); board.note.textContent = ""; } }, "whole piece");
  stage.querySelector(".controls").append(whole);
  stage.addEventListener("tapped", (event) => {
    const found = event.detail;
    board.choose(found ? [found.name] : []);
    board.note.textContent = found ? `${found.letter ? found.letter + "  " : ""}${found.name}` : "";
  });
  for (const row of document.querySelectorAll("[data-parts]")) {
    const names = among(row.dataset.parts), letter = row.querySelector(".letter");
    letter.replaceWith(h("button", { type: "button", class: "letter", "aria-label": `Show ${letter.textContent}, ${names[0]}, in the drawing`, onclick: () => { board.alone(null); board.choose(names); board.note.textContent = names[0]; } }, letter.textContent));
  }
  for (const row of document.querySelectorAll("[data-about]")) {
    const names = among(row.dataset.about);
    row.append(shown("show where", names, () => { board.alone(null); board.mark(names); }) ?? "");
  }
  for (const row of document.querySelectorAll("[data-step]")) {
    const step = given.steps[Number(row.dataset.step)], fresh = new Set(step.new.length ? step.new : step.parts);
    const only = step.shows.length ? { shows: new Set(step.shows), fresh } : { shows: fresh, fresh, ghosts: true };
    row.firstElementChild.append(shown("turn it in the drawing", [...only.shows], () => board.alone(only)) ?? "");
  }
}

begin();
