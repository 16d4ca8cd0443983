// Turning: for every cause of the chosen pane's eye a control in its clinical unit,
// with what was measured and its spread marked.

import { causeName, causeOf, eyeOf, strengthWords, trialName } from "./caption.js";
import { band, digits, strengthOf, typed, valueAt } from "./dial.js";
import { button, choice, el } from "./dom.js";
import { amount, num, t } from "./words.js";

/** @typedef {import("./state.js").State} State */
/** @typedef {import("./state.js").Pane} Pane */
/** @typedef {(change: (p: Pane) => void, final: boolean, quiet?: boolean) => void} Change
 * quiet leaves this panel as it is, for a slider that is being moved */

const STEP = 0.05; // of a strength, by key or pointer; typing knows no steps

/** The panel for the pane with the number. @param {any} facts @param {State} s @param {Change} change */
export function turnPanel(facts, s, change) {
  const p = s.panes[s.active], eye = eyeOf(facts, p.eye);
  const panel = el("section", { class: "turn", "aria-labelledby": "turn-title" }, el("h2", { id: "turn-title" }, t("turn.title", s.active + 1)));
  if (facts.eyes.length > 1) {
    panel.append(choice(t("turn.eye"), "turn-eye", [...facts.eyes.map((/** @type {any} */ e) => e.side), "both"].map((v) => [v, t(`eye.${v}`)]), p.eye, (v) => change((q) => otherEye(facts, q, v), true)));
  }
  if (!eye.causes.length) panel.append(el("p", {}, t("turn.nothing")));
  for (const c of eye.causes) panel.append(dial(facts, s, c, change));
  panel.append(choice(t("turn.glasses"), "turn-glasses", [["own", t("glasses.own")], ["refitted", t("glasses.refitted")]], p.glasses, (v) => change((q) => (q.glasses = v), true)));
  panel.append(choice(t("turn.trial"), "turn-trial", trials(facts, p), p.trial, (v) => change((q) => (q.trial = v), true)));
  return panel;
}

/** What can be tried in the room; a what-if only where the pane has it. @param {any} facts @param {Pane} p @returns {[string, string][]} */
function trials(facts, p) {
  const room = facts.trials.filter((/** @type {any} */ x) => x.in_room).map((/** @type {any} */ x) => [x.id, trialName(facts, x.id)]);
  const own = p.trial && !room.some((/** @type {string[]} */ r) => r[0] === p.trial) ? [[p.trial, trialName(facts, p.trial)]] : [];
  return [["", t("trial.none")], ...room, ...own];
}

/** Causes that the other eye does not have go. @param {any} facts @param {Pane} p @param {string} eye */
function otherEye(facts, p, eye) {
  p.eye = eye;
  p.set = Object.fromEntries(Object.entries(p.set).filter(([id]) => causeOf(facts, eye, id)));
}

/** @param {any} facts @param {State} s @param {any} c @param {Change} change */
function dial(facts, s, c, change) {
  const k = s.panes[s.active].set[c.id] ?? 0, most = facts.max_strength, q = c.quantities[0];
  const set = (/** @type {number} */ v, /** @type {boolean} */ final, quiet = false) => change((p) => put(p, c.id, v), final, quiet);
  const now = el("output", { id: `now-${c.id}`, for: `dial-${c.id}` }, strengthWords(c, k, s.side));
  const slider = /** @type {HTMLInputElement} */ (el("input", {
    type: "range", id: `dial-${c.id}`, min: 0, max: most, step: STEP, value: k,
    "aria-valuetext": strengthWords(c, k, s.side), "aria-describedby": `about-${c.id}`,
  }));
  slider.addEventListener("input", () => {
    const v = Number(slider.value);
    now.textContent = strengthWords(c, v, s.side);
    slider.setAttribute("aria-valuetext", now.textContent);
    const field = /** @type {HTMLInputElement | null} */ (document.getElementById(`value-${c.id}`));
    if (field) field.value = num(valueAt(q, v), digits(q.unit));
    set(v, false, true);
  });
  slider.addEventListener("change", () => set(Number(slider.value), true, true));
  const name = causeName(c.id, s.side);
  return el("div", { class: "dial" },
    el("div", { class: "dial-head" }, el("label", { for: `dial-${c.id}` }, name), now),
    el("div", { class: "track" }, slider, mark(q, most)),
    el("div", { class: "dial-row" },
      button(t("turn.off"), () => set(0, true), { id: `off-${c.id}`, "aria-label": `${name}: ${t("turn.off")}` }),
      button(t("turn.measured"), () => set(1, true), { id: `one-${c.id}`, "aria-label": `${name}: ${t("turn.measured")}` }),
      q && s.side === "clinician" && typing(c, q, k, most, set)),
    el("p", { id: `about-${c.id}`, class: "small" }, about(c, q, s.side)));
}

