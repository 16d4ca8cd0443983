// What came of a match, on the clinician's side: the answers, what they are worth, and
// beside them what the measurements say.

import { causeOf, strengthWords } from "./caption.js";
import { button, el, say } from "./dom.js";
import { problem } from "./match.js";
import { viewName } from "./matchsetup.js";
import { act, beside, exportPath, one, result } from "./matchserver.js";
import { named, num, t } from "./words.js";

/** @typedef {import("./match.js").Match} Match */

export class Result {
  /** @param {Match} match @param {string} id */
  constructor(match, id) {
    this.match = match;
    this.id = id;
    this.late = new AbortController();
    this.beside = el("div", {}, el("p", { role: "status" }, t("match.beside.wait")));
    match.root.append(el("p", {}, t("match.loading")));
    this.load();
  }

  close() { this.late.abort(); }

  async load() {
    try {
      const m = await result(this.id);
      if (this.late.signal.aborted) return;
      this.m = m;
      this.match.root.replaceChildren(...this.page(m));
      /** @type {HTMLElement | null} */ (this.match.root.querySelector("h1"))?.focus();
      const c = await beside(this.id, this.late.signal);
      this.beside.replaceChildren(...this.table(c));
    } catch (e) {
      if (this.late.signal.aborted) return;
      if (this.m) this.beside.replaceChildren(problem(e));
      else this.match.root.replaceChildren(problem(e), button(t("match.back"), () => this.match.show("list")));
    }
  }

  /** The name of a view by its name in the record. @param {string} name */
  name(name) {
    const v = this.m.views.find((/** @type {any} */ x) => x.name === name);
    return v ? viewName(v.id) : name;
  }

  /** @param {any} m */
  page(m) {
    const r = m.result;
    const urgent = r.urgent.length ? [el("section", { class: "urgent" }, el("h2", {}, t("match.urgent.result")), el("p", {}, r.urgent.join(", ")), el("p", {}, t("urgent")))] : [];
    const broken = m.broken ? [el("div", { class: "match-wrong", role: "alert" }, el("p", {}, t("match.broken")), el("p", { lang: "en" }, m.broken))] : [];
    return [
      el("h1", { tabindex: -1 }, t("match.result")), ...urgent, ...broken,
      el("p", { class: "match-said" }, el("strong", {}, r.first ? t("match.outcome.decided", this.name(r.first)) : t(`match.outcome.${r.outcome}`))),
      el("ul", { class: "match-sentences" }, el("li", {}, el("strong", {}, t("match.conversation"))), el("li", {}, el("strong", {}, t("match.not.against"))), ...r.not_asked.map((/** @type {string[]} */ p) => el("li", {}, t("match.not.asked", this.name(p[0]), this.name(p[1]))))),
      el("h2", {}, t("match.ranking")), this.ranking(r), el("p", { class: "small" }, t("match.ranking.how")),
      el("h2", {}, t("match.beside")), this.beside,
      el("h2", {}, t("match.worth")), this.worth(m), el("h2", {}, t("match.own")), this.own(m),
      ...this.strengths(m), el("h2", {}, t("match.setup")), this.setup(m),
      el("details", {}, el("summary", {}, t("match.more")), el("ul", { lang: "en" }, ...[r.why, ...r.sentences, m.plan.prediction, ...(m.notes ?? [])].map((x) => el("li", {}, x)))),
      this.doing(m),
    ];
  }

  /** @param {string} label @param {string[]} heads @param {(Node | string)[][]} rows */
  grid(label, heads, rows) {
    const head = el("tr", {}, ...heads.map((h) => el("th", { scope: "col" }, h)));
    const body = rows.map((r) => el("tr", {}, el("th", { scope: "row" }, r[0]), ...r.slice(1).map((c) => el("td", {}, c))));
    return el("div", { class: "wide", tabindex: 0, role: "group", "aria-label": label }, el("table", {}, el("thead", {}, head), el("tbody", {}, ...body)));
  }

  /** @param {any} r */
  ranking(r) {
    const widest = Math.max(1, ...r.standings.flatMap((/** @type {any} */ s) => [Math.abs(s.liked.lo), Math.abs(s.liked.hi)]));
    const bar = (/** @type {any} */ e) => interval(e, widest);
    return this.grid(t("match.ranking"), ["match.col.view", "match.col.liked", "match.col.interval", "match.col.best", "match.col.chosen", "match.col.label"].map((k) => t(k)),
      r.standings.map((/** @type {any} */ s) => [this.name(s.view), bar(s.liked), t("match.interval", num(s.liked.value, 1), num(s.liked.lo, 1), num(s.liked.hi, 1)), t("match.percent", num(100 * s.best, 0)), t("match.of", s.chosen, s.shown), s.label]));
  }

  /** @param {any} c */
  table(c) {
    const first = this.m.result.first, top = c.rows.find((/** @type {any} */ x) => x.says === "both" || x.says === "measurements only");
    const sentence = first && top ? t(first === top.view ? "match.agree" : "match.disagree", this.name(first), this.name(top.view)) : first ? t("match.answers.only", this.name(first)) : top ? t("match.measured.only", this.name(top.view)) : t("match.neither.first");
    const most = Math.max(1, ...c.rows.map((/** @type {any} */ x) => x.effect.hi));
    return [el("p", {}, el("strong", {}, sentence)), this.grid(t("match.beside"), ["match.col.view", "match.col.effect", "match.col.interval", "match.col.place", "match.col.measured"].map((k) => t(k)),
      c.rows.map((/** @type {any} */ x) => [this.name(x.view), share(x.effect, most), t("match.interval.percent", num(x.effect.value, 1), num(x.effect.lo, 1), num(x.effect.hi, 1)), t("match.places", x.rank, x.measured_rank), el("span", { lang: "en" }, x.words)])),
    el("p", { class: "small" }, t("match.beside.how"))];
  }

