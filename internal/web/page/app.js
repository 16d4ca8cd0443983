// The page: its state, its head and foot, and the screen in between.

import { causeOf, eyeOf } from "./caption.js";
import { button, choice, el, keepingFocus, say } from "./dom.js";
import { SCREENS } from "./screens.js";
import { Refused, facts } from "./server.js";
import { Past, blank, read, write } from "./state.js";
import { LANGUAGES, has, language, loadWords, speak, t } from "./words.js";

/** @typedef {import("./state.js").State} State */

const $ = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));

export class App {
  /** @param {any} f facts of the case */
  constructor(f) {
    this.facts = f;
    this.past = new Past();
    /** @type {import("./screens.js").Screen | null} */
    this.screen = null;
    this.state = this.first();
    this.open(location.hash);
    addEventListener("hashchange", () => { if (location.hash.slice(1) !== write(this.state)) this.open(location.hash); });
    addEventListener("keydown", (e) => this.key(e));
  }

  /** The state that a case begins with: nothing wrong, then each cause alone. */
  first() {
    const s = blank(), f = this.facts, eye = f.complaint_eye;
    const causes = f.eyes.find((/** @type {any} */ e) => e.side === eye).causes;
    s.scene = causes.map((/** @type {any} */ c) => c.shows_in).find((/** @type {string} */ id) => f.scenes.some((/** @type {any} */ x) => x.id === id)) ?? f.scenes[0].id;
    s.panes = [{ eye, set: {}, trial: "", glasses: "refitted" }];
    for (const c of causes.slice(0, 5)) s.panes.push({ eye, set: { [c.id]: 1 }, trial: "", glasses: "refitted" });
    if (s.panes.length < 2) s.panes.push({ eye, set: {}, trial: "", glasses: "own" });
    s.active = 1;
    return s;
  }

  /** Takes the state from an address; what does not fit this case is left out, and said. @param {string} hash */
  open(hash) {
    const { state, wrong } = read(hash, this.first());
    const f = this.facts, scene = f.scenes.find((/** @type {any} */ x) => x.id === state.scene);
    if (!scene) wrong.push("scene");
    if (!(state.screen in SCREENS)) state.screen = "compare";
    const fits = state.panes.every((p) => (p.eye !== "both" || f.eyes.length > 1) && Object.keys(p.set).every((id) => causeOf(f, p.eye, id)) && eyeOf(f, p.eye));
    if (!fits) wrong.push("pane");
    const first = this.first();
    if (!scene) Object.assign(state, { scene: first.scene, part: "whole" });
    else if (!scene.window) state.part = "whole";
    if (!fits || state.panes.length < 2) Object.assign(state, { panes: first.panes, active: 1 });
    if (state.side === "patient") dropWhatIfs(state, f);
    this.state = state;
    this.dress();
    if (wrong.length) say(t("address.wrong"));
    this.commit();
  }

  /** Head, foot and screen anew, in the language and look of the state. */
  dress() {
    const s = this.state;
    speak(s.lang);
    s.lang = language();
    document.documentElement.dataset.theme = s.theme;
    document.documentElement.dataset.side = s.side;
    document.title = `simview – ${t(`screen.${s.screen}`)}`;
    keepingFocus(() => {
      $("skip").textContent = t("skip");
      $("top").replaceChildren(this.head());
      $("foot").replaceChildren(el("p", { class: "urgent-line" }, el("strong", {}, t("urgent.title")), ` ${t("urgent")}`), el("p", {}, t("notice")));
      this.screen?.close();
      $("main").replaceChildren();
      this.screen = new SCREENS[s.screen](this, $("main"));
    });
  }

  head() {
    const s = this.state;
    const nav = el("nav", { "aria-label": t("screens") }, ...Object.keys(SCREENS).map((k) => button(t(`screen.${k}`), () => this.turnTo({ screen: k }), { id: `to-${k}`, "aria-current": s.screen === k ? "page" : undefined })));
    const side = choice(t("side"), "side", [["clinician", t("side.clinician")], ["patient", t("side.patient")]], s.side, (v) => this.turnTo({ side: v }));
    const theme = choice(t("theme"), "theme", ["system", "light", "dark"].map((k) => [k, t(`theme.${k}`)]), s.theme, (v) => this.turnTo({ theme: v }));
    const lang = choice(t("language"), "language", LANGUAGES.map((k) => [k, t(`language.${k}`)]), s.lang, (v) => this.turnTo({ lang: v }));
    return el("div", { class: "head" }, el("p", { class: "name" }, "simview"), nav, el("div", { class: "looks" }, side, theme, lang));
  }

  /** Changes how the page is shown, which is no part of what can be undone. @param {Partial<State>} look */
  turnTo(look) {
    Object.assign(this.state, look);
    if (this.state.side === "patient") dropWhatIfs(this.state, this.facts);
    this.dress();
    this.commit();
  }

  /** Changes what is shown. Not final: a slider on its way. Quiet: its panel stays.
   * @param {(s: State) => void} change @param {boolean} [final] @param {boolean} [quiet] */
  change(change, final = true, quiet = false) {
    change(this.state);
    if (quiet) this.screen?.update(true);
    else setTimeout(() => this.screen?.update()); // after the focus has moved on
    if (final) this.commit();
  }

  /** Puts the state into the address and remembers it for undo. */
  commit() {
    this.past.add(this.state);
    history.replaceState(null, "", `#${write(this.state)}`);
  }

  /** @param {State | null} s @param {string} done */
  step(s, done) {
    if (!s) return say(t("undo.none"));
    this.state = s;
    history.replaceState(null, "", `#${write(s)}`);
    if (s.screen === "compare") this.screen?.update();
    say(t(done));
  }

  undo() { this.step(this.past.undo(this.state), "undo.done"); }

  redo() { this.step(this.past.redo(this.state), "redo.done"); }

  /** @param {KeyboardEvent} e */
  key(e) {
    if (!(e.ctrlKey || e.metaKey) || e.altKey || (e.target instanceof HTMLInputElement && e.target.type === "text")) return;
    const k = e.key.toLowerCase();
    if (k !== "z" && k !== "y") return;
    e.preventDefault();
    if (k === "y" || e.shiftKey) this.redo();
    else this.undo();
  }
}

/** What-ifs are not shown on the patient's side: their pictures go. @param {State} s @param {any} f */
function dropWhatIfs(s, f) {
  const whatIf = (/** @type {string} */ id) => f.trials.some((/** @type {any} */ x) => !x.in_room && x.id === id);
  s.panes = s.panes.filter((p) => !p.trial.split("+").some((x) => whatIf(x.split(":")[0])));
  while (s.panes.length < 2) s.panes.unshift({ eye: f.complaint_eye, set: {}, trial: "", glasses: "refitted" });
  s.active = Math.min(s.active, s.panes.length - 1);
}

async function begin() {
  await loadWords();
  speak(read(location.hash, blank()).state.lang);
  $("skip").addEventListener("click", () => $("main").focus());
  try {
    const app = new App(await facts());
    document.documentElement.dataset.ready = String(app.state.panes.length);
  } catch (e) {
    const words = e instanceof Refused && has(`refused.${e.key}`) ? t(`refused.${e.key}`) : t("refused");
    $("main").replaceChildren(el("h1", {}, t("refused.title")), el("p", { role: "alert" }, words), el("p", { lang: "en" }, e instanceof Error ? e.message : String(e)));
  }
}

begin();
