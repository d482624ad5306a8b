// The page as a whole: which screen is shown, and what is kept.

import { calculatorView } from "./calculator_view.js";
import { familiesOf, freshProblem, harderTemplate, nextTemplate, templatesFor } from "./choosing.js";
import { button, make, replaceAll } from "./dom.js";
import { elementsView } from "./elements_view.js";
import { readPage } from "./page.js";
import { ProblemView } from "./problem_view.js";
import { recordView } from "./record_view.js";
import { useRules } from "./rules.js";
import { afterMaking, afterProblem, familyOf } from "./spacing.js";
import { startView } from "./start_view.js";
import { deviceStorage, emptyRecord, keepRecord, readRecord, wipeRecord, withSeen, withSolved } from "./store.js";
import { say, useWords } from "./text.js";
import { useUnits } from "./units.js";

class App {
  constructor(data) {
    useRules(data.rules);
    useUnits(data.units);
    this.page = readPage(data);
    this.storage = deviceStorage();
    this.record = readRecord(this.storage);
    this.chosen = { topic: "", level: 0 };
    this.lines = [];
    this.made = new Set();
    this.main = make("main", { id: "main" });
    this.aside = make("aside", { id: "aside", hidden: true });
    useWords(this.page);
    this.lay();
    window.addEventListener("hashchange", () => this.show());
  }

  lay() {
    document.title = say("page.title", { title: this.page.title });
    replaceAll(document.body, this.header(), make("div", { class: "columns" }, this.main, this.aside));
    this.aside.hidden = true;
    this.show();
  }

  keep(record) {
    this.record = record;
    keepRecord(this.storage, record);
  }

  header() {
    const tool = (key, view) => {
      const opener = button(say(`${key}.title`), () => this.toggle(key, opener, view), {
        "aria-expanded": "false",
        "aria-controls": "aside",
      });
      return opener;
    };
    return make(
      "header",
      {},
      make("a", { class: "skip", href: "#main", onclick: (event) => this.skip(event) }, say("page.skip")),
      make("p", { class: "name" }, this.page.title),
      make(
        "nav",
        { "aria-label": say("page.tools") },
        button(say("page.start"), () => this.go("")),
        button(say("record.title"), () => this.go("#record")),
        tool("elements", () => elementsView(this.page.elements, this.page.edition)),
        tool("calculator", () => calculatorView(this.lines, this.page.decimal_mark)),
      ),
    );
  }

  skip(event) {
    event.preventDefault();
    this.main.querySelector("h1").focus();
  }

  toggle(key, opener, view) {
    const wasOpen = opener.getAttribute("aria-expanded") === "true";
    document.querySelectorAll("nav [aria-expanded]").forEach((one) => one.setAttribute("aria-expanded", "false"));
    this.aside.hidden = wasOpen;
    if (wasOpen) return;
    opener.setAttribute("aria-expanded", "true");
    const close = () => {
      this.toggle(key, opener, view);
      opener.focus();
    };
    const title = make("h2", { tabindex: -1 }, say(`${key}.title`));
    replaceAll(this.aside, make("div", { class: "bar" }, title, button(say("page.close"), close)), view());
    this.aside.onkeydown = (event) => {
      if (event.key === "Escape") close();
    };
    title.focus();
  }

  go(hash) {
    if (window.location.hash === hash || (!hash && !window.location.hash)) this.show();
    else window.location.hash = hash;
  }

  /** The screen that the address asks for: "#record", "#TEMPLATE:CODE", or the choice. */
  show() {
    const hash = decodeURIComponent(window.location.hash.slice(1));
    this.leave();
    if (hash === "record") this.showRecord();
    else if (hash) this.showLinked(hash);
    else this.showStart("");
    window.scrollTo(0, 0);
  }

  screen(...children) {
    replaceAll(this.main, ...children);
    this.main.querySelector("h1")?.focus();
  }

  showStart(remark) {
    const start = startView(this.page, this.chosen, (chosen) => {
      this.chosen = chosen;
      this.next();
    });
    this.screen(remark ? make("p", { role: "alert", class: "remark" }, remark) : null, start);
  }

  showRecord() {
    const actions = {
      onExport: () => this.exportRecord(),
      onWipe: () => this.wipe(),
      onPrint: () => window.print(),
      onBack: () => this.go(""),
    };
    this.screen(recordView(this.record, this.page.titles, Boolean(this.storage.forgets), actions));
  }

  showLinked(hash) {
    const [id, code] = hash.split(":");
    const template = this.page.templates.find((one) => one.id === id);
    const problem = template && this.page.problems.find((one) => one.template === template && one.code === code);
    if (problem) this.showProblem(template, problem);
    else this.showStart(say("problem.unknown"));
  }

  showProblem(template, problem) {
    this.made = new Set();
    this.keep(withSeen(this.record, template.id, problem.code));
    this.present = { template, problem, tried: false };
    const handlers = {
      onResults: (results) => this.noteMistakes(results),
      onHelp: () => (this.present.tried = true),
      onSolved: (helped) => this.noteSolved(helped),
      onSame: () => this.open(template),
      onAny: () => this.next(),
      onHarder: () => this.harder(),
      onLink: () => this.copyLink(),
    };
    this.screen(new ProblemView(this.page, template, problem, handlers).element);
  }

  /** Open a problem of a template that was not seen yet. */
  open(template) {
    const { code } = freshProblem(
      this.page.problems,
      template,
      this.record.seen[template.id] ?? [],
      this.present?.problem.code,
      Math.random,
    );
    this.go(`#${template.id}:${code}`);
  }

  next() {
    const { topic, level } = this.chosen;
    this.open(
      nextTemplate(
        templatesFor(this.page.templates, topic, level),
        this.record,
        this.present?.template.id,
        Math.random,
      ),
    );
  }

  harder() {
    const harder = harderTemplate(this.page.templates, this.present.template, Math.random);
    this.open(harder ?? this.present.template);
  }

  noteMistakes(results) {
    this.present.tried = true;
    for (const family of results.flatMap((result) => result.mistakes.map(familyOf))) {
      if (!this.made.has(family)) this.keep({ ...this.record, mistakes: afterMaking(this.record.mistakes, family) });
      this.made.add(family);
    }
  }

  noteSolved(helped) {
    this.keep(withSolved(this.record, this.present.template.topic, helped));
  }

  /** A problem that was tried counts, when it is left, towards the mistakes that were not made in it. */
  leave() {
    if (this.present?.tried) {
      const mistakes = afterProblem(this.record.mistakes, familiesOf(this.present.template), this.made);
      this.keep({ ...this.record, mistakes });
    }
    if (this.present) this.present.tried = false;
  }

  async copyLink() {
    try {
      await navigator.clipboard.writeText(window.location.href);
      return true;
    } catch {
      return false;
    }
  }

  exportRecord() {
    const file = new Blob([JSON.stringify(this.record, null, 1)], { type: "application/json" });
    const link = make("a", { href: URL.createObjectURL(file), download: "practice-record.json" });
    link.click();
    URL.revokeObjectURL(link.href);
  }

  wipe() {
    wipeRecord(this.storage);
    this.record = { ...emptyRecord(), language: this.record.language };
    this.showRecord();
  }
}

/** Start the page with the data that it carries. */
export function startApp() {
  const data = JSON.parse(document.getElementById("practice-data").textContent);
  return new App(data);
}
