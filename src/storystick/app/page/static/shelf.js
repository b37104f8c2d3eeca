// The shelf of plans: open a copy of a sample, or a plan that somebody gave.

import { tell } from "./ask.js";

const said = document.getElementById("said");

async function copy(data) {
  try {
    location.href = (await tell("/copy", data)).go;
  } catch (fault) {
    said.textContent = fault.message;
  }
}

for (const one of document.querySelectorAll("[data-sample]")) one.addEventListener("click", () => copy({ sample: one.dataset.sample }));
document.getElementById("given").addEventListener("change", async (event) => {
  const file = event.target.files[0];
  if (!file) return;
  if (file.size > 1_000_000) { said.textContent = "A plan is a text of less than a megabyte; this is something else."; return; }
  copy({ name: file.name.slice(0, 80), text: await file.text() });
});
