// One picture of the sheet: it fetches a preview, then the full picture and the
// numbers; it draws them as the shared view says, or the difference from the first.

import { Refused, identity, numbers, picture } from "./server.js";

/** @typedef {import("./state.js").State} State */
/** @typedef {import("./state.js").Pane} Pane */
/** @typedef {{w: number, h: number, x: number, y: number}} Extent degrees: size, and the middle in the scene */

const REST_MS = 250; // without a change, before the full picture is asked for
const GAIN = 3; // of a difference, so that a third of the display's range fills it

export class PaneView {
  /** @param {number} index @param {HTMLCanvasElement} canvas @param {() => void} changed called when there is something new to show */
  constructor(index, canvas, changed) {
    this.index = index;
    this.canvas = canvas;
    this.changed = changed;
    /** @type {ImageBitmap | null} */
    this.bitmap = null;
    /** @type {boolean | null} */
    this.visible = null;
    /** @type {any} */
    this.numbers = null;
    /** @type {Refused | null} */
    this.refused = null;
    this.full = false;
    this.stale = true; // the picture is that of an earlier wish
    this.wanted = "";
    this.asking = false;
    this.rest = 0;
    /** @type {AbortController | null} */
    this.late = null;
  }

  /** Shows a pane of a state; what is shown already is left alone. @param {State} s @param {Pane} p */
  show(s, p) {
    const id = identity(s, p);
    if (id === this.wanted) return;
    this.wanted = id;
    this.state = structuredClone(s);
    this.pane = structuredClone(p);
    this.full = false;
    this.stale = true;
    this.visible = null;
    this.numbers = null;
    this.late?.abort();
    clearTimeout(this.rest);
    if (!this.asking) this.#preview();
  }

  /** One preview is on its way at a time; the newest wish follows it. */
  async #preview() {
    this.asking = true;
    for (let id = ""; id !== this.wanted; ) {
      id = this.wanted;
      await this.#fetch(false, new AbortController());
    }
    this.asking = false;
    this.rest = setTimeout(() => this.#finish(), REST_MS);
  }

  async #finish() {
    const mine = (this.late = new AbortController());
    if ((await this.#fetch(true, mine)) && this.pane?.eye !== "both") {
      try {
        const n = await numbers(/** @type {State} */ (this.state), /** @type {Pane} */ (this.pane), this.index, mine.signal);
        if (!mine.signal.aborted) this.numbers = n;
      } catch (e) {
        this.#failed(e, mine);
      }
      this.changed();
    }
  }

  /** @param {boolean} full @param {AbortController} mine */
  async #fetch(full, mine) {
    try {
      const id = this.wanted;
      const { bitmap, visible } = await picture(/** @type {State} */ (this.state), /** @type {Pane} */ (this.pane), this.index, full, mine.signal);
      if (mine.signal.aborted) return false;
      this.bitmap?.close();
      this.bitmap = bitmap;
      this.stale = id !== this.wanted;
      this.full = full;
      this.refused = null;
      if (full) this.visible = visible;
    } catch (e) {
      this.#failed(e, mine);
      return false;
    } finally {
      this.changed();
    }
    return true;
  }

  /** @param {unknown} e @param {AbortController} mine */
  #failed(e, mine) {
    if (mine.signal.aborted || (e instanceof Refused && e.key === "superseded")) return;
    this.refused = e instanceof Refused ? e : new Refused("view", String(e));
    this.bitmap?.close(); // a picture of something else must not stand under this caption
    this.bitmap = null;
    this.canvas.width = this.canvas.width;
  }

  close() {
    this.wanted = "closed";
    this.late?.abort();
    clearTimeout(this.rest);
    this.bitmap?.close();
    this.bitmap = null;
    this.canvas.width = this.canvas.height = 1;
  }

  /** Draws this pane, or another's picture in its place, or the difference from another.
   * @param {State} s @param {Extent} extent @param {PaneView} shown @param {PaneView | null} minus */
  draw(s, extent, shown, minus) {
    const c = this.canvas, ctx = c.getContext("2d", { willReadFrequently: minus !== null });
    if (!ctx) return;
    const w = Math.max(1, Math.round(c.clientWidth * devicePixelRatio));
    const h = Math.max(1, Math.round((w * extent.h) / extent.w));
    if (c.width !== w || c.height !== h) Object.assign(c, { width: w, height: h });
    if (!shown.bitmap) return;
    paint(ctx, shown.bitmap, s, extent, w, h);
    if (minus?.bitmap && minus !== shown) subtract(ctx, minus.bitmap, s, extent, w, h);
    if (this.pane?.set.field || s.gaze[0] || s.gaze[1]) cross(ctx, s, extent, w, h);
  }
}

