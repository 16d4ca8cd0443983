// Strengths and clinical units turned into each other, as package cause does:
//   value = zero + k (one - zero)                         linear
//   value = log10(10^zero + k (10^one - 10^zero))         log

/** @typedef {{key: string, unit: string, zero: number, one: number, sd: number, log: boolean, from: string, pupil_mm?: number}} Quantity */

/** The value of a quantity at strength k. @param {Quantity} q @param {number} k */
export function valueAt(q, k) {
  if (!q.log) return q.zero + k * (q.one - q.zero);
  const zero = 10 ** q.zero, one = 10 ** q.one;
  return Math.log10(zero + k * (one - zero));
}

/** The strength at which a quantity has a value. @param {Quantity} q @param {number} v */
export function strengthOf(q, v) {
  if (!q.log) return (v - q.zero) / (q.one - q.zero);
  const zero = 10 ** q.zero, one = 10 ** q.one;
  return (10 ** v - zero) / (one - zero);
}

/** The strengths one standard deviation below and above what was measured; null where none is stated.
 * @param {Quantity} q @param {number} most @returns {[number, number] | null} */
export function band(q, most) {
  if (!(q.sd > 0)) return null;
  const a = strengthOf(q, q.one - q.sd), b = strengthOf(q, q.one + q.sd);
  return [Math.max(0, Math.min(a, b)), Math.min(most, Math.max(a, b))];
}

/** Digits after the point that a unit is written with. @param {string} unit */
export function digits(unit) {
  return unit === "um" || unit === "D" || unit === "log" ? 2 : 1;
}

/** A number as typed, with a point or a comma; NaN when it is none. @param {string} text */
export function typed(text) {
  const t = text.trim().replace(",", ".").replace("\u2212", "-");
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(t) ? Number(t) : NaN;
}
