// The patient's questions: two large pictures, one answer. No picture has a name, and
// nothing says why a pair is asked.

import { button, el, say } from "./dom.js";
import { problem, urgentBox } from "./match.js";
import { MatchPicture } from "./matchpicture.js";
import { act, one } from "./matchserver.js";
import { Refused } from "./server.js";
import { t } from "./words.js";

/** @typedef {import("./matchserver.js").Asked} Asked */
/** @typedef {import("./match.js").Match} Match */

const ANSWERS = [["left", "ArrowLeft"], ["right", "ArrowRight"], ["neither", "3"], ["no difference", "4"], ["nothing wrong", "5"]];
const MOST_WORDS = 2000;

export class Asking {
  /** @param {Match} match @param {Asked} a */
  constructor(match, a) {
    this.match = match;
    this.busy = false;
    /** @type {MatchPicture[]} */
    this.pictures = [];
    this.place = el("section", { class: "match-ask", "aria-label": t("match.ask") });
    this.place.addEventListener("keydown", (e) => this.key(e));
    match.root.append(this.place);
    this.draw(a);
  }

  close() {
    for (const p of this.pictures) p.close();
  }

  /** @param {Asked} a @param {unknown} [wrong] @param {string} [words] that were not saved */
  draw(a, wrong, words = "") {
    this.close();
    this.a = a;
    this.pictures = [];
    const inside = a.ended || a.all ? this.thanks() : a.paused ? this.paused() : this.question(words);
    this.place.replaceChildren(...(wrong ? [problem(wrong)] : []), ...inside);
    /** @type {HTMLElement | null} */ (this.place.querySelector("h1"))?.focus({ preventScroll: true });
    if (!wrong) scrollTo(0, 0);
    for (const p of this.pictures) p.show(a);
  }

  /** @param {string} words */
  question(words) {
    const a = /** @type {Asked} */ (this.a);
    const failed = (/** @type {unknown} */ e) => this.again(e);
    this.pictures = ["left", "right"].map((side) => new MatchPicture(a, side, t(`match.picture.${side}`), failed));
    const big = (/** @type {string} */ k) => button(t(`match.answer.${k}`), () => this.answer(k), { class: "big", id: `answer-${k.replace(" ", "-")}`, "aria-keyshortcuts": ANSWERS.find(([x]) => x === k)?.[1] });
    const bar = /** @type {HTMLProgressElement} */ (el("progress", { max: a.total, value: a.number - 1, "aria-label": t("match.progress", a.number - 1, a.total) }));
    const mark = a.fixation ? [el("p", {}, t("match.mark"))] : [];
    return [
      el("h1", { tabindex: -1 }, t("match.question", a.number, a.total)), bar, el("p", {}, t("match.which")), ...mark,
      el("div", { class: "match-pair" }, ...this.pictures.map((p, i) => el("div", {}, el("p", { "aria-hidden": "true" }, el("strong", {}, t(`match.picture.${p.place}`))), p.root, big(ANSWERS[i][0])))),
      el("div", { class: "match-answers" }, ...ANSWERS.slice(2).map(([k]) => big(k))),
      this.words(words),
      el("div", { class: "match-more" }, button(t("match.undo"), () => this.do("undo"), { class: "big", id: "match-undo", disabled: a.number < 2 }), button(t("match.pause"), () => this.do("pause"), { class: "big", id: "match-pause" })),
      el("p", { class: "small" }, t("match.keys")),
    ];
  }

  /** Something else, in the patient's own words. @param {string} before */
  words(before) {
    const field = /** @type {HTMLTextAreaElement} */ (el("textarea", { id: "match-words", rows: 2, maxlength: MOST_WORDS, "aria-describedby": "match-words-wrong" }));
    field.value = before;
    const wrong = el("p", { id: "match-words-wrong", class: "wrong", role: "alert" });
    const send = () => {
      if (field.value.trim()) return this.answer("something else");
      wrong.textContent = t("match.words.none");
      field.focus();
    };
    return el("details", { class: "match-else", open: before !== "" }, el("summary", { class: "big" }, t("match.answer.something else")),
      el("label", { for: "match-words" }, t("match.words")), field, wrong, button(t("match.words.send"), send, { class: "big", id: "match-words-send" }));
  }

  said() {
    return /** @type {HTMLTextAreaElement | null} */ (document.getElementById("match-words"))?.value.trim() ?? "";
  }

  paused() {
    return [el("h1", { tabindex: -1 }, t("match.paused")), el("p", {}, t("match.paused.safe")), el("div", { class: "match-more" },
      button(t("match.resume"), () => this.do("resume"), { class: "big", id: "match-resume" }), button(t("match.stop"), () => this.match.show("result", this.a?.id), { class: "big" }))];
  }

  thanks() {
    const back = /** @type {Asked} */ (this.a).ended ? null : button(t("match.undo"), () => this.do("undo"), { class: "big", id: "match-undo" });
    return [el("h1", { tabindex: -1 }, t("match.thanks")), el("p", {}, t("match.thanks.more")), el("div", { class: "match-more" },
      button(t("match.clinician"), () => this.match.show("result", this.a?.id), { class: "big", id: "match-result" }), back)];
  }

  /** @param {string} answer */
  answer(answer) {
    if (!this.pictures.every((p) => p.ready)) return say(t("match.picture.wait")); // an answer to what is not seen yet
    return this.do("answer", { number: this.a?.number, answer, words: this.said() });
  }

  /** Does one act; what was refused counts for nothing, and the words stay. @param {string} what @param {object} [more] */
  async do(what, more) {
    if (this.busy) return;
    this.busy = true;
    const words = this.said();
    try {
      const a = await act(/** @type {Asked} */ (this.a), what, more);
      this.busy = false;
      this.draw(a);
      if (a.urgent?.length) this.urgent();
    } catch (e) {
      this.busy = false;
      await this.again(e, words);
    }
  }

  /** Shows the box that cannot wait, and nothing else until it was read. */
  urgent() {
    const hidden = [...this.place.children];
    for (const c of hidden) c.setAttribute("hidden", "");
    const box = urgentBox(() => {
      for (const c of hidden) c.removeAttribute("hidden");
      /** @type {HTMLElement | null} */ (this.place.querySelector("h1"))?.focus();
    });
    this.place.prepend(box);
    box.focus();
  }

  /** Asks where the session stands now, as after another window or a full disk. @param {unknown} e @param {string} [words] */
  async again(e, words = "") {
    try {
      const same = this.a;
      const a = await one(/** @type {Asked} */ (same).id);
      this.draw(a, e, e instanceof Refused && e.key === "match.moved" && a.number !== same?.number ? "" : words);
    } catch (worse) {
      this.place.querySelector(".match-wrong")?.remove();
      this.place.prepend(problem(worse));
    }
  }

  /** @param {KeyboardEvent} e */
  key(e) {
    if ((e.ctrlKey || e.metaKey) && e.key.toLowerCase() === "z" && !(e.target instanceof HTMLTextAreaElement)) {
      e.preventDefault();
      e.stopPropagation();
      if (this.a?.undo) this.do("undo");
      return;
    }
    if (e.ctrlKey || e.metaKey || e.altKey || e.repeat || e.target instanceof HTMLTextAreaElement || !this.pictures.length) return;
    const k = { 1: "ArrowLeft", 2: "ArrowRight" }[e.key] ?? e.key;
    const found = ANSWERS.find(([, key]) => key === k);
    if (!found || this.place.querySelector(".match-urgent")) return;
    e.preventDefault();
    this.answer(found[0]);
  }
}
