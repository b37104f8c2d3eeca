// Ticks and readings: kept here first, sent when the computer can be reached, and then forgotten here.

import { ask, newId, OutOfReach, Refusal, tell } from "./ask.js";

export class Kept extends EventTarget {
  constructor(name) {
    super();
    this.path = `/api/${encodeURIComponent(name)}/log`;
    this.place = `storystick log ${name}`;
    this.seen = `storystick seen ${name}`;
    this.entries = this.#stored(this.seen);
    this.waiting = this.#stored(this.place);
    this.refused = [];
    this.known = {};
    addEventListener("online", () => this.send());
    setInterval(() => { if (this.waiting.length) this.send(); }, 5000);
  }

  #stored(place) {
    try { return JSON.parse(localStorage.getItem(place) ?? "[]"); } catch { return []; }
  }

  #store() {
    try {
      localStorage.setItem(this.place, JSON.stringify(this.waiting));
      localStorage.setItem(this.seen, JSON.stringify(this.entries.slice(-2000)));
    } catch { /* no room: they stay in memory */ }
  }

  #changed() {
    this.known = {};
    this.#store();
    this.dispatchEvent(new Event("change"));
  }

  /** Everything by key, in the order of the log; what waits here counts already. */
  latest(what) {
    return (this.known[what] ??= new Map([...this.entries, ...this.waiting].filter((one) => one.what === what).map((one) => [one.key, one])));
  }

  /** Whether a thing is ticked, under its mark; or made already, under whatever mark it was ticked then. */
  isDone(one) { return this.latest("tick").get(one.key)?.done ?? one.made === true; }

  reading(key, unit = "mm") {
    const found = this.latest("reading").get(key);
    return found?.text ?? found?.[unit] ?? "";
  }

  /** Tick a thing, with every number that it cuts as it stands here: what is cut stays so. */
  tick(one, done, says = "") { this.#add({ what: "tick", key: one.key, done, says: says.slice(0, 200), cuts: one.cuts ?? [] }); }

  read(key, text) { this.#add({ what: "reading", key, text }); }

  /** Take one of the remedies of a fit that broke. */
  putRight(fit, remedy) { this.#add({ what: "remedy", key: fit, text: remedy.mark, says: remedy.says.slice(0, 200) }); }

  #add(entry) {
    this.waiting.push({ id: newId(), at: new Date().toISOString(), ...entry });
    this.#changed();
    this.send();
  }

  /** Send what waits. What the computer refuses is dropped and said. */
  async send() {
    if (this.sending || !this.waiting.length) return;
    this.sending = true;
    const batch = this.waiting.slice(0, 500);
    try {
      const answer = await tell(this.path, { entries: batch });
      this.dispatchEvent(new Event("near"));
      const sent = new Set(batch.map((one) => one.id));
      this.waiting = this.waiting.filter((one) => !sent.has(one.id));
      this.entries = answer.entries;
      this.refused = answer.refused;
      this.#changed();
    } catch (fault) {
      if (fault instanceof OutOfReach) this.dispatchEvent(new Event("away"));
      else if (!(fault instanceof Refusal)) throw fault;
    } finally {
      this.sending = false;
    }
    if (this.waiting.length > 0 && batch.length === 500) this.send();
  }

  async fetch() {
    try {
      this.entries = (await ask(this.path)).entries;
      this.#changed();
    } catch (fault) {
      if (!(fault instanceof OutOfReach) && !(fault instanceof Refusal)) throw fault;
    }
    this.send();
  }
}
