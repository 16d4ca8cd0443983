// The screen on which views are compared.

import { alt, causeName, eyeOf, lines, title, trialName } from "./caption.js";
import { button, el, keepingFocus, say } from "./dom.js";
import { PaneView, inside } from "./pane.js";
import { settingBar } from "./setting.js";
import { MOST_PANES, MOST_ZOOM } from "./state.js";
import { turnPanel } from "./turn.js";
import { has, t } from "./words.js";

/** @typedef {import("./state.js").State} State */
/** @typedef {import("./state.js").Pane} Pane */
/** @typedef {import("./app.js").App} App */

const ALTERNATE_MS = 2000; // for each picture: far slower than what may harm
const WINDOW_KEYS = ["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown"];

export class Compare {
  /** @param {App} app @param {HTMLElement} root */
  constructor(app, root) {
    this.app = app;
    /** @type {{view: PaneView, figure: HTMLElement, picture: HTMLElement, caption: HTMLElement}[]} */
    this.panes = [];
    this.held = false;
    this.minus = false;
    this.other = false; // the alternation shows the first picture now
    this.timer = 0;
    this.setting = el("div");
    this.tools = el("section", { class: "tools", "aria-label": t("tools") });
    this.sheet = el("div", { class: "sheet" });
    this.turn = el("div", { class: "turn-place" });
    root.append(el("h1", { class: "apart" }, t("screen.compare")), this.setting, this.tools,
      el("div", { class: "desk" }, this.sheet, this.turn), el("p", { class: "note" }, t("notice.short")));
    this.resize = new ResizeObserver(() => this.draw());
    this.resize.observe(this.sheet);
    this.make();
    this.update();
  }

  close() {
    this.alternate(false);
    this.resize.disconnect();
    for (const p of this.panes) p.view.close();
  }

  get state() { return this.app.state; }

  get extent() {
    const c = this.app.facts.scenes.find((/** @type {any} */ x) => x.id === this.state.scene);
    return this.state.part === "window" ? { w: c.window.width_deg, h: c.window.height_deg, x: c.window.x_deg, y: c.window.y_deg } : { w: c.width_deg, h: c.height_deg, x: 0, y: 0 };
  }

  /** Makes one figure for each pane. */
  make() {
    for (const p of this.panes) p.view.close();
    this.sheet.replaceChildren();
    this.panes = this.state.panes.map((_, i) => this.figure(i));
    this.sheet.dataset.count = String(this.panes.length);
  }

  /** @param {number} i */
  figure(i) {
    const canvas = /** @type {HTMLCanvasElement} */ (el("canvas", { role: "img", "aria-label": "" }));
    const picture = el("div", { class: "picture", id: `picture-${i}`, tabindex: 0, role: "group", "aria-describedby": "keys" }, canvas, el("p", { class: "flag", hidden: true }));
    const caption = el("figcaption");
    const figure = el("figure", {}, picture, caption);
    const view = new PaneView(i, canvas, () => this.refresh(i));
    this.hands(picture, i);
    this.sheet.append(figure);
    return { view, figure, picture, caption };
  }

  /** Keys, pointer and wheel of one picture. @param {HTMLElement} picture @param {number} i */
  hands(picture, i) {
    picture.addEventListener("focus", () => this.choose(i));
    picture.addEventListener("keydown", (e) => this.key(e, i));
    picture.addEventListener("keyup", (e) => { if (e.key === " ") this.hold(false); });
    picture.addEventListener("blur", () => this.hold(false));
    picture.addEventListener("wheel", (e) => {
      if (!e.ctrlKey && document.activeElement !== picture) return; // else the page scrolls
      e.preventDefault();
      this.zoom(e.deltaY < 0 ? 1.25 : 0.8);
    }, { passive: false });
    /** @type {{x: number, y: number} | null} */
    let from = null;
    picture.addEventListener("pointerdown", (e) => { from = { x: e.clientX, y: e.clientY }; picture.setPointerCapture(e.pointerId); });
    picture.addEventListener("pointerup", () => { if (from && this.moved) this.app.commit(); from = null; this.moved = false; });
    picture.addEventListener("pointermove", (e) => {
      if (!from || this.state.view.z === 1) return;
      const scale = this.extent.w / this.state.view.z / picture.clientWidth;
      this.pan((from.x - e.clientX) * scale, (e.clientY - from.y) * scale);
      from = { x: e.clientX, y: e.clientY };
      this.moved = true;
    });
  }

