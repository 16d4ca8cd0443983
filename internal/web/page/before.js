// The screen to read before believing any picture: checks, what was measured and what
// assumed, signs that cannot wait, limits.

import { causeName } from "./caption.js";
import { digits } from "./dial.js";
import { el } from "./dom.js";
import { amount, num, t } from "./words.js";

/** @typedef {import("./app.js").App} App */

export class Before {
  /** @param {App} app @param {HTMLElement} root */
  constructor(app, root) {
    const f = app.facts;
    root.append(el("h1", {}, t("screen.before")), el("p", {}, t("notice")), urgent());
    root.append(el("h2", {}, t("checks.title")), el("p", {}, t("checks.why")), el("ul", { class: "checks" }, ...f.checks.map(check)));
    for (const e of f.eyes) {
      root.append(el("h2", {}, t("found.title", t(`eye.${e.side}`))));
      if (e.causes.length) root.append(found(e));
      else root.append(el("p", {}, t("turn.nothing")));
      root.append(el("details", {}, el("summary", {}, t("assumed.title", e.notes.length)), el("ul", { lang: "en" }, ...e.notes.map((/** @type {string} */ n) => el("li", {}, n)))));
    }
    root.append(el("h2", {}, t("limits.title")), el("ul", {}, ...["limits.1", "limits.2", "limits.3", "limits.4", "limits.5"].map((k) => el("li", {}, t(k)))));
  }

  close() {}

  update() {}
}

export function urgent() {
  return el("section", { class: "urgent", "aria-labelledby": "urgent-title" }, el("h2", { id: "urgent-title" }, t("urgent.title")), el("p", {}, t("urgent")), el("p", {}, t("urgent.wait")));
}

/** @param {any} k */
function check(k) {
  const state = el("strong", { class: k.done ? "done" : "not-done" }, t(k.done ? "check.done" : "check.not"));
  return el("li", {}, state, ` ${t(`check.${k.key}`)}`, k.words ? `: ${k.words}` : "");
}

/** @param {any} e */
function found(e) {
  const head = el("tr", {}, ...["found.cause", "found.value", "found.spread", "found.from"].map((k) => el("th", { scope: "col" }, t(k))));
  const rows = e.causes.map((/** @type {any} */ c) => {
    const q = c.quantities[0];
    return el("tr", {}, el("th", { scope: "row" }, causeName(c.id, "clinician")), el("td", {}, q ? amount(q.one, q.unit, digits(q.unit)) : ""), el("td", {}, q?.sd > 0 ? num(q.sd, digits(q.unit)) : t("not.stated")), el("td", {}, t(`from.${c.from}`)));
  });
  return el("div", { class: "wide", tabindex: 0, role: "group", "aria-label": t("found.title", t(`eye.${e.side}`)) }, el("table", {}, el("thead", {}, head), el("tbody", {}, ...rows)));
}