/** @param {CanvasRenderingContext2D} ctx @param {ImageBitmap} b @param {State} s @param {Extent} extent @param {number} w @param {number} h */
function paint(ctx, b, s, extent, w, h) {
  const { x, y, z } = s.view;
  const sw = b.width / z, sh = b.height / z;
  const sx = b.width * (0.5 + x / extent.w) - sw / 2, sy = b.height * (0.5 - y / extent.h) - sh / 2;
  ctx.imageSmoothingEnabled = true;
  ctx.imageSmoothingQuality = "high";
  ctx.drawImage(b, sx, sy, sw, sh, 0, 0, w, h);
}

/** Leaves grey where nothing differs, lighter where this picture is lighter.
 * @param {CanvasRenderingContext2D} ctx @param {ImageBitmap} other @param {State} s @param {Extent} extent @param {number} w @param {number} h */
function subtract(ctx, other, s, extent, w, h) {
  const side = /** @type {OffscreenCanvasRenderingContext2D} */ (new OffscreenCanvas(w, h).getContext("2d"));
  paint(/** @type {any} */ (side), other, s, extent, w, h);
  const a = ctx.getImageData(0, 0, w, h), b = side.getImageData(0, 0, w, h).data;
  for (let i = 0; i < b.length; i += 4) {
    const d = luma(a.data, i) - luma(b, i);
    a.data[i] = a.data[i + 1] = a.data[i + 2] = 128 + GAIN * d;
  }
  ctx.putImageData(a, 0, 0);
}

/** @param {Uint8ClampedArray} p @param {number} i */
const luma = (p, i) => 0.2126 * p[i] + 0.7152 * p[i + 1] + 0.0722 * p[i + 2];

/** A small cross where the eye looks, dark within light so that it shows on any ground.
 * @param {CanvasRenderingContext2D} ctx @param {State} s @param {Extent} extent @param {number} w @param {number} h */
function cross(ctx, s, extent, w, h) {
  const { x, y, z } = s.view, r = 7 * devicePixelRatio;
  const px = w * (0.5 + ((s.gaze[0] - extent.x - x) * z) / extent.w), py = h * (0.5 - ((s.gaze[1] - extent.y - y) * z) / extent.h);
  for (const [colour, width] of /** @type {[string, number][]} */ ([["#fff", 4], ["#14161a", 2]])) {
    ctx.strokeStyle = colour;
    ctx.lineWidth = width * devicePixelRatio;
    ctx.beginPath();
    ctx.moveTo(px - r, py);
    ctx.lineTo(px + r, py);
    ctx.moveTo(px, py - r);
    ctx.lineTo(px, py + r);
    ctx.stroke();
  }
}

/** Keeps the shared view inside the scene. @param {State} s @param {Extent} extent */
export function inside(s, extent) {
  const v = s.view, x = (extent.w / 2) * (1 - 1 / v.z), y = (extent.h / 2) * (1 - 1 / v.z);
  v.x = Math.min(x, Math.max(-x, v.x));
  v.y = Math.min(y, Math.max(-y, v.y));
}
