// The page as a whole: which screen is shown, and what is kept.

import { calculatorView } from "./calculator_view.js";
import { afterProblem, freshCode, nextStep } from "./choosing.js";
import { deviceStorage } from "./device.js";
import { button, make, replaceAll } from "./dom.js";
import { elementsView } from "./elements_view.js";
import { evidenceOf } from "./evidence.js";
import { withEvidence } from "./ideas.js";
import { writeAt } from "./keys.js";
import { molarMassOf, molarMassView } from "./molar_mass.js";
import { canGrow } from "./packing.js";
import { familyOf, readPage, wholeTemplate } from "./page.js";
import { ProblemView, endView } from "./problem_view.js";
import { offerView, recordView } from "./record_view.js";
import { handedIn, markedDrafts, rehearsalView } from "./rehearsal.js";
import { useRules } from "./rules.js";
import { RECORD_CODE, codeIn, recordInCode, recordInFile, saveRecord, shareProblem, shareRecord } from "./sharing.js";
import { keepSitting, keptSitting } from "./sitting.js";
import { AIMS, REHEARSED, isReached, startView } from "./start_view.js";
import { Store, emptyDraft, merged, withMistake, withSeen, withSolved } from "./store.js";
import { say, useWords } from "./text.js";
import { useUnits } from "./units.js";

class App {
  constructor(data, device) {
    useRules(data.rules);
    useUnits(data.units);
    this.page = readPage(data);
    this.store = new Store(device);
    this.sitting = keptSitting();
    this.figuresOf = null;
    this.lines = [];
    this.main = make("main", { id: "main" });
    this.aside = make("aside", { id: "aside", hidden: true });
    this.unkept = make("p", { class: "remark", role: "alert", hidden: true });
    useWords(this.page);
    this.main.addEventListener("focusin", ({ target }) => {
      if (target.matches(".part input[type=text]")) this.field = target;
    });
  }

  start() {
    this.lay();
    window.addEventListener("hashchange", () => this.show());
    window.addEventListener("storage", (event) => this.hear(event.key));
  }

  lay() {
    document.title = say("page.title", { title: this.page.title });
    replaceAll(document.body, this.header(), this.unkept, make("div", { class: "columns" }, this.main, this.aside));
    this.aside.hidden = true;
    this.tellUnkept();
    this.show();
  }

  /** Change the record as it stands now, in whichever tab it was changed last. */
  keep(update) {
    this.store.change(update);
    this.tellUnkept();
  }

  /** Said once: that nothing is kept when the page is closed. */
  tellUnkept() {
    if (!this.store.forgets || !this.unkept.hidden) return;
    this.unkept.hidden = false;
    this.unkept.textContent = say("record.forgets");
  }

