// What is written on the drawing: letters of parts, and a ring round the place where two things meet.

import { onCanvas } from "./turning.js";

const MOST_LETTERS = 90, FEW = 10;

function middleOf(one, body) {
  const c = body.low.map((v, i) => (v + body.high[i]) / 2);
  return [0, 1, 2].map((i) => one.at[i] * c[0] + one.at[4 + i] * c[1] + one.at[8 + i] * c[2] + one.at[12 + i]);
}

/** Letters of those parts that are chosen, of what is new in a step, and of all when they stand apart. */
function lettered(board, one) {
  if (one.kind !== "part" || !one.letter) return false;
  return board.apart > 0.25 || (board.chosen.size < FEW && board.chosen.has(one.name)) || (board.only?.fresh.size < FEW && board.only.fresh.has(one.name));
}

export function letters(board, seen, wide, high, dense) {
  const pen = board.labels.getContext("2d");
  pen.setTransform(dense, 0, 0, dense, 0, 0);
  pen.clearRect(0, 0, wide, high);
  const spot = (one) => {
    const body = board.glass.bodies.get(one.body);
    return body ? onCanvas(seen, middleOf(one, body), wide, high) : null;
  };
  const wanted = board.drawn.filter((one) => lettered(board, one));
  const meeting = board.drawn.find((one) => one.kind === "meeting"), at = meeting && spot(meeting);
  const few = wanted.length <= MOST_LETTERS;
  board.labels.hidden = !(few && wanted.length) && !at; // some browsers go on showing what was only wiped out
  if (few) for (const one of wanted) {
    const here = spot(one);
    if (here) letter(pen, one.letter, here, board.chosen.has(one.name));
  }
  if (at) ring(pen, at, wide, high);
}

function letter(pen, text, [x, y], chosen) {
  pen.font = "600 15px 'Source Sans', sans-serif";
  pen.textAlign = "center";
  pen.textBaseline = "middle";
  const half = Math.max(11, pen.measureText(text).width / 2 + 6);
  pen.fillStyle = chosen ? "#1f5f8b" : "rgba(251,250,246,.92)";
  pen.strokeStyle = "#1c2b36";
  pen.lineWidth = 1;
  pen.beginPath();
  pen.roundRect(x - half, y - 11, half * 2, 22, 11);
  pen.fill();
  pen.stroke();
  pen.fillStyle = chosen ? "#fff" : "#1c2b36";
  pen.fillText(text, x, y + 0.5);
}

function ring(pen, [x, y], wide, high) {
  const far = Math.max(18, Math.min(wide, high) / 16);
  for (const [colour, thick] of [["rgba(251,250,246,.9)", 6], ["#a3271d", 2.5]]) {
    pen.strokeStyle = colour;
    pen.lineWidth = thick;
    pen.beginPath();
    pen.arc(x, y, far, 0, 2 * Math.PI);
    pen.stroke();
  }
}