  /** @param {any} m */
  worth(m) {
    const { catches: c, side: s } = m.result;
    const bias = s.bias.lo > 0 ? t("match.bias.left") : s.bias.hi < 0 ? t("match.bias.right") : t("match.bias.none");
    return el("ul", {}, ...[
      t("match.answered", m.answered, m.total, m.undone), t("match.sides", s.left, s.right, bias),
      c.repeated ? t("match.repeated", c.said_the_same, c.repeated) : t("match.repeated.none"),
      c.identical ? t("match.identical", c.said_alike, c.identical) : t("match.identical.none"),
      c.obvious ? t("match.obvious", c.obvious - c.foil_chosen, c.obvious) : t("match.obvious.none"),
      t("match.counts", c.nothing_wrong, c.something_else),
    ].map((x) => el("li", {}, x)));
  }

  /** @param {any} m */
  own(m) {
    const list = m.result.said.map((/** @type {any} */ x) => el("li", {}, `${t("match.said.at", x.number)} `, el("q", {}, x.words)));
    if (m.plan.saw) list.unshift(el("li", {}, `${t("match.said.object", m.plan.object)} `, el("q", {}, m.plan.saw)));
    return list.length ? el("ul", {}, ...list) : el("p", {}, t("match.own.none"));
  }

  /** @param {any} m */
  strengths(m) {
    if (!m.result.severity.length) return [];
    const words = (/** @type {any} */ s) => {
      if (!s.known) return t("match.severity.unknown", this.name(s.view));
      const id = m.views.find((/** @type {any} */ v) => v.name === s.view).id, c = causeOf(this.match.app.facts, m.plan.complaint_eye, id);
      const now = c ? ` (${strengthWords(c, s.mean.value, "clinician")})` : "";
      return t("match.severity", this.name(s.view), num(s.mean.value, 2), num(s.mean.lo, 2), num(s.mean.hi, 2), num(s.gap, 2)) + now + (s.at_end ? ` ${t("match.severity.end", s.at_end)}` : "");
    };
    return [el("h2", {}, t("match.strength")), el("ul", {}, ...m.result.severity.map((/** @type {any} */ s) => el("li", {}, words(s))))];
  }

  /** @param {any} m */
  setup(m) {
    const p = m.plan;
    return el("ul", {}, ...[
      t("match.setup.eye", t(`eye.${p.complaint_eye}`), t(`match.through.${p.through}`)), t("match.setup.object", p.object),
      t("match.setup.fellow", p.fellow ? t(`eye.${p.fellow}`) : t("match.setup.usual"), num(p.screen_m, 2), num(p.picture_cm, 0)),
      t("match.setup.scene", named(`scene.${p.scene}`, p.scene), t(`part.${p.part}`)), t("match.setup.seed", String(p.seed)),
      ...(p.through === "glasses" ? [] : [t("match.setup.through")]),
    ].map((x) => el("li", {}, x)));
  }

  /** @param {any} m */
  doing(m) {
    const going = m.resume && m.answered < m.total;
    const strengths = m.resume && !going ? m.result.standings.slice(0, 3).map((/** @type {any} */ s) => s.view).filter((/** @type {string} */ v) => m.views.find((/** @type {any} */ x) => x.name === v).id !== "nothing") : [];
    return el("div", { class: "match-more match-doing" },
      going && button(t("match.go.on"), () => this.match.show("ask", this.id), { class: "big", id: "match-on" }),
      ...strengths.map((/** @type {string} */ v) => button(t("match.strength.of", this.name(v)), () => this.adjust(v), { class: "big" })),
      m.resume && button(t("match.end"), () => this.do("end"), { class: "big", id: "match-end" }),
      el("a", { class: "big", href: exportPath(this.id, "csv"), download: "" }, t("match.csv")), el("a", { class: "big", href: exportPath(this.id, "json"), download: "" }, t("match.json")),
      button(t("match.back"), () => this.match.show("list"), { class: "big", id: "match-back" }));
  }

  /** @param {string} view */
  adjust(view) {
    return this.do("adjust", { view: this.m.views.findIndex((/** @type {any} */ x) => x.name === view) }, "strength");
  }

  /** @param {string} what @param {object} [more] @param {string} [part] */
  async do(what, more, part = "result") {
    try {
      await act(await one(this.id), what, more);
      await this.match.show(part, this.id);
    } catch (e) {
      this.match.root.prepend(problem(e));
      say(t("refused.view"));
      scrollTo(0, 0);
    }
  }
}

/** A bar from the low to the high end about a middle line. @param {any} e @param {number} widest */
function interval(e, widest) {
  const at = (/** @type {number} */ v) => 50 + (50 * v) / widest;
  return line(at(e.lo), at(e.hi), at(e.value), true);
}

/** @param {any} e @param {number} most */
function share(e, most) {
  const at = (/** @type {number} */ v) => (100 * v) / most;
  return line(at(e.lo), at(e.hi), at(e.value), false);
}

/** @param {number} lo @param {number} hi @param {number} at @param {boolean} middle */
function line(lo, hi, at, middle) {
  const b = el("div", { class: middle ? "match-bar middle" : "match-bar", "aria-hidden": "true" });
  b.style.setProperty("--from", String(lo));
  b.style.setProperty("--to", String(hi));
  b.style.setProperty("--at", String(at));
  return b;
}
