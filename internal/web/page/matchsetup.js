// Before a match, on the clinician's side: sessions that can go on, and the set-up of
// a new one, step by step.

import { causeName, causeOf, eyeOf } from "./caption.js";
import { typed } from "./dial.js";
import { button, choice, el, say } from "./dom.js";
import { problem, urgentBox } from "./match.js";
import { list, start } from "./matchserver.js";
import { named, num, t } from "./words.js";

/** @typedef {import("./match.js").Match} Match */

const CM_PER_PX = 2.54 / 96; // as the browser counts; a ruler knows better
const MOST_VIEWS = 8;

/** The name of a view on the clinician's side. @param {string} id */
export const viewName = (id) => (id === "all" ? t("pane.all") : id === "nothing" ? t("pane.nothing") : causeName(id, "clinician"));

export class SetUp {
  /** @param {Match} match */
  constructor(match) {
    this.match = match;
    const f = match.app.facts, s = match.app.state;
    const scene = f.scenes.find((/** @type {any} */ x) => x.id === s.scene);
    this.closed = false;
    this.busy = false;
    this.offers = /** @type {Record<string, string[]>} */ ({});
    this.values = { eye: f.complaint_eye, through: "glasses", object: "", saw: "", covered: false, corrected: false, screen: 0.6, cm: 0, scene: s.scene, part: scene?.window ? "window" : "whole", answers: 40 };
    this.values.cm = Math.round(Math.min(60, Math.max(4, (match.root.clientWidth - 20) / 2 * CM_PER_PX)));
    /** @type {string[]} */
    this.views = [];
    match.root.append(el("p", {}, t("match.loading")));
    this.load();
  }

  close() { this.closed = true; }

  async load() {
    try {
      const l = await list();
      if (this.closed) return;
      this.offers = l.offers;
      this.first();
      this.match.root.replaceChildren(...[...this.match.root.querySelectorAll(".match-wrong")], ...this.page(l));
    } catch (e) {
      if (!this.closed) this.match.root.append(problem(e));
    }
  }

  /** The views that are ticked at first: each cause alone, as far as they fit. */
  first() {
    const all = this.offers[this.values.eye] ?? [];
    const alone = all.filter((id) => id !== "all" && id !== "nothing").slice(0, MOST_VIEWS);
    this.views = alone.length > 1 ? alone : all;
  }

  /** @param {any} l */
  page(l) {
    const sessions = l.sessions.length ? [el("h2", {}, t("match.sessions")), el("ul", { class: "match-list" }, ...l.sessions.map((/** @type {any} */ x) => this.session(x)))] : [];
    const saving = l.problem ? el("div", { class: "match-wrong", role: "alert" }, el("p", {}, t("refused.match.disk")), el("p", { lang: "en" }, l.problem)) : el("p", { class: "small" }, t("match.folder", l.folder));
    return [el("h1", {}, t("screen.match")), el("p", {}, t("match.what")), el("p", {}, el("strong", {}, t("match.conversation"))), ...sessions, el("h2", {}, t("match.new")), this.form(), saving];
  }

  /** @param {any} x */
  session(x) {
    const when = new Intl.DateTimeFormat(document.documentElement.lang, { dateStyle: "medium", timeStyle: "short" }).format(new Date(x.opened));
    const words = x.eye ? t("match.session", when, t(`eye.${x.eye}`), named(`scene.${x.scene}`, x.scene), x.answered, x.total) : x.id;
    return el("li", {}, el("span", {}, words, x.why ? el("span", { lang: "en", class: "small" }, ` ${x.why}`) : null), el("span", { class: "match-more" },
      x.resume && x.answered < x.total && button(t("match.go.on"), () => this.match.show("ask", x.id), { "aria-label": `${t("match.go.on")}: ${words}` }),
      x.answered > 0 && button(t("match.see.result"), () => this.match.show("result", x.id), { "aria-label": `${t("match.see.result")}: ${words}` })));
  }

  form() {
    this.body = el("div", { class: "match-form" });
    this.draw();
    return this.body;
  }

  /** @param {string} key @param {string} label @param {string} id */
  text(key, label, id, area = false) {
    const v = /** @type {any} */ (this.values);
    const field = /** @type {HTMLInputElement} */ (el(area ? "textarea" : "input", { id, type: area ? undefined : "text", autocomplete: "off", maxlength: area ? 2000 : 200, rows: area ? 2 : undefined }));
    field.value = v[key];
    field.addEventListener("input", () => (v[key] = field.value));
    return el("div", { class: "field" }, el("label", { for: id }, label), field);
  }

  /** @param {string} key @param {string} label @param {string} id @param {number} places */
  number(key, label, id, places) {
    const v = /** @type {any} */ (this.values);
    const field = /** @type {HTMLInputElement} */ (el("input", { id, type: "text", inputmode: "decimal", autocomplete: "off", value: num(v[key], places) }));
    field.addEventListener("change", () => {
      v[key] = typed(field.value);
      field.toggleAttribute("aria-invalid", !Number.isFinite(v[key]));
    });
    return el("div", { class: "field" }, el("label", { for: id }, label), field);
  }

