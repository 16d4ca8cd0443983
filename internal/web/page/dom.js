// Elements, made in one line each.

/** @typedef {Record<string, string | boolean | number | EventListener | undefined>} Attributes */

/** Makes an element: attributes; on... are listeners; true sets, false leaves out.
 * @param {string} tag @param {Attributes} [attributes] @param {...(Node | string | null | false)} inside
 * @returns {HTMLElement} */
export function el(tag, attributes = {}, ...inside) {
  const e = document.createElement(tag);
  for (const [k, v] of Object.entries(attributes)) {
    if (typeof v === "function") e.addEventListener(k.slice(2), v);
    else if (v === true) e.setAttribute(k, "");
    else if (v !== false && v !== undefined) e.setAttribute(k, String(v));
  }
  for (const n of inside) if (n !== null && n !== false) e.append(n);
  return e;
}

/** @param {string} text @param {EventListener} act @param {Attributes} [more] */
export const button = (text, act, more = {}) => el("button", { type: "button", onclick: act, ...more }, text);

/** A select with its label. @param {string} label @param {string} id @param {[string, string][]} options value and words
 * @param {string} now @param {(value: string) => void} act */
export function choice(label, id, options, now, act) {
  const s = /** @type {HTMLSelectElement} */ (el("select", { id, onchange: () => act(s.value) }));
  for (const [value, words] of options) s.append(el("option", { value, selected: value === now }, words));
  return el("div", { class: "field" }, el("label", { for: id }, label), s);
}

/** Puts the focus back on the element with the same id after a part was made anew.
 * @param {() => void} redraw */
export function keepingFocus(redraw) {
  const id = document.activeElement?.id;
  redraw();
  if (id && document.activeElement?.id !== id) document.getElementById(id)?.focus({ preventScroll: true });
}

/** Says something to who listens instead of looking. @param {string} text */
export function say(text) {
  const p = document.getElementById("said");
  if (p) p.textContent = text;
}
