// The setting that all panes share: scene, light, distance, where the eye looks.

import { typed } from "./dial.js";
import { choice, el } from "./dom.js";
import { named, num, t } from "./words.js";

/** @typedef {import("./state.js").State} State */
/** @typedef {(change: (s: State) => void) => void} Change */

/** @param {any} facts @param {State} s @param {Change} change */
export function settingBar(facts, s, change) {
  const scene = facts.scenes.find((/** @type {any} */ x) => x.id === s.scene);
  const bar = el("section", { class: "setting", "aria-label": t("setting") });
  bar.append(choice(t("setting.scene"), "set-scene", facts.scenes.map((/** @type {any} */ x) => [x.id, named(`scene.${x.id}`, x.title)]), s.scene, (v) => change((n) => chooseScene(n, facts, v))));
  if (scene.window) bar.append(choice(t("setting.part"), "set-part", [["whole", t("part.whole")], ["window", t("part.window")]], s.part, (v) => change((n) => Object.assign(n, { part: v, view: { x: 0, y: 0, z: 1 } }))));
  bar.append(light(s, change), distance(s, scene, change), gaze(s, change));
  return bar;
}

/** @param {State} n @param {any} facts @param {string} id */
function chooseScene(n, facts, id) {
  n.scene = id;
  n.view = { x: 0, y: 0, z: 1 };
  if (!facts.scenes.find((/** @type {any} */ x) => x.id === id).window) n.part = "whole";
}

/** A choice that may be a number of one's own. @param {string} key @param {[string, string][]} options @param {string} now
 * @param {string} first the number that an own value starts with @param {string} unit @param {(v: string) => void} act @param {[number, number]} range */
function orNumber(key, options, now, first, unit, act, range) {
  const own = !options.some(([v]) => v === now);
  const box = el("div", { class: "field" }, choice(t(`setting.${key}`), `set-${key}`, [...options, ["own", t("setting.own")]], own ? "own" : now, (v) => act(v === "own" ? first : v)));
  if (own) box.append(numberField(`set-${key}-number`, t("setting.number", t(`setting.${key}`), t(`unit.name.${unit}`)), Number(now), unit, range, (v) => act(String(v))));
  return box;
}

/** @param {string} id @param {string} label @param {number} now @param {string} unit @param {[number, number]} range @param {(v: number) => void} act */
function numberField(id, label, now, unit, range, act) {
  const wrong = el("span", { id: `${id}-wrong`, class: "wrong", role: "alert" });
  const field = /** @type {HTMLInputElement} */ (el("input", { type: "text", inputmode: "decimal", id, value: num(now, Number.isInteger(now) ? 0 : 1), "aria-label": label, "aria-describedby": `${id}-wrong`, autocomplete: "off" }));
  field.addEventListener("change", () => {
    const v = typed(field.value), ok = v >= range[0] && v <= range[1];
    field.toggleAttribute("aria-invalid", !ok);
    if (!ok) field.setAttribute("aria-invalid", "true");
    wrong.textContent = ok ? "" : t("turn.wrong", num(range[0], 1), t(`unit.${unit}`, num(range[1], 0)), field.value);
    if (ok) act(v);
  });
  return el("span", { class: "typed" }, field, el("span", { "aria-hidden": "true" }, t(`unit.${unit}`, "").trim()), wrong);
}

/** @param {State} s @param {Change} change */
function light(s, change) {
  const options = /** @type {[string, string][]} */ (["case", "light", "bright", "dim"].map((v) => [v, t(`pupil.${v}`)]));
  return orNumber("pupil", options, s.pupil, "4", "mm", (v) => change((n) => (n.pupil = v)), [1, 9]);
}

/** @param {State} s @param {any} scene @param {Change} change */
function distance(s, scene, change) {
  const options = /** @type {[string, string][]} */ ([["scene", t("distance.scene", num(scene.distance_m, scene.distance_m < 10 ? 1 : 0))], ["0.4", t("distance.near")], ["0.7", t("distance.arm")], ["far", t("distance.far")]]);
  return orNumber("distance", options, s.distance, "2", "m", (v) => change((n) => (n.distance = v)), [0.1, 100]);
}

/** Two fields: degrees to the right and up. @param {State} s @param {Change} change */
function gaze(s, change) {
  const one = (/** @type {0 | 1} */ i, /** @type {string} */ key) =>
    el("span", { class: "pair" }, el("label", { for: `set-gaze-${i}` }, t(key)), numberField(`set-gaze-${i}`, t(`${key}.long`), s.gaze[i], "deg", [-60, 60], (v) => change((n) => (n.gaze[i] = v))));
  return el("fieldset", { class: "field" }, el("legend", {}, t("setting.gaze")), el("div", { class: "pairs" }, one(0, "gaze.right"), one(1, "gaze.up")));
}
