// Questions of the match to the program on this computer.

import { ask } from "./server.js";

/** What the patient's side knows of a session.
 * @typedef {{run: number, runs: number, level: number, lo: number, hi: number}} Strength
 * @typedef {{id: string, at: number, number: number, total: number, all: boolean, paused: boolean, ended: boolean, fixation: boolean,
 *   width_deg: number, height_deg: number, strength?: Strength, undo: boolean, urgent?: string[]}} Asked */

const MATCH = "/api/match";

/** @param {string} path @param {object} body */
const post = async (path, body) => (await ask(MATCH + path, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) })).json();

export const list = async () => (await ask(MATCH)).json();

/** @param {string} id @returns {Promise<Asked>} */
export const one = async (id) => (await ask(`${MATCH}/one?${new URLSearchParams({ id })}`)).json();

/** @param {object} setUp @returns {Promise<Asked>} */
export const start = (setUp) => post("/start", setUp);

/** @param {Asked} a @param {string} what @param {object} [more] @returns {Promise<Asked>} */
export const act = (a, what, more = {}) => post("/act", { id: a.id, at: a.at, do: what, ...more });

/** @param {string} id */
export const result = async (id) => (await ask(`${MATCH}/result?${new URLSearchParams({ id })}`)).json();

/** @param {string} id @param {AbortSignal} signal */
export const beside = async (id, signal) => (await ask(`${MATCH}/beside?${new URLSearchParams({ id })}`, { signal })).json();

/** @param {string} id @param {string} form */
export const exportPath = (id, form) => `${MATCH}/export?${new URLSearchParams({ id, form })}`;

const me = crypto.getRandomValues(new Uint32Array(1))[0];

/** A picture by its place; its address says nothing of what it shows.
 * @param {Asked} a @param {string} place @param {AbortSignal} signal @param {Record<string, string>} [more] */
export async function picture(a, place, signal, more = {}) {
  const q = new URLSearchParams({ id: a.id, at: String(a.at), place, ...more });
  if (place === "strength") q.set("slot", `match-${me}-${more.size}`);
  return createImageBitmap(await (await ask(`${MATCH}/picture?${q}`, { signal })).blob());
}