/** @param {Pane} p @param {string} id @param {number} k */
function put(p, id, k) {
  if (k > 0) p.set[id] = k;
  else delete p.set[id];
}

/** A line where the measured value lies and a band of one standard deviation either way. @param {any} q @param {number} most */
function mark(q, most) {
  const m = el("div", { class: "mark", "aria-hidden": "true" }), around = q && band(q, most);
  m.style.setProperty("--at", String(1 / most));
  if (around) {
    m.style.setProperty("--from", String(around[0] / most));
    m.style.setProperty("--to", String(around[1] / most));
    m.classList.add("spread");
  }
  return m;
}

/** Where the measured value came from and how sure it is. @param {any} c @param {any} q @param {string} side */
function about(c, q, side) {
  if (!q || side === "patient") return t(`from.${c.from}`);
  const value = amount(q.one, q.unit, digits(q.unit));
  const more = c.quantities.slice(1).map((/** @type {any} */ x) => t("turn.with", t(x.key.startsWith("mean_deviation_db") ? "quantity.mean_deviation_db" : `quantity.${x.key}`, x.key.split("_db_")[1] ?? ""), amount(x.one, x.unit, digits(x.unit)))).join("");
  const what = t(q.key.startsWith("mean_deviation_db") ? "quantity.mean_deviation_db" : `quantity.${q.key}`, q.key.split("_db_")[1] ?? num(q.pupil_mm ?? 0, 1));
  const from = t(`from.${q.from}`);
  return (q.sd > 0 ? t("turn.about", what, value, num(q.sd, digits(q.unit)), from) : t("turn.about.unstated", what, value, from)) + more;
}

/** A field for a value in the cause's unit. @param {any} c @param {any} q @param {number} k @param {number} most @param {(v: number, final: boolean) => void} set */
function typing(c, q, k, most, set) {
  const ends = [valueAt(q, 0), valueAt(q, most)].sort((a, b) => a - b);
  const wrong = el("span", { id: `wrong-${c.id}`, class: "wrong", role: "alert" });
  const field = /** @type {HTMLInputElement} */ (el("input", {
    type: "text", inputmode: "decimal", id: `value-${c.id}`, value: num(valueAt(q, k), digits(q.unit)), autocomplete: "off",
    "aria-label": t("turn.type", causeName(c.id, "clinician"), t(`unit.name.${q.unit}`)), "aria-describedby": `wrong-${c.id}`,
  }));
  field.addEventListener("change", () => {
    const v = typed(field.value), strength = strengthOf(q, v), slack = 1e-9;
    if (!(strength >= -slack && strength <= most + slack)) {
      field.setAttribute("aria-invalid", "true");
      wrong.textContent = t("turn.wrong", num(ends[0], digits(q.unit)), amount(ends[1], q.unit, digits(q.unit)), field.value);
      return;
    }
    set(Math.min(most, Math.max(0, strength)), true);
  });
  return el("span", { class: "typed" }, field, el("span", { "aria-hidden": "true" }, t(`unit.${q.unit}`, "").trim()), wrong);
}
