// One plan as the page knows it: its text, the piece, what was found, what is to be done; and the ways to change it.

import { ask, listen, newId, OutOfReach, Refusal, tell } from "./ask.js";
import { Kept } from "./kept.js";

const WORTH_SAYING = 250; // that something is being worked out is said when it has taken so long [ms]
const TO_DRAW = 30; // an answer is left to be drawn before the next is worked out [ms]
const NEXT_CHANGE = 400; // findings are left to be read, or changed once more for [ms]
const MOST_ENTRIES = 2000; // of the form, that are kept and told of
const AFTER = ["checked", "mended", "cut", "broken", "bought", "steps"];

export class Job extends EventTarget {
  constructor(name) {
    super();
    this.name = name;
    this.path = `/api/${encodeURIComponent(name)}`;
    this.me = newId();
    this.near = true;
    this.answers = {};
    this.entries = new Map(); // of the form, by their marks
    this.progress = null;
    this.trouble = "";
    this.pending = null;
    this.units = localStorage.getItem("storystick units") ?? "";
    this.kept = new Kept(name);
    this.kept.addEventListener("change", () => this.#say("change"));
    this.kept.addEventListener("near", () => this.#reach(true));
    this.kept.addEventListener("away", () => this.#reach(false));
    addEventListener("online", () => { if (!this.near) this.#reach(true); });
  }

  #say(what) { this.dispatchEvent(new Event(what)); }

  #asking(more = "") {
    const words = [this.units ? `units=${this.units}` : "", more].filter(Boolean).join("&");
    return words ? `?${words}` : "";
  }

  /** One line on how things stand. */
  says() {
    const kept = this.kept.waiting.length + (this.pending ? 1 : 0);
    if (!this.near) return kept ? `The computer is out of reach; ${kept} kept here` : "The computer is out of reach";
    if (kept) return `${kept} to send`;
    if (this.trouble) return this.trouble;
    if (this.changing) return "Working it out";
    if (this.stopped) return "Stopped";
    return this.progress ? `${this.progress.says} ${Math.round(this.progress.share * 100)} %` : "";
  }

  async open() {
    listen(`${this.path}/news`, (news) => this.#hear(news), (near) => this.#reach(near));
    this.kept.fetch();
    await this.#take(ask(this.path + this.#asking()));
  }

  #reach(near) {
    if (near === this.near) return;
    this.near = near;
    this.#say("state");
    if (!near) return;
    this.kept.fetch();
    const waits = this.pending;
    this.pending = null;
    if (waits) this.edit(waits);
    else this.#after();
  }

  #hear(news) {
    if (news.news === "version" && news.version !== this.version && news.by !== this.me && this.version) {
      this.#take(ask(this.path + this.#asking()));
    } else if (news.news === "measured") this.#take(ask(this.path + this.#asking()));
    else if (news.news === "log") this.kept.fetch();
    else if (news.news === "progress" && news.version === this.version) {
      const says = { checked: "Checking", mended: "Trying mends", cut: "Laying out", bought: "Counting", steps: "Ordering", broken: "Looking at the fits", packet: "Printing", shared: "Drawing", exported: "Writing" }[news.question] ?? "Working";
      this.progress = { ...news, says };
      this.#say("state");
    }
  }

  /** Take in an answer that carries the plan and the piece. */
  async #take(promise) {
    const late = setTimeout(() => { this.changing = true; this.#say("state"); }, WORTH_SAYING);
    try {
      const found = await promise;
      this.trouble = "";
      this.#set(found);
      return true;
    } catch (fault) {
      if (fault instanceof OutOfReach) this.#reach(false);
      else if (fault instanceof Refusal && fault.status === 409 && fault.data.version) {
        this.trouble = "Somebody else changed the plan meanwhile: this is how it stands now.";
        this.clash = fault.data;
        this.changing = false;
        this.#set(await ask(this.path + this.#asking()));
      } else if (fault instanceof Refusal) this.trouble = fault.status === 401 ? "This page needs its link again." : fault.message;
      else throw fault;
      return false;
    } finally {
      clearTimeout(late);
      this.changing = false;
      this.#say("state");
      this.#say("change");
    }
  }

  #set(found) {
    if (!found.built.form) {
      this.trouble = found.built.says ?? "It could not be worked out; try again.";
      Object.assign(this, { version: found.version, text: found.text, undone: found.redo, past: found.undo });
      this.built ??= { sound: false, findings: [], form: [], sizes: [] };
      return;
    }
    if (found.built.form.some((section) => section.entries.some((one) => !one.kind && !this.entries.has(one.mark)))) {
      this.#take(ask(this.path + this.#asking())); // what it speaks of is not here any more
      return;
    }
    const before = this.built, measured = this.log !== undefined && this.log !== found.log;
    const fresh = found.version !== this.version || measured || this.answers.units !== this.units;
    if (measured && found.built.sound) this.#compare(this.logLong);
    Object.assign(this, { version: found.version, log: found.log, logLong: found.log_long, text: found.text, undone: found.redo, past: found.undo });
    this.built = found.built;
    for (const section of found.built.form) section.entries = section.entries.map((one) => this.#whole(one));
    for (const mark of [...this.entries.keys()].slice(0, -MOST_ENTRIES)) this.entries.delete(mark);
    if (!found.built.picture && before?.picture) Object.assign(this.built, { old: true, sizes: before.sizes, counts: before.counts });
    this.#say("piece");
    if (fresh) {
      const { checked, mended, last } = this.answers;
      this.answers = { units: this.units, last: checked?.findings ? { checked, mended } : last };
      this.stopped = false;
      this.#after();
    }
  }

  /** An entry of the form; of one that has not changed only its mark is told. */
  #whole(one) {
    const whole = one.kind ? one : this.entries.get(one.mark);
    this.entries.delete(one.mark);
    this.entries.set(one.mark, whole); // the last ones are those asked for last
    return whole;
  }

  /** What goes with each change: from which version it was made, by whom, and what needn’t be told again. */
  #with(what) {
    const marks = (this.built?.form ?? []).flatMap((section) => section.entries.map((one) => one.mark));
    return { ...what, version: this.version, by: this.me, have: marks.filter((mark) => this.entries.has(mark)).slice(0, MOST_ENTRIES) };
  }

  /** What is not as it was when the log was only so long. */
  async #compare(since) {
    try {
      const found = await ask(`${this.path}/changed${this.#asking(`since=${since}`)}`);
      if (!found.sizes) return;
      this.moved = found;
      this.#say("change");
    } catch (fault) {
      if (!(fault instanceof OutOfReach) && !(fault instanceof Refusal)) throw fault;
    }
  }

  /** Ask for what takes its time, one after the other; whatever is out of date by then is dropped. */
  async #after() {
    if (!this.built || this.stopped) return;
    if (!this.built.sound) { this.#mends(); return; }
    const { version, units, log } = this;
    const isOld = () => version !== this.version || units !== this.units || log !== this.log;
    for (const question of AFTER) {
      if (this.answers[question]) continue;
      try {
        const found = await ask(`${this.path}/answer/${question}${this.#asking()}`);
        if (isOld()) return;
        const answer = found[question];
        if (answer.stopped) { this.stopped = true; break; }
        this.answers[question] = answer;
        this.#say("change");
        await new Promise((on) => setTimeout(on, question === "checked" ? NEXT_CHANGE : TO_DRAW));
        if (isOld()) return;
        if (this.stopped) break;
      } catch (fault) {
        if (!(fault instanceof OutOfReach) && !(fault instanceof Refusal)) throw fault;
        break;
      }
    }
    this.progress = null;
    this.#say("change");
  }

  /** The mistakes were told at once; what mends them is tried first and told after. */
  async #mends() {
    const { version, units } = this;
    try {
      const { mended } = await ask(`${this.path}/answer/mended${this.#asking()}`);
      if (version !== this.version || units !== this.units || !mended.mistakes) return;
      this.built.findings = mended.mistakes;
      this.#say("change");
    } catch (fault) {
      if (!(fault instanceof OutOfReach) && !(fault instanceof Refusal)) throw fault;
    } finally {
      this.progress = null;
    }
  }

