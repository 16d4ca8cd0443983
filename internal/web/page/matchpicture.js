// A large picture of a match, with the mark to look at.

import { el } from "./dom.js";
import { picture } from "./matchserver.js";
import { Refused } from "./server.js";
import { t } from "./words.js";

/** @typedef {import("./matchserver.js").Asked} Asked */

export class MatchPicture {
  /** @param {Asked} a @param {string} place @param {string} label @param {(e: unknown) => void} failed */
  constructor(a, place, label, failed) {
    this.place = place;
    this.failed = failed;
    this.canvas = /** @type {HTMLCanvasElement} */ (el("canvas", { role: "img", "aria-label": label, width: 640, height: Math.max(1, Math.round(640 * a.height_deg / a.width_deg)) }));
    this.wait = el("p", { class: "match-wait" }, t("match.picture.wait"));
    this.root = el("div", { class: "match-picture" }, this.canvas, this.wait, a.fixation && el("div", { class: "match-mark", "aria-hidden": "true" }));
    this.late = new AbortController();
    this.ready = false;
  }

  /** Fetches the picture; a newer wish ends an older one. @param {Asked} a @param {Record<string, string>} [more] */
  async show(a, more) {
    this.late.abort();
    const mine = (this.late = new AbortController());
    try {
      const b = await picture(a, this.place, mine.signal, more);
      if (mine.signal.aborted) return;
      Object.assign(this.canvas, { width: b.width, height: b.height });
      this.canvas.getContext("2d")?.drawImage(b, 0, 0);
      b.close();
      this.ready = true;
      this.wait.hidden = true;
    } catch (e) {
      if (!mine.signal.aborted && !(e instanceof Refused && e.key === "superseded")) this.failed(e);
    }
  }

  close() { this.late.abort(); }
}
