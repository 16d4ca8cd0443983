// The screens of the page, in the order of its head. A further one is a class with
// update and close, a row here, and its words in the catalogue.

import { Before } from "./before.js";
import { Compare } from "./compare.js";
import { Match } from "./match.js";

/** @typedef {{update: (quiet?: boolean) => void, close: () => void}} Screen */

/** @type {Record<string, new (app: import("./app.js").App, root: HTMLElement) => Screen>} */
export const SCREENS = { compare: Compare, match: Match, before: Before };
