// What the page shows, as a value that lives behind the # of the address: it holds
// strengths and choices, never a measurement, and a browser does not send it.

/** @typedef {{eye: string, set: Record<string, number>, trial: string, glasses: string}} Pane */
/** @typedef {{x: number, y: number, z: number}} View centre in degrees, times magnified */
/** @typedef {{screen: string, lang: string, side: string, theme: string, scene: string, pupil: string, distance: string,
 *   gaze: [number, number], part: string, view: View, panes: Pane[], active: number}} State */

export const MOST_PANES = 6;
export const MOST_ZOOM = 16;

/** @returns {State} */
export function blank() {
  return { screen: "compare", lang: "", side: "clinician", theme: "system", scene: "", pupil: "case", distance: "scene", gaze: [0, 0], part: "whole", view: { x: 0, y: 0, z: 1 }, panes: [], active: 0 };
}

/** @param {number} v */
const short = (v) => String(Math.round(v * 1e4) / 1e4);

/** @param {Record<string, number>} set */
export function setWords(set) {
  return Object.keys(set).sort().filter((id) => set[id] > 0).map((id) => `${id}:${short(set[id])}`).join(",");
}

/** The state as the part of an address after the #. @param {State} s */
export function write(s) {
  const q = new URLSearchParams();
  for (const k of /** @type {const} */ (["screen", "lang", "side", "theme", "scene", "pupil", "distance", "part"])) q.set(k, s[k]);
  q.set("gaze", s.gaze.map(short).join(","));
  q.set("view", [s.view.x, s.view.y, s.view.z].map(short).join(","));
  q.set("active", String(s.active));
  for (const p of s.panes) q.append("pane", [p.eye, setWords(p.set), p.trial, p.glasses].join(";"));
  return q.toString();
}

/** @param {string | null} text @param {number} n @returns {number[] | null} */
function numbers(text, n) {
  const list = (text ?? "").split(",").map(Number);
  return text && list.length === n && list.every(Number.isFinite) ? list : null;
}

/** @param {string} text @returns {Pane | null} */
function readPane(text) {
  const [eye, words, trial, glasses, more] = text.split(";");
  if (more !== undefined || !["right", "left", "both"].includes(eye) || !["own", "refitted"].includes(glasses)) return null;
  /** @type {Record<string, number>} */
  const set = {};
  for (const part of words ? words.split(",") : []) {
    const [id, k] = part.split(":");
    if (!/^[a-z]+$/.test(id) || !(Number(k) >= 0 && Number(k) <= 3)) return null;
    set[id] = Number(k);
  }
  return /^[a-z0-9:=._+-]*$/.test(trial) ? { eye, set, trial, glasses } : null;
}

/** @param {string | null} v @param {string[]} known @param {string} otherwise */
const oneOf = (v, known, otherwise) => (v !== null && known.includes(v) ? v : otherwise);

/** Reads an address; what cannot be read is left as in base and named in wrong.
 * @param {string} text @param {State} base @returns {{state: State, wrong: string[]}} */
export function read(text, base) {
  const q = new URLSearchParams(text.replace(/^#/, ""));
  /** @type {string[]} */
  const wrong = [];
  const s = structuredClone(base);
  s.screen = q.get("screen") ?? s.screen;
  s.lang = q.get("lang") ?? s.lang;
  s.side = oneOf(q.get("side"), ["clinician", "patient"], s.side);
  s.theme = oneOf(q.get("theme"), ["system", "light", "dark"], s.theme);
  s.part = oneOf(q.get("part"), ["whole", "window"], s.part);
  for (const k of /** @type {const} */ (["scene", "pupil", "distance"])) s[k] = q.get(k) ?? s[k];
  const gaze = numbers(q.get("gaze"), 2), view = numbers(q.get("view"), 3);
  if (gaze) s.gaze = [gaze[0], gaze[1]];
  else if (q.has("gaze")) wrong.push("gaze");
  if (view && view[2] >= 1 && view[2] <= MOST_ZOOM) s.view = { x: view[0], y: view[1], z: view[2] };
  else if (q.has("view")) wrong.push("view");
  const panes = q.getAll("pane").map(readPane);
  if (panes.includes(null) || panes.length > MOST_PANES) wrong.push("pane");
  else if (panes.length) s.panes = /** @type {Pane[]} */ (panes);
  const active = Number(q.get("active") ?? s.active);
  s.active = Number.isInteger(active) && active >= 0 && active < Math.max(1, s.panes.length) ? active : 0;
  return { state: s, wrong };
}

/** Undo and redo of what is shown; language, side and look are no part of it. */
export class Past {
  constructor() {
    /** @type {string[]} */
    this.back = [];
    /** @type {string[]} */
    this.forth = [];
    this.now = "";
  }

  /** @param {State} s */
  static words(s) {
    return write({ ...s, lang: "", side: "clinician", theme: "system", screen: "compare", active: 0 });
  }

  /** Remembers a state that was reached. @param {State} s */
  add(s) {
    const words = Past.words(s);
    if (words === this.now) return;
    if (this.now) this.back.push(this.now);
    this.back = this.back.slice(-200);
    this.now = words;
    this.forth = [];
  }

  /** @param {State} s @param {string[]} from @param {string[]} to @returns {State | null} */
  #step(s, from, to) {
    const words = from.pop();
    if (words === undefined) return null;
    to.push(this.now);
    this.now = words;
    const old = read(words, blank()).state;
    return { ...old, lang: s.lang, side: s.side, theme: s.theme, screen: s.screen, active: Math.min(s.active, Math.max(0, old.panes.length - 1)) };
  }

  /** @param {State} s */
  undo(s) { return this.#step(s, this.back, this.forth); }

  /** @param {State} s */
  redo(s) { return this.#step(s, this.forth, this.back); }
}