  moved = false;

  /** @param {KeyboardEvent} e @param {number} i */
  key(e, i) {
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    const far = this.extent.w / this.state.view.z / 10;
    /** @type {Record<string, () => void>} */
    const acts = {
      ArrowLeft: () => this.pan(-far, 0), ArrowRight: () => this.pan(far, 0), ArrowUp: () => this.pan(0, far), ArrowDown: () => this.pan(0, -far),
      "+": () => this.zoom(1.5), "=": () => this.zoom(1.5), "-": () => this.zoom(1 / 1.5), 0: () => this.zoom(0),
      " ": () => this.hold(true), a: () => this.alternate(!this.timer), d: () => this.difference(!this.minus), Escape: () => this.alternate(false),
      Delete: () => this.remove(i),
    };
    const act = acts[e.key] ?? (/^[1-6]$/.test(e.key) ? () => document.getElementById(`picture-${Number(e.key) - 1}`)?.focus() : undefined);
    if (!act || (WINDOW_KEYS.includes(e.key) && this.state.view.z === 1)) return;
    e.preventDefault();
    if (e.repeat && e.key === " ") return;
    act();
    if (WINDOW_KEYS.includes(e.key)) this.app.commit();
  }

  /** @param {number} x @param {number} y degrees */
  pan(x, y) {
    this.state.view.x += x;
    this.state.view.y += y;
    inside(this.state, this.extent);
    this.draw();
  }

  /** Times larger; 0 shows the whole again. @param {number} times */
  zoom(times) {
    const v = this.state.view;
    v.z = times === 0 ? 1 : Math.min(MOST_ZOOM, Math.max(1, v.z * times));
    inside(this.state, this.extent);
    this.draw();
    this.app.commit();
    say(t("zoomed", Math.round(100 * v.z)));
  }

  /** @param {number} i */
  choose(i) {
    if (this.state.active === i) return;
    this.alternate(false);
    this.state.active = i;
    this.app.commit();
    this.update();
  }

  /** While held, the chosen pane shows the first picture. @param {boolean} on */
  hold(on) {
    if (this.held === on) return;
    this.held = on;
    this.draw();
  }

  /** @param {boolean} on */
  alternate(on) {
    clearInterval(this.timer);
    this.timer = on ? setInterval(() => { this.other = !this.other; this.draw(); }, ALTERNATE_MS) : 0;
    this.other = false;
    document.getElementById("alternate")?.setAttribute("aria-pressed", String(on));
    this.draw();
  }

  /** @param {boolean} on */
  difference(on) {
    this.minus = on;
    document.getElementById("difference")?.setAttribute("aria-pressed", String(on));
    this.draw();
  }

  /** @param {Pane[]} more */
  add(more) {
    if (this.state.panes.length + more.length > MOST_PANES) return say(t("panes.full", MOST_PANES, more.length));
    this.app.change((s) => { s.panes.push(...more); s.active = s.panes.length - 1; });
  }

  /** @param {number} i */
  remove(i) {
    if (this.state.panes.length <= 2) return say(t("panes.few"));
    this.app.change((s) => { s.panes.splice(i, 1); s.active = Math.max(0, Math.min(s.active, s.panes.length - 1)); });
    document.getElementById(`picture-${this.state.active}`)?.focus();
  }

  /** Shows the state: figures, controls, pictures. @param {boolean} [quiet] leaves the controls as they are */
  update(quiet = false) {
    if (this.panes.length !== this.state.panes.length) this.make();
    if (!quiet) {
      keepingFocus(() => {
        this.setting.replaceChildren(settingBar(this.app.facts, this.state, (f) => this.app.change(f)));
        this.tools.replaceChildren(...this.toolbar());
        this.turn.replaceChildren(turnPanel(this.app.facts, this.state, (f, final, q) => this.app.change((s) => f(s.panes[s.active]), final, q)));
      });
    }
    this.panes.forEach((p, i) => {
      p.view.show(this.state, this.state.panes[i]);
      this.refresh(i);
    });
  }

