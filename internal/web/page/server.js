// Questions to the program on this computer.

import { setWords } from "./state.js";

/** @typedef {import("./state.js").State} State */
/** @typedef {import("./state.js").Pane} Pane */

/** A question that was refused: key is for the catalogue, the message is one sentence in English. */
export class Refused extends Error {
  /** @param {string} key @param {string} message */
  constructor(key, message) {
    super(message);
    this.key = key;
  }
}

const me = crypto.getRandomValues(new Uint32Array(2)).join("-");

/** Asks; what is refused is thrown. @param {string} path @param {RequestInit} [how] */
export async function ask(path, how) {
  let r;
  try {
    r = await fetch(path, how);
  } catch (e) {
    if (e instanceof DOMException && e.name === "AbortError") throw e;
    throw new Refused("gone", "");
  }
  if (r.ok) return r;
  const body = await r.json().catch(() => ({ key: "view", error: r.statusText }));
  throw new Refused(body.key, body.error);
}

export async function facts() {
  return (await ask("/api/case")).json();
}

/** @param {State} s @param {Pane} p @param {string} slot */
function question(s, p, slot) {
  return new URLSearchParams({
    scene: s.scene, gaze: s.gaze.join(","), pupil: s.pupil, distance: s.distance, part: s.part, side: s.side,
    eye: p.eye, set: setWords(p.set), trial: p.trial, glasses: p.glasses, slot: `${me}.${slot}`,
  });
}

/** What a pane's pictures depend on. @param {State} s @param {Pane} p */
export const identity = (s, p) => question(s, p, "").toString();

/** @param {State} s @param {Pane} p @param {number} index @param {boolean} full @param {AbortSignal} signal
 * @returns {Promise<{bitmap: ImageBitmap, visible: boolean | null}>} */
export async function picture(s, p, index, full, signal) {
  const q = question(s, p, `${index}.${full ? "full" : "preview"}`);
  q.set("size", full ? "full" : "preview");
  const r = await ask(`/api/picture?${q}`, { signal });
  const visible = r.headers.get("Simview-Visible");
  return { bitmap: await createImageBitmap(await r.blob()), visible: visible === null ? null : visible === "true" };
}

/** @param {State} s @param {Pane} p @param {number} index @param {AbortSignal} signal */
export async function numbers(s, p, index, signal) {
  const q = question(s, p, String(index));
  q.delete("part");
  return (await ask(`/api/numbers?${q}`, { signal })).json();
}