  /** What was found when everything was checked; with the mends once they have been tried. */
  get checked() { return foundIn(this.answers); }

  /** The same; while it is looked at anew what was found before, so that nothing comes and goes at each change. */
  get lately() { return foundIn(this.answers) ?? (this.built?.sound ? foundIn(this.answers.last) : undefined); }

  get findings() {
    const found = this.lately;
    const layout = [...(this.answers.cut?.findings ?? []), ...(this.answers.steps?.findings ?? [])];
    return found ? [...found, ...layout] : (this.built?.findings ?? []);
  }

  /** One change: put, add, take or mend; the answer is the piece as it is then. Out of reach the last one waits. */
  async edit(what) {
    const good = await this.#take(tell(`${this.path}/edit${this.#asking()}`, this.#with(what)));
    if (!good && !this.near && what.do !== "undo" && what.do !== "redo") {
      this.pending = what;
      this.#say("change");
    }
    return good;
  }

  write(text) {
    if (text === this.text) return Promise.resolve(true);
    return this.#take(tell(this.path + this.#asking(), this.#with({ text }), "PUT"));
  }

  undo(again = false) { return this.edit({ do: again ? "redo" : "undo" }); }

  async stop() {
    this.stopped = true;
    await tell(`${this.path}/stop`, {});
    this.progress = null;
    this.#say("change");
  }

  goOn() { this.stopped = false; this.#say("state"); return this.#after(); }

  /** The place in which two things meet; nothing where they don’t. */
  async where(one, other) {
    try {
      const found = await ask(`${this.path}/where${this.#asking(`one=${encodeURIComponent(one)}&other=${encodeURIComponent(other)}`)}`);
      return found.body ? found : null;
    } catch { return null; }
  }

  why(of) { return ask(`${this.path}/why${this.#asking(`of=${encodeURIComponent(of)}`)}`); }

  show(units) {
    this.units = units;
    localStorage.setItem("storystick units", units);
    return this.#take(ask(this.path + this.#asking()));
  }
}

const foundIn = (answers) => answers?.mended?.findings ?? answers?.checked?.findings;