  /** @param {number} i */
  refresh(i) {
    const p = this.panes[i], pane = this.state.panes[i], s = this.state, facts = this.app.facts;
    if (!p || !pane) return;
    const name = title(facts, pane, s.side);
    p.picture.setAttribute("aria-label", t("pane.label", i + 1, t(`eye.${pane.eye}`), name));
    p.picture.firstElementChild?.setAttribute("aria-label", alt(facts, s, pane, p.view));
    p.figure.classList.toggle("active", i === s.active);
    p.figure.classList.toggle("coarse", !p.view.full);
    p.figure.classList.toggle("stale", p.view.stale);
    const head = el("h2", {}, el("span", { class: "number" }, String(i + 1)), ` ${t(`eye.${pane.eye}`)}: ${name}`);
    const wrong = p.view.refused;
    const facts_ = s.side === "clinician" ? lines(facts, s, pane, p.view) : p.view.visible === false && Object.keys(pane.set).length ? [t("pane.invisible")] : [];
    p.caption.replaceChildren(head, wrong ? el("p", { class: "wrong", role: "alert" }, refusedWords(wrong)) : "", el("ul", {}, ...facts_.map((l) => el("li", {}, l))), this.more(p.view));
    this.draw();
  }

  /** Focus, notes and what a trial rests on, in the English of the program. @param {PaneView} view */
  more(view) {
    const n = view.numbers;
    if (!n || this.state.side === "patient") return "";
    const list = [n.focus, n.condition, ...(n.notes ?? []), n.trial_rests_on, n.published_results].filter(Boolean);
    const d = el("details", {}, el("summary", {}, t("pane.more")), el("ul", { lang: "en" }, ...list.map((l) => el("li", {}, l))));
    return d;
  }

  draw() {
    this.sheet.classList.toggle("zoomed", this.state.view.z > 1);
    for (const b of this.tools.querySelectorAll(".when-zoomed")) /** @type {HTMLElement} */ (b).hidden = this.state.view.z === 1;
    const first = this.panes[0]?.view, active = this.state.active;
    this.panes.forEach((p, i) => {
      const swapped = i === active && i > 0 && (this.held || this.other);
      p.view.draw(this.state, this.extent, swapped ? first : p.view, this.minus && !swapped && i > 0 ? first : null);
      const flag = /** @type {HTMLElement} */ (p.picture.lastElementChild);
      flag.hidden = !(swapped || (this.minus && i > 0));
      flag.textContent = swapped ? t("flag.first") : t("flag.difference");
    });
  }

  /** What moves a magnified picture without dragging it, and looks at its middle. */
  steps() {
    const step = (/** @type {string} */ id, /** @type {string} */ sign, /** @type {number} */ x, /** @type {number} */ y) =>
      button(sign, () => {
        const far = this.extent.w / this.state.view.z / 5;
        this.pan(x * far, y * far);
        this.app.commit();
      }, { id: `step-${id}`, class: "when-zoomed", "aria-label": t(`tool.${id}`), hidden: this.state.view.z === 1 });
    const look = () => this.app.change((s) => {
      const e = this.extent;
      s.gaze = [Math.round(10 * (e.x + s.view.x)) / 10, Math.round(10 * (e.y + s.view.y)) / 10];
    });
    return [step("left", "\u2190", -1, 0), step("right", "\u2192", 1, 0), step("up", "\u2191", 0, 1), step("down", "\u2193", 0, -1),
      button(t("tool.look"), look, { id: "look", class: "when-zoomed", hidden: this.state.view.z === 1 })];
  }