  /** @param {string} key @param {string} label @param {string} id */
  tick(key, label, id) {
    const v = /** @type {any} */ (this.values);
    const box = /** @type {HTMLInputElement} */ (el("input", { type: "checkbox", id, checked: v[key] }));
    box.addEventListener("change", () => (v[key] = box.checked));
    return el("label", { class: "match-tick", for: id }, box, el("span", {}, label));
  }

  draw() {
    const f = this.match.app.facts, v = this.values, fellow = t(`eye.${v.eye === "right" ? "left" : "right"}`);
    const step = (/** @type {string} */ title, /** @type {(Node | string | null | false)[]} */ ...inside) => el("fieldset", { class: "match-step" }, el("legend", {}, title), ...inside);
    const scene = f.scenes.find((/** @type {any} */ x) => x.id === v.scene);
    const eyes = f.eyes.map((/** @type {any} */ e) => [e.side, t(`eye.${e.side}`)]);
    const parts = /** @type {[string, string][]} */ (scene.window ? [["window", t("part.window")], ["whole", t("part.whole")]] : [["whole", t("part.whole")]]);
    this.wrong = el("div");
    /** @type {HTMLElement} */ (this.body).replaceChildren(
      step(t("match.step.eye"), choice(t("match.eye"), "match-eye", eyes, v.eye, (x) => { v.eye = x; this.first(); this.again("match-eye"); }),
        choice(t("match.through"), "match-through", /** @type {[string, string][]} */ (["glasses", "nothing", "contact-lens", "other"].map((k) => [k, t(`match.through.${k}`)])), v.through, (x) => (v.through = x))),
      step(t("match.step.object"), el("p", {}, t("match.object.how", fellow)), this.text("object", t("match.object"), "match-object"), this.text("saw", t("match.saw"), "match-saw", true)),
      step(t("match.step.swap"), el("p", {}, t("match.swap.how", fellow)), this.tick("covered", t("match.covered", t(`eye.${v.eye}`)), "match-covered"), this.tick("corrected", t("match.corrected", fellow), "match-corrected"),
        this.number("screen", t("match.screen"), "match-screen", 2), this.number("cm", t("match.cm"), "match-cm", 0)),
      step(t("match.step.views"), choice(t("setting.scene"), "match-scene", f.scenes.map((/** @type {any} */ x) => [x.id, named(`scene.${x.id}`, x.title)]), v.scene, (x) => { v.scene = x; v.part = f.scenes.find((/** @type {any} */ y) => y.id === x).window ? "window" : "whole"; this.again("match-scene"); }),
        choice(t("setting.part"), "match-part", parts, v.part, (x) => (v.part = x)), ...this.offers[v.eye].map((id) => this.view(id)),
        this.number("answers", t("match.answers"), "match-answers", 0)),
      this.wrong, button(t("match.start"), () => this.start(), { class: "big", id: "match-start" }));
  }

  /** @param {string} id */
  again(id) {
    this.draw();
    document.getElementById(id)?.focus();
  }

  /** @param {string} id */
  view(id) {
    const c = causeOf(this.match.app.facts, this.values.eye, id);
    const box = /** @type {HTMLInputElement} */ (el("input", { type: "checkbox", id: `match-view-${id}`, checked: this.views.includes(id) }));
    box.addEventListener("change", () => (this.views = box.checked ? [...this.views, id] : this.views.filter((x) => x !== id)));
    return el("label", { class: "match-tick", for: `match-view-${id}` }, box, el("span", {}, viewName(id), c ? el("span", { class: "small", lang: "en" }, ` – ${c.amount}`) : null));
  }

  async start() {
    if (this.busy) return;
    this.busy = true;
    const v = this.values, place = /** @type {HTMLElement} */ (this.wrong);
    place.replaceChildren(el("p", { role: "status" }, t("match.preparing")));
    say(t("match.preparing"));
    const order = (eyeOf(this.match.app.facts, v.eye)?.causes ?? []).map((/** @type {any} */ c) => c.id);
    const views = [...this.views].sort((a, b) => (order.indexOf(a) + 99) % 99 - (order.indexOf(b) + 99) % 99);
    try {
      const a = await start({ complaint_eye: v.eye, through: v.through, object: v.object, saw: v.saw, complaint_covered: v.covered, fellow_corrected: v.corrected, screen_m: number(v.screen), picture_cm: number(v.cm), scene: v.scene, part: v.part, views, answers: Math.round(number(v.answers)) });
      if (this.closed) return;
      if (a.urgent?.length) return this.urgent(a.id);
      await this.match.show("ask", a.id);
    } catch (e) {
      place.replaceChildren(problem(e));
      place.scrollIntoView({ block: "nearest" });
    } finally {
      this.busy = false;
    }
  }

  /** @param {string} id */
  urgent(id) {
    const box = urgentBox(() => this.match.show("ask", id));
    this.match.root.replaceChildren(box);
    box.focus();
  }
}

/** What is no number is sent as one that is refused. @param {number} v */
const number = (v) => (Number.isFinite(v) ? v : 0);
