// How strong: the patient makes one picture weaker or stronger until it is what they
// see, twice from below and twice from above. No number is shown.

import { button, el, say } from "./dom.js";
import { problem } from "./match.js";
import { MatchPicture } from "./matchpicture.js";
import { act, one } from "./matchserver.js";
import { t } from "./words.js";

/** @typedef {import("./matchserver.js").Asked} Asked */
/** @typedef {import("./match.js").Match} Match */

const STEPS = 30; // from one end of the range to the other
const REST_MS = 400;

export class Strength {
  /** @param {Match} match @param {Asked} a */
  constructor(match, a) {
    this.match = match;
    this.busy = false;
    this.rest = 0;
    this.level = 0;
    /** @type {MatchPicture | null} */
    this.picture = null;
    this.place = el("section", { class: "match-ask", "aria-label": t("match.strength") });
    this.place.addEventListener("keydown", (e) => this.key(e));
    match.root.append(this.place);
    this.draw(a);
  }

  close() {
    clearTimeout(this.rest);
    this.picture?.close();
  }

  /** @param {Asked} a @param {unknown} [wrong] */
  draw(a, wrong) {
    this.close();
    this.a = a;
    const s = a.strength, done = !s || s.run > s.runs || a.ended;
    this.place.replaceChildren(...(wrong ? [problem(wrong)] : []), ...(done ? this.thanks() : a.paused ? this.paused() : this.setting(a)));
    /** @type {HTMLElement | null} */ (this.place.querySelector("h1"))?.focus({ preventScroll: true });
    if (!done && !a.paused) this.turn(0);
  }

  /** @param {Asked} a */
  setting(a) {
    const s = /** @type {import("./matchserver.js").Strength} */ (a.strength);
    this.level = s.level;
    this.picture = new MatchPicture(a, "strength", t("match.picture.one"), (e) => this.again(e));
    const big = (/** @type {string} */ key, /** @type {() => void} */ act) => button(t(`match.strength.${key}`), act, { class: "big", id: `strength-${key}` });
    return [
      el("h1", { tabindex: -1 }, t("match.strength.title", s.run, s.runs)), el("p", {}, t("match.strength.how")), ...(a.fixation ? [el("p", {}, t("match.mark"))] : []),
      el("div", { class: "match-single" }, this.picture.root),
      el("div", { class: "match-answers" }, big("weaker", () => this.turn(-1)), big("stronger", () => this.turn(1)), big("set", () => this.set())),
      el("div", { class: "match-more" }, button(t("match.undo"), () => this.do("undo"), { class: "big" }), button(t("match.pause"), () => this.do("pause"), { class: "big" })),
      el("p", { class: "small" }, t("match.strength.keys")),
    ];
  }

  paused() {
    return [el("h1", { tabindex: -1 }, t("match.paused")), el("p", {}, t("match.paused.safe")), el("div", { class: "match-more" }, button(t("match.resume"), () => this.do("resume"), { class: "big" }))];
  }

  thanks() {
    return [el("h1", { tabindex: -1 }, t("match.thanks")), el("p", {}, t("match.thanks.more")), button(t("match.clinician"), () => this.match.show("result", this.a?.id), { class: "big", id: "match-result" })];
  }

  /** @param {number} way */
  turn(way) {
    const s = /** @type {import("./matchserver.js").Strength} */ (this.a?.strength);
    const next = Math.min(s.hi, Math.max(s.lo, this.level + (way * (s.hi - s.lo)) / STEPS));
    if (way && next === this.level) return say(t("match.strength.end"));
    this.level = next;
    clearTimeout(this.rest);
    if (way) say(t(way > 0 ? "match.strength.up" : "match.strength.down"));
    this.show("preview");
    this.rest = setTimeout(() => this.show("full"), REST_MS);
  }

  /** @param {string} size */
  show(size) {
    this.picture?.show(/** @type {Asked} */ (this.a), { level: String(this.level), size });
  }

  set() {
    if (this.picture?.ready) this.do("set", { value: this.level });
  }

  /** @param {string} what @param {object} [more] */
  async do(what, more) {
    if (this.busy) return;
    this.busy = true;
    try {
      this.draw(await act(/** @type {Asked} */ (this.a), what, more));
    } catch (e) {
      await this.again(e);
    }
    this.busy = false;
  }

  /** @param {unknown} e */
  async again(e) {
    try {
      const level = this.level, before = this.a?.strength?.run;
      const a = await one(/** @type {Asked} */ (this.a).id);
      this.draw(a, e);
      if (a.strength?.run === before) this.level = level;
    } catch (worse) {
      this.place.prepend(problem(worse));
    }
  }

  /** @param {KeyboardEvent} e */
  key(e) {
    if (e.ctrlKey || e.metaKey || e.altKey || !this.picture) return;
    if (e.key === "ArrowLeft" || e.key === "ArrowDown") this.turn(-1);
    else if (e.key === "ArrowRight" || e.key === "ArrowUp") this.turn(1);
    else return;
    e.preventDefault();
  }
}