  toolbar() {
    const s = this.state, facts = this.app.facts;
    const hold = button(t("tool.hold"), () => {}, { id: "hold" });
    for (const [down, up] of [["pointerdown", "pointerup"], ["keydown", "keyup"]]) {
      hold.addEventListener(down, (e) => { if (!(e instanceof KeyboardEvent) || [" ", "Enter"].includes(e.key)) this.hold(true); });
      hold.addEventListener(up, () => this.hold(false));
    }
    for (const end of ["pointerleave", "blur"]) hold.addEventListener(end, () => this.hold(false));
    return [
      addMenu(facts, s, (list) => this.add(list)),
      button(t("tool.remove", s.active + 1), () => this.remove(s.active), { id: "remove" }),
      hold,
      button(t("tool.alternate"), () => this.alternate(!this.timer), { id: "alternate", "aria-pressed": String(this.timer !== 0) }),
      button(t("tool.difference"), () => this.difference(!this.minus), { id: "difference", "aria-pressed": String(this.minus) }),
      button("+", () => this.zoom(1.5), { id: "larger", "aria-label": t("tool.larger") }),
      button("−", () => this.zoom(1 / 1.5), { id: "smaller", "aria-label": t("tool.smaller") }),
      button(t("tool.whole"), () => this.zoom(0), { id: "whole" }),
      ...this.steps(),
      button(t("tool.undo"), () => this.app.undo(), { id: "undo", "aria-keyshortcuts": "Control+Z" }),
      button(t("tool.redo"), () => this.app.redo(), { id: "redo", "aria-keyshortcuts": "Control+Y" }),
      el("details", { class: "keys" }, el("summary", {}, t("keys.title")), el("p", { id: "keys" }, t("keys"))),
    ];
  }
}

/** @param {import("./server.js").Refused} r */
const refusedWords = (r) => (has(`refused.${r.key}`) ? t(`refused.${r.key}`) : t("refused")) + (r.message ? ` (${r.message})` : "");

/** The menu from which a picture is added. @param {any} facts @param {State} s @param {(list: Pane[]) => void} act */
function addMenu(facts, s, act) {
  const eye = s.panes[s.active].eye, causes = eyeOf(facts, eye).causes;
  const all = Object.fromEntries(causes.map((/** @type {any} */ c) => [c.id, 1]));
  /** @type {[string, string, Pane[]][]} */
  const offers = [["reference", t("pane.nothing"), [{ eye, set: {}, trial: "", glasses: "refitted" }]]];
  for (const c of causes) offers.push([c.id, causeName(c.id, s.side), [{ eye, set: { [c.id]: 1 }, trial: "", glasses: "refitted" }]]);
  offers.push(["all", t("pane.all"), [{ eye, set: all, trial: "", glasses: "own" }]]);
  for (const c of causes) offers.push([`but-${c.id}`, t("pane.but", causeName(c.id, s.side)), [{ eye, set: Object.fromEntries(Object.entries(all).filter(([id]) => id !== c.id)), trial: "", glasses: "own" }]]);
  for (const e of facts.eyes) if (e.side !== eye && eye !== "both") offers.push(["fellow", t("pane.fellow", t(`eye.${e.side}`)), [{ eye: e.side, set: Object.fromEntries(e.causes.map((/** @type {any} */ c) => [c.id, 1])), trial: "", glasses: "own" }]]);
  if (facts.eyes.length > 1 && eye !== "both") offers.push(["both", t("eye.both"), [{ eye: "both", set: Object.fromEntries(eyeOf(facts, "both").causes.map((/** @type {any} */ c) => [c.id, 1])), trial: "", glasses: "own" }]]);
  offers.push(["same", t("pane.same", s.active + 1), [structuredClone(s.panes[s.active])]]);
  for (const x of facts.trials) {
    const outcomes = x.in_room ? [""] : [":outcome=middle", ":outcome=better", ":outcome=worse"];
    if (x.in_room || s.side === "clinician") offers.push([`trial-${x.id}`, trialName(facts, x.id), outcomes.map((o) => ({ eye, set: { ...all }, trial: x.id + o, glasses: "own" }))]);
  }
  const m = /** @type {HTMLSelectElement} */ (el("select", { id: "add", "aria-label": t("tool.add") }, el("option", { value: "" }, t("tool.add"))));
  const group = (/** @type {string} */ name, /** @type {typeof offers} */ list) => list.length && m.append(el("optgroup", { label: name }, ...list.map(([v, words]) => el("option", { value: v }, words))));
  const trial = (/** @type {string} */ v) => facts.trials.find((/** @type {any} */ x) => `trial-${x.id}` === v);
  group(t("add.views"), offers.filter(([v]) => !trial(v)));
  group(t("add.room"), offers.filter(([v]) => trial(v)?.in_room));
  group(t("add.whatif"), offers.filter(([v]) => trial(v)?.in_room === false));
  m.addEventListener("change", () => {
    const one = offers.find(([v]) => v === m.value);
    m.value = "";
    if (one) act(structuredClone(one[2]));
  });
  return m;
}
