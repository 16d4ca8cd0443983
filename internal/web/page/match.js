// The match: someone says which picture is more like what they see. Four parts: the
// clinician's list and set-up, the patient's questions, the strength, the result.

import { button, el, say } from "./dom.js";
import { Asking } from "./matchask.js";
import { Result } from "./matchresult.js";
import { SetUp } from "./matchsetup.js";
import { Strength } from "./matchstrength.js";
import { one } from "./matchserver.js";
import { Refused } from "./server.js";
import { has, t } from "./words.js";

/** @typedef {import("./app.js").App} App */
/** @typedef {import("./matchserver.js").Asked} Asked */
/** @typedef {{close: () => void}} Part */

const KEPT = "simview-match"; // of this tab: which session, which part; the answers are on the disk

/** @returns {{part: string, id: string}} */
function kept() {
  try {
    const k = JSON.parse(sessionStorage.getItem(KEPT) ?? "{}");
    if (["list", "ask", "strength", "result"].includes(k.part) && typeof k.id === "string") return k;
  } catch { /* a tab that keeps nothing begins with the list */ }
  return { part: "list", id: "" };
}

export class Match {
  /** @param {App} app @param {HTMLElement} root */
  constructor(app, root) {
    this.app = app;
    this.root = el("div", { class: "match" });
    root.append(this.root);
    /** @type {Part | null} */
    this.part = null;
    this.closed = false;
    const k = kept();
    this.show(k.part, k.id);
  }

  close() {
    this.closed = true;
    this.part?.close();
    this.dress(false);
  }

  update() {}

  /** The patient's parts have no way to the names of causes, and larger letters. @param {boolean} patient */
  dress(patient) {
    const d = document.documentElement.dataset;
    if (patient) d.match = "patient";
    else delete d.match;
    d.side = patient ? "patient" : this.app.state.side;
  }

  /** Set-up and result name causes; they are not for the patient's side. */
  aside() {
    return [el("h1", { tabindex: -1 }, t("screen.match")), el("p", {}, t("match.aside")), button(t("match.clinician"), () => this.app.turnTo({ side: "clinician" }), { class: "big", id: "match-aside" })];
  }

  /** @param {string} part @param {string} [id] @param {string} [note] said above what comes */
  async show(part, id = "", note = "") {
    this.part?.close();
    this.part = null;
    try {
      sessionStorage.setItem(KEPT, JSON.stringify({ part, id }));
    } catch { /* then a reload begins with the list */ }
    this.dress(part === "ask" || part === "strength");
    this.root.replaceChildren();
    try {
      if (part !== "ask" && part !== "strength" && this.app.state.side === "patient") return this.root.append(...this.aside());
      if (part === "result") this.part = new Result(this, id);
      else if (part === "list") this.part = new SetUp(this);
      else {
        const a = await one(id);
        if (this.closed) return;
        this.part = part === "ask" ? new Asking(this, a) : new Strength(this, a);
      }
    } catch (e) {
      if (part === "list") return this.root.append(problem(e));
      await this.show("list");
      this.root.prepend(problem(e));
    }
    if (note) this.root.prepend(el("p", { class: "match-note", role: "status" }, note));
  }
}

/** What went wrong, in the words of the page, and in English more closely. @param {unknown} e */
export function problem(e) {
  const words = e instanceof Refused && has(`refused.${e.key}`) ? t(`refused.${e.key}`) : t("refused.view");
  const close = e instanceof Error && e.message ? el("p", { lang: "en", class: "small" }, e.message) : null;
  say(words);
  return el("div", { class: "match-wrong", role: "alert" }, el("p", {}, words), close);
}

/** The box for words that cannot wait. @param {() => void} [done] */
export function urgentBox(done) {
  const box = el("section", { class: "urgent match-urgent", role: "alertdialog", "aria-labelledby": "match-urgent", tabindex: -1 },
    el("h1", { id: "match-urgent", tabindex: -1 }, t("match.urgent.title")), el("p", {}, t("match.urgent")), el("p", {}, el("strong", {}, t("urgent.title")), ` ${t("urgent")}`));
  box.append(button(t("match.urgent.go"), () => { box.remove(); done?.(); }, { class: "big" }));
  return box;
}