  header() {
    const tool = (key, view) => {
      const opener = button(say(`${key}.title`), () => this.toggle(key, opener, view), {
        "data-tool": key,
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
        tool("elements", () => this.elements("")),
        tool("calculator", () => calculatorView(this.lines, this.page, (text) => this.take(text))),
      ),
    );
  }

  /** The atomic weights and molar masses, those of the problem's formulas first; one formula is added up at once. */
  elements(chosen) {
    const formulas = [...(this.view?.formulas.keys() ?? [])];
    const { weights } = this.page;
    const own = formulas.flatMap((text) => molarMassOf(text, weights).terms.map(({ symbol }) => symbol));
    const onTake = (text) => this.take(text);
    return make(
      "div",
      {},
      molarMassView({ formulas, chosen, weights, onTake }),
      elementsView(this.page.elements, this.page.edition, own),
    );
  }

  /** A formula was tapped: its molar mass, in the tool that has the weights. */
  weigh(formula) {
    const opener = document.querySelector('nav [data-tool="elements"]');
    if (opener.getAttribute("aria-expanded") === "true") opener.click();
    this.toggle("elements", opener, () => this.elements(formula));
  }

  /** Put a result where the student wrote last: in the place of an answer, or where the cursor of a line stands. */
  take(text) {
    const isShown = (one) => Boolean(one?.offsetParent);
    const shown = [...this.main.querySelectorAll(".part input.answer")].filter(isShown);
    const input = isShown(this.field) ? this.field : (shown.find((one) => !one.value) ?? shown[0]);
    if (!input) return;
    if (input.matches(".answer")) input.select();
    writeAt(input, text);
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
    const place = window.scrollY;
    const close = () => {
      this.toggle(key, opener, view);
      opener.focus({ preventScroll: true });
      window.scrollTo(0, place); // back to where the student was
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

  /** The screen that the address asks for: "#record", "#TEMPLATE:CODE", "#TEMPLATE:CODE:PART" for a drill, or the choice. */
  show() {
    const hash = codeIn(window.location.hash);
    this.leave();
    this.view = null;
    if (hash === "record") this.showRecord();
    else if (hash.startsWith(RECORD_CODE)) this.showOffered(hash);
    else if (hash) this.showLinked(hash);
    else this.showStart("");
    if (!hash || hash.startsWith("record")) this.sit({ rehearsal: null });
    window.scrollTo(0, 0);
  }

  /** A draft of the problem shown comes from another tab, or late from the page before a reload: shown if none is here. */
  hear(key) {
    if (this.present && !this.present.touched && key === this.store.keyOf(this.present.name)) this.show();
  }

  screen(...children) {
    replaceAll(this.main, ...children);
    this.main.querySelector("h1")?.focus();
  }

  showStart(remark) {
    const start = startView(this.page, this.store.record, {
      onStart: ({ wanted, aim }) => {
        this.keep((record) => ({ ...record, wanted }));
        const begun = AIMS[aim] ? { ...AIMS[aim], since: Date.now(), solved: 0, tried: 0 } : null;
        this.sit({ aim: begun, rehearsal: null });
        this.next("");
      },
      onRehearse: ({ wanted }) => {
        this.keep((record) => ({ ...record, wanted }));
        this.sit({ aim: null, rehearsal: { since: Date.now(), done: [] } });
        this.rehearse();
      },
      onOpen: (text) => this.go(`#${codeIn(text)}`),
    });
    this.screen(remark ? make("p", { role: "alert", class: "remark" }, remark) : null, start);
  }

  showRecord(remark = "") {
    const actions = {
      onExport: () => saveRecord(this.store.record),
      onShare: () => shareRecord(this.store.record),
      onImport: async (file) => this.importRecord(await recordInFile(file)),
      onCode: async (text) => this.importRecord(await recordInCode(text)),
      onWipe: () => this.wipe(),
      onPrint: () => window.print(),
      onBack: () => this.go(""),
    };
    this.screen(recordView(this.page, this.store.record, this.store.forgets, remark, actions));
  }

  /** The page keeps what a sitting is about, through a reload. */
  sit(changed) {
    this.sitting = { ...this.sitting, ...changed };
    keepSitting(this.sitting);
  }

  /** A link brings a record: it is added when the student says so. */
  async showOffered(hash) {
    const other = await recordInCode(hash);
    if (codeIn(window.location.hash) !== hash) return; // the student has gone on meanwhile
    const onAdd = () => {
      this.importRecord(other);
      window.history.replaceState(null, "", "#record");
    };
    if (other) this.screen(offerView(onAdd));
    else this.showRecord(say("record.notone"));
  }

  showLinked(hash) {
    const [id, code, part = ""] = hash.split(":");
    const template = this.page.templates.find((one) => one.id === id);
    if (!template?.codes.includes(code)) this.showStart(say("problem.unknown"));
    else if (canGrow()) this.unpack(template, code, part);
    else this.showStart(say("page.old"));
  }

  /** Show a problem once its template is unpacked, unless the student has gone on meanwhile. */
  async unpack(template, code, part) {
    const asked = window.location.hash;
    const whole = await wholeTemplate(template).catch(() => null);
    if (whole === null) {
      this.showStart(say("page.damaged"));
      return;
    }
    const problem = whole.problems.find((one) => one.code === code);
    const drill = whole.parts.some((one) => one.label === part) ? part : "";
    if (window.location.hash === asked) this.showProblem(template, whole, problem, drill);
  }

  showProblem(template, whole, problem, drill) {
    const { idea = "", why = null } = this.chosen?.template === template ? this.chosen : {};
    const name = `${template.id}:${problem.code}`;
    this.keep((record) => withSeen(record, template.id, problem.code));
    this.present = { name, template, problem, idea, touched: false, tried: false, missed: false, helped: false };
    const handlers = {
      onDraft: (draft) => this.noteDraft(name, draft),
      onMistakes: (mistakes) => this.noteMistakes(mistakes),
      onEvidence: (evidence) => this.noteEvidence(evidence),
      onSolved: (helped) => this.noteSolved(helped),
      onNext: (wish) => (wish === "same" ? this.open(template) : this.next(wish)),
      onHandIn: () => {
        if (this.present.handedIn) return; // pressed again, before the next problem is there
        this.present.handedIn = true;
        const { since, done } = this.sitting.rehearsal;
        this.sit({ rehearsal: { since, done: [...done.filter((one) => one !== name), name] } }); // once, if gone back to
        this.rehearse();
      },
      onLink: () => shareProblem(),
      onFormula: (formula) => this.weigh(formula),
      onWhole: () => this.go(`#${name}`),
      minds: (label) => this.minds(`${name} ${label}`),
    };
    const draft = { ...emptyDraft(), ...this.store.draft(name) };
    const isSilent = this.sitting.rehearsal !== null;
    const shown = { template: whole, problem, drill, isSilent, why: this.because(why) };
    this.field = null;
    this.view = new ProblemView(this.page, shown, draft, handlers);
    this.screen(this.view.element);
    this.view.resume();
    const tool = document.querySelector('nav [data-tool="elements"][aria-expanded="true"]');
    if (tool) this.aside.lastElementChild.replaceWith(this.elements("")); // those of this problem
  }

  /** Why a problem comes, in a sentence. */
  because(why) {
    if (!why) return "";
    const { idea, missed, of } = why.values;
    const title = this.page.ideas.find((one) => one.key === idea)?.title;
    return say(`why.${why.key}`, { idea: title, n: missed, of });
  }

  /** A word about figures is for one part of a sitting: the first that needs it. */
  minds(part) {
    this.figuresOf ??= part;
    return this.figuresOf === part;
  }

  /** Open a problem of a template that was not seen yet, or one question of it; where all were, one once more from the start. */
  open(template, drill = "") {
    const seen = this.store.record.seen[template.id] ?? [];
    const code = freshCode(template, seen, this.present?.problem.code, Math.random);
    if (seen.includes(code)) this.store.beginAnew(`${template.id}:${code}`);
    this.go(`#${template.id}:${code}${drill ? `:${drill}` : ""}`);
  }

  next(wish) {
    this.leave();
    if (this.sitting.aim && isReached(this.sitting.aim)) {
      this.showEnd();
      return;
    }
    this.chosen = nextStep(this.page, this.store.record, wish, this.present, Math.random);
    this.open(this.chosen.template, this.chosen.drill);
  }

  /** The next problem of a rehearsal, or its end. */
  rehearse() {
    const { done } = this.sitting.rehearsal;
    if (done.length >= REHEARSED) {
      this.markRehearsal();
      return;
    }
    const { record } = this.store;
    const others = this.page.templates.filter((one) => !done.some((name) => name.startsWith(`${one.id}:`)));
    const page = others.length ? { ...this.page, templates: others } : this.page;
    this.chosen = { ...nextStep(page, record, record.wanted ? "" : "else", this.present, Math.random), why: null };
    this.open(this.chosen.template);
  }

  /** Mark what was handed in, and let it count as first checks do. */
  async markRehearsal() {
    const { since, done } = this.sitting.rehearsal;
    const handed = await markedDrafts(this.page, done, (name) => this.store.draft(name));
    this.sit({ rehearsal: null }); // not before: of a page that is dropped meanwhile nothing is lost
    const marked = handed.map(({ name, title, whole, problem, draft, results, right }) => {
      this.store.keepDraft(name, handedIn(draft, results));
      const counts = (label) => !draft.tried.includes(label) && !draft.shown[label];
      for (const [idea, got] of evidenceOf(whole, results, counts)) {
        this.keep((record) => withEvidence(record, idea, problem.code, got));
      }
      this.countMistakes(results.flatMap((result) => result.mistakes));
      return { name, title, right, of: results.length };
    });
    this.screen(rehearsalView(marked, since, { onGoOn: () => this.next(""), onOpen: (name) => this.go(`#${name}`) }));
  }

  showEnd() {
    const { tried, solved } = this.sitting.aim;
    this.sit({ aim: null });
    this.screen(
      endView([say("aim.told", { n: solved, of: tried })], {
        onGoOn: () => this.next(""),
        onRecord: () => this.go("#record"),
      }),
    );
  }

  noteDraft(name, draft) {
    this.store.keepDraft(name, draft);
    this.present.touched = true;
    this.present.helped = Object.keys(draft.shown).length > 0;
    this.tellUnkept();
  }

  noteMistakes(mistakes) {
    if (!this.present.tried) this.count("tried");
    this.present.tried = true;
    this.present.missed ||= mistakes.length > 0;
    this.countMistakes(mistakes);
  }

  /** Count a problem towards the aim of the sitting. */
  count(what) {
    const { aim } = this.sitting;
    if (aim) this.sit({ aim: { ...aim, [what]: aim[what] + 1 } });
  }

  countMistakes(mistakes) {
    for (const family of new Set(mistakes.map(familyOf))) this.keep((record) => withMistake(record, family));
  }

  noteEvidence(evidence) {
    const { code } = this.present.problem;
    for (const [idea, got] of evidence) this.keep((record) => withEvidence(record, idea, code, got));
  }

  noteSolved(helped) {
    this.present.solved = true;
    this.count("solved");
    this.keep((record) => withSolved(record, helped));
  }

  /** A problem that was tried counts, when it is left, towards the level. */
  leave() {
    const left = this.present;
    if (left?.tried) {
      const clean = Boolean(left.solved) && !left.missed && !left.helped;
      this.keep((record) => afterProblem(record, { clean, missed: left.missed }));
      left.tried = false;
    }
  }

  /** Take a record from another device in: both count. Null is none. */
  importRecord(other) {
    if (other) this.keep((record) => merged(record, other));
    this.showRecord(say(other ? "record.imported" : "record.notone"));
  }

  wipe() {
    this.store.wipe();
    this.showRecord();
  }
}

/** Start the page with the data that it carries. */
export async function startApp() {
  const data = JSON.parse(document.getElementById("practice-data").textContent);
  new App(data, await deviceStorage()).start();
}
