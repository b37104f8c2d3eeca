// The shelf of plans: open a copy of a sample, or a plan that somebody gave as a file, as one file for anybody, or as text.

import { tell } from "./ask.js";

const LARGEST = 1_000_000, LARGEST_FILE = 60_000_000; // letters of a plan; bytes of a file that holds pictures as well
const said = document.getElementById("said"), drop = document.getElementById("drop"), pasted = document.getElementById("pasted");

const say = (text) => { said.textContent = text; said.scrollIntoView({ block: "nearest" }); };

async function copy(data) {
  if (data.text && data.text.length > LARGEST) { say("A plan is a text of less than a megabyte; this is something else."); return; }
  try {
    location.href = (await tell("/copy", data)).go;
  } catch (fault) {
    say(fault.message);
  }
}

/** The plan inside one of our own files for anybody: a text between two signs; nothing of the rest is looked at. */
function within(page) {
  try {
    const [, inside] = page.split('<script type="application/json" id="storystick-plan">');
    const { file, text } = JSON.parse(inside.split("</script>")[0]);
    return typeof text === "string" && typeof file === "string" ? { name: file.slice(0, 80), text } : null;
  } catch {
    return null;
  }
}

async function take(file) {
  if (!file) return;
  if (file.size > LARGEST_FILE) { say("This file is far too large for a plan."); return; }
  const text = await file.text(), name = file.name.slice(0, 80);
  if (!/\.html?$/i.test(name)) {
    if (/\0/.test(text.slice(0, 4000))) { say("There is no plan in this file: a plan is plain text."); return; }
    copy({ name, text });
    return;
  }
  const plan = within(text);
  if (plan) copy(plan);
  else say("There is no plan in this file. One that storystick made for handing on has it inside.");
}

/** What a pasted plan is called: by its title. */
const titled = (text) => /^title:\s*["']?([^"'#\n]*)/m.exec(text)?.[1].trim() || "A plan";

for (const one of document.querySelectorAll("[data-sample]")) one.addEventListener("click", () => copy({ sample: one.dataset.sample }));
document.getElementById("given").addEventListener("change", async (event) => { await take(event.target.files[0]); event.target.value = ""; });
document.getElementById("pasting").addEventListener("submit", (event) => {
  event.preventDefault();
  const text = pasted.value;
  if (!text.trim()) { say("Nothing is pasted yet."); pasted.focus(); return; }
  copy(text.includes('id="storystick-plan"') ? (within(text) ?? { name: "A plan", text }) : { name: titled(text).slice(0, 80), text: text.endsWith("\n") ? text : `${text}\n` });
});
for (const what of ["dragenter", "dragover"]) addEventListener(what, (event) => { event.preventDefault(); drop.classList.add("over"); });
addEventListener("dragleave", (event) => { if (!event.relatedTarget) drop.classList.remove("over"); });
addEventListener("drop", (event) => {
  event.preventDefault();
  drop.classList.remove("over");
  const file = event.dataTransfer.files[0], text = event.dataTransfer.getData("text/plain");
  if (file) take(file);
  else if (text.trim()) copy({ name: titled(text).slice(0, 80), text });
});
