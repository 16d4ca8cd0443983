// What stands under a picture, made from ids and numbers in the language of the page.

import { digits, valueAt } from "./dial.js";
import { amount, has, named, num, t } from "./words.js";

/** @typedef {import("./state.js").Pane} Pane */
/** @typedef {import("./state.js").State} State */
/** @typedef {import("./pane.js").PaneView} PaneView */

/** What is known of an eye; with both open it is that of the complaint which is turned.
 * @param {any} facts @param {string} side */
export const eyeOf = (facts, side) => facts.eyes.find((/** @type {any} */ e) => e.side === (side === "both" ? facts.complaint_eye : side));

/** @param {any} facts @param {string} eye @param {string} id */
export const causeOf = (facts, eye, id) => eyeOf(facts, eye)?.causes.find((/** @type {any} */ c) => c.id === id);

/** The name of a cause; in plain words on the patient's side. @param {string} id @param {string} side */
export function causeName(id, side) {
  return t(side === "patient" && has(`cause.${id}.plain`) ? `cause.${id}.plain` : `cause.${id}`);
}

/** A strength in the cause's unit; in plain words on the patient's side.
 * @param {any} cause @param {number} k @param {string} side */
export function strengthWords(cause, k, side) {
  const q = cause.quantities[0];
  const value = q ? amount(valueAt(q, k), q.unit, digits(q.unit)) : "";
  if (k === 0) return t("strength.none");
  if (side === "patient") return k === 1 ? t("strength.measured") : t("strength.times", num(k, 2));
  return k === 1 ? t("strength.value.measured", value) : t("strength.value.times", value, num(k, 2));
}

/** The trial of a pane, with the outcome of a what-if. @param {any} facts @param {string} text */
export function trialName(facts, text) {
  const [id, ...keys] = text.split(":");
  const known = facts.trials.find((/** @type {any} */ x) => x.id === id);
  const name = known ? named(`trial.${id}`, known.label) : text;
  const outcome = keys.find((k) => k.startsWith("outcome="))?.slice("outcome=".length);
  if (outcome && has(`outcome.${outcome}`)) return `${name}: ${t(`outcome.${outcome}`)}`;
  return keys.length ? `${name} (${keys.join(", ")})` : name;
}

/** What a pane shows, in one line. @param {any} facts @param {Pane} p @param {string} side */
export function title(facts, p, side) {
  const all = eyeOf(facts, p.eye)?.causes ?? [];
  const on = all.filter((/** @type {any} */ c) => p.set[c.id] > 0);
  const whole = on.length === all.length && on.every((/** @type {any} */ c) => p.set[c.id] === 1);
  let what = "";
  if (on.length === 0) what = t("pane.nothing");
  else if (whole && on.length > 1) what = t("pane.all");
  else if (on.length === all.length - 1 && on.length > 1 && on.every((/** @type {any} */ c) => p.set[c.id] === 1)) {
    what = t("pane.but", causeName(all.find((/** @type {any} */ c) => !on.includes(c)).id, side));
  } else what = on.map((/** @type {any} */ c) => t("pane.cause", causeName(c.id, side), strengthWords(c, p.set[c.id], side))).join("; ");
  if (p.eye === "both") what = t("pane.both", t(`eye.${facts.complaint_eye}`), what);
  return p.trial ? `${what} — ${trialName(facts, p.trial)}` : what;
}

/** The words for who cannot see the picture. @param {any} facts @param {State} s @param {Pane} p @param {PaneView} v */
export function alt(facts, s, p, v) {
  const scene = facts.scenes.find((/** @type {any} */ x) => x.id === s.scene);
  const where = t(s.part === "window" ? "alt.window" : "alt.whole", named(`scene.${s.scene}`, scene?.title ?? s.scene));
  const same = v.visible === false && Object.keys(p.set).length ? ` ${t("pane.invisible")}` : "";
  return t("alt", where, t(`eye.${p.eye}`), title(facts, p, s.side)) + same;
}

/** The lines of numbers under a pane. @param {any} facts @param {State} s @param {Pane} p @param {PaneView} v @returns {string[]} */
export function lines(facts, s, p, v) {
  const out = [];
  if (v.visible === false && (Object.keys(p.set).length || p.trial)) out.push(t("pane.invisible"));
  if (v.full && p.eye === "both") return [...out, t("pane.both.numbers")];
  const n = v.numbers;
  if (!v.full && !v.refused) out.push(t("pane.coarse"));
  if (!n) return v.refused || !v.full ? out : [...out, t("pane.working")];
  out.push(t(n.acuity_beyond ? "number.acuity.beyond" : "number.acuity", num(n.acuity_logmar, 2), num(n.acuity_from_logmar, 1), num(n.acuity_to_logmar, 1)));
  const measured = eyeOf(facts, p.eye);
  if (measured?.logmar !== null && title(facts, { ...p, trial: "" }, s.side) === t("pane.all") && !p.trial && p.glasses === "own") {
    out.push(t("number.acuity.measured", num(measured.logmar, 2), measured.logmar_sd ? num(measured.logmar_sd, 2) : t("not.stated")));
  }
  out.push(n.half_light_arcmin === undefined ? t("number.half.wide") : t("number.half", num(n.half_light_arcmin, 1)));
  out.push(t("number.visual", num(n.visual_strehl, 2)));
  out.push(t("number.pupil", num(n.pupil_mm, 1), num(100 * n.scattered_share, 0)));
  if (n.fixation_loss_db > 0.05) out.push(t("number.fixation", num(n.fixation_loss_db, 1)));
  if (n.share_of_worse !== undefined) out.push(t("number.worse", num(100 * n.share_of_worse, 0), n.draws));
  return out;
}
