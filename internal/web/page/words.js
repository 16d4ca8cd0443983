// All words of the page, from one catalogue: key -> language -> text. {0}, {1} stand
// for what is put in.

/** @type {Record<string, Record<string, string>>} */
let catalogue = {};
let lang = "en";

export const LANGUAGES = ["en", "de"];

export async function loadWords() {
  const r = await fetch("/catalogue.json");
  catalogue = await r.json();
}

/** Chooses a language; one that is not known gives that of the browser, or English.
 * @param {string} wanted */
export function speak(wanted) {
  const list = [wanted, ...navigator.languages.map((l) => l.slice(0, 2))];
  lang = list.find((l) => LANGUAGES.includes(l)) ?? "en";
  document.documentElement.lang = lang;
  document.documentElement.dir = t("direction");
}

export const language = () => lang;

/** @param {string} key */
export const has = (key) => key in catalogue;

/** The words for a key. @param {string} key @param {...(string | number)} parts */
export function t(key, ...parts) {
  const text = catalogue[key]?.[lang];
  if (text === undefined) throw new Error(`no words for ${key} in ${lang}`);
  return text.replace(/\{(\d)\}/g, (_, n) => String(parts[Number(n)]));
}

/** A number in the way of the language; what is written as zero has no sign. @param {number} v @param {number} [places] */
export function num(v, places = 1) {
  return new Intl.NumberFormat(lang, { minimumFractionDigits: places, maximumFractionDigits: places }).format(Number(v.toFixed(places)) + 0).replace("-", "\u2212");
}

/** A value with its unit. @param {number} v @param {string} unit @param {number} places */
export const amount = (v, unit, places) => t(`unit.${unit}`, num(v, places));

/** The name of something by key; where the catalogue has none (a scene or trial of
 * one's own), the English words that came with it.
 * @param {string} key @param {string} english */
export const named = (key, english) => (has(key) ? t(key) : english);
