// One problem: its data, its parts, and what to do next.

import { button, heading, make, paragraph, printed } from "./dom.js";
import { evidenceOf } from "./evidence.js";
import { judgeProblem } from "./judge.js";
import { formulasIn } from "./molar_mass.js";
import { OnePart } from "./one_part.js";
import { unpacked } from "./packing.js";
import { problemKey, templateKey } from "./page.js";
import { PartView } from "./part_view.js";
import { say } from "./text.js";
import { failedStep, ownSteps } from "./working.js";

const SOLUTION_STEP = 3;

/**
 * A problem on the page, or its one question `drill`, with what its `draft` holds; `isSilent` in a rehearsal. `why` is the
 * sentence that tells why it comes; `handlers` are
 * { onDraft, onMistakes, onEvidence, onSolved, onNext, onHandIn, onLink, onWhole, onFormula, minds }.
 */
export class ProblemView {
  constructor(page, { template, problem, drill, isSilent, why }, draft, handlers) {
    Object.assign(this, { page, template, problem, drill, isSilent, handlers, draft, key: problemKey(problem) });
    this.solved = draft.solved && !drill;
    this.checked = new Set(draft.checked);
    this.live = make("p", { class: "unseen", role: "status", "aria-live": "polite" });
    this.sum = make("p", { class: "sum" });
    this.end = make("div", { class: "end" });
    this.parts = template.parts.map((part, i) => this.partView(part, problem.help[i]));
    const shown = this.parts.filter(({ part }) => !drill || part.label === drill);
    const data = this.dataOf(template, problem);
    this.onePart = new OnePart(shown, data);
    const isWhole = shown.length > 1;
    const about = drill
      ? say("problem.drill", { topic: template.topic })
      : say("problem.about", { topic: template.topic, level: say(`level.${template.level}`) });
    this.element = make(
      "article",
      { class: this.classes(isWhole), "data-problem": `${template.id}:${problem.code}` },
      heading(1, template.title),
      make("p", { class: "quiet" }, about),
      why ? make("p", { class: "why" }, why) : null,
      this.live,
      make(
        "div",
        { class: "desk" },
        data,
        make(
          "div",
          { class: "parts" },
          shown.map((part) => part.element),
          drill ? button(say("problem.whole"), handlers.onWhole, { class: "plain" }) : null,
          isWhole && !isSilent ? this.checkAction() : null,
          this.sum,
          this.end,
          isSilent ? this.handInAction() : this.nextActions(),
        ),
      ),
      this.onePart.element,
    );
    this.onePart.show(0);
    this.restore();
  }

  /** How the problem is laid out: silent in a rehearsal, its parts one at a time where there are several. */
  classes(isWhole) {
    return ["problem", this.isSilent ? "silent" : "", isWhole ? "stepwise" : ""].filter(Boolean).join(" ");
  }

  partView(part, helps) {
    const handlers = {
      onCheck: (label) => this.check([label]),
      onHelp: () => this.keep(),
      onType: (label) => this.typed(label),
      onWork: () => this.keep(),
      written: () => this.cells,
      minds: this.handlers.minds,
      scene: () => this.sceneOf(part.label),
      failedStep: (result) => this.failedStep(part.label, result),
      isSilent: this.isSilent,
    };
    const { skeletons } = this.template;
    return new PartView(part, handlers, (step) => unpacked(skeletons, helps[Math.min(step, SOLUTION_STEP)]));
  }

  /** The story, the scheme and the numbers; a formula that is tapped tells its molar mass. */
  dataOf({ scheme, skeletons }, { story, numbers }) {
    const data = make(
      "section",
      { class: "data", id: "data", tabindex: -1, "aria-label": say("data.title") },
      printed("div", unpacked(skeletons, story), { class: "story" }),
      scheme ? printed("div", scheme) : null,
      printed("div", unpacked(skeletons, numbers), { class: "numbers" }),
    );
    data.querySelectorAll("td").forEach((cell) => cell.classList.toggle("idle", cell.textContent.trim() === "–"));
    this.formulas = formulasIn(data, this.page.weights);
    for (const [text, places] of this.formulas) {
      for (const place of places) {
        place.classList.add("weighable");
        place.addEventListener("click", () => this.handlers.onFormula(text));
      }
    }
    return data;
  }

  checkAction() {
    const all = button(say("problem.all"), () => this.checkAll());
    return make("div", { class: "actions all" }, all);
  }

  /** What a line of working is judged by, as it stands now. */
  sceneOf(label) {
    return {
      template: this.template,
      key: templateKey(this.template),
      problem: this.key,
      cells: this.cells,
      label,
      decimalMark: this.page.decimal_mark,
      weights: this.page.weights,
    };
  }

  /** The step that a result shows to have failed: { step, html }; null where the part is one step. */
  failedStep(label, result) {
    const key = templateKey(this.template);
    if (ownSteps(this.template, key, label).length < 2) return null;
    const step = failedStep(this.template, key, label, result);
    return { step, html: this.template.step_words[step][0] };
  }

  /** What was written, checked and opened before: shown again, and counted for nothing. */
  restore() {
    const { answers, shown, tried, lines } = this.draft;
    this.parts.forEach((view) => {
      const { label } = view.part;
      const open = Math.min(shown[label] ?? 0, SOLUTION_STEP + 1);
      view.restore(answers[label] ?? "", open, tried.includes(label), lines[label] ?? []);
    });
    if (this.checked.size && !this.isSilent) this.show(this.judged(), []);
    if (this.solved && !this.isSilent) this.tellSolved();
  }

  /** Go on where the student stopped, on a screen that shows a part at a time: at the first without an answer. */
  resume() {
    const open = this.onePart.parts.findIndex((view) => !view.wrote);
    const last = this.onePart.parts.length - 1;
    if (open !== 0) this.onePart.show(open < 0 ? last : open);
  }

  /** In a rehearsal nothing is checked: one goes on, and all is marked at the end. */
  handInAction() {
    const onPress = ({ detail }) => {
      if (detail < 2) this.handlers.onHandIn(); // the second half of a double click would skip the next problem
    };
    return make("div", { class: "actions" }, button(say("rehearsal.on"), onPress, { class: "main" }));
  }

  nextActions() {
    const shown = make("p", { class: "quiet link", dir: "auto" });
    const link = button(say("problem.link"), async () => {
      shown.textContent = await this.handlers.onLink();
      this.live.textContent = shown.textContent;
    });
    const next = (wish) => button(say(`problem.${wish}`), () => this.handlers.onNext(wish));
    return make(
      "section",
      { class: "next", "aria-label": say("problem.next") },
      make(
        "div",
        { class: "actions" },
        button(say("problem.on"), () => this.handlers.onNext(""), { class: "main" }),
        ["same", "easier", "harder", "else"].map(next),
        link,
        button(say("problem.print"), printWithSpace),
      ),
      shown,
    );
  }

  get cells() {
    return Object.fromEntries(this.parts.map((view) => [view.part.label, view.wrote]));
  }

  keep() {
    const helped = this.parts.map((view) => [view.part.label, view.shown]).filter(([, shown]) => shown);
    this.draft = {
      ...this.draft,
      answers: this.cells,
      checked: [...this.checked],
      shown: Object.fromEntries(helped),
      lines: Object.fromEntries(this.parts.flatMap(({ part, working }) => keptLines(part.label, working))),
    };
    this.handlers.onDraft(this.draft);
  }

  /** A verdict that was given on something else leaves as typing begins. */
  typed(label) {
    this.checked.delete(label);
    this.sum.textContent = "";
    this.follow();
    this.keep();
  }

  /** What follows from an answer follows in the working too. */
  follow() {
    this.parts.forEach((part) => part.working?.show());
  }

  judged() {
    return judgeProblem(templateKey(this.template), this.key, this.cells, this.page.decimal_mark);
  }

  /** Show the results of all that is checked; what is said of `labels` is returned. */
  show(results, labels) {
    const told = [];
    results.forEach((result, i) => {
      if (!this.checked.has(result.label)) return;
      const sentence = this.parts[i].show(result);
      if (result.verdict === "right") this.onePart.done(result.label);
      if (labels.includes(result.label)) told.push(sentence);
    });
    return told;
  }

  /** Judge all answers, and show the results of the labels, and of those shown before. */
  check(labels) {
    labels.forEach((label) => this.checked.add(label));
    const results = this.judged();
    this.live.textContent = this.show(results, labels).join(" ");
    this.follow();
    this.note(results.filter((result) => labels.includes(result.label) && result.verdict !== "blank"));
    this.keep();
    const asked = results.filter((result) => !this.drill || result.label === this.drill);
    if (!this.solved && asked.every((result) => result.verdict === "right")) this.finish();
    return results;
  }

  /** Check everything: how many are right, and on to the first that is not. */
  checkAll() {
    const results = this.check(this.template.parts.map((part) => part.label));
    const right = results.filter((result) => result.verdict === "right").length;
    this.sum.textContent = right < results.length ? say("problem.sum", { n: right, of: results.length }) : "";
    this.live.textContent = `${this.sum.textContent} ${this.live.textContent}`.trim();
    const first = results.findIndex((result) => result.verdict !== "right");
    if (first >= 0) {
      this.onePart.show(first);
      this.parts[first].focus();
    }
  }

  /** What first checks and named mistakes tell of the student's ideas. */
  note(results) {
    if (!results.length) return; // an empty field was checked: nothing was tried
    const before = this.draft.tried;
    const helped = new Set(this.parts.filter((view) => view.shown).map((view) => view.part.label));
    this.draft.tried = [...new Set([...before, ...results.map((result) => result.label)])];
    const counts = (label) => !before.includes(label) && !helped.has(label);
    this.handlers.onEvidence(evidenceOf(this.template, results, counts));
    this.handlers.onMistakes(results.flatMap((result) => result.mistakes));
  }

  get helped() {
    return this.parts.some((view) => view.shown > 0 && (!this.drill || view.part.label === this.drill));
  }

  finish() {
    this.solved = true;
    if (!this.drill) this.draft.solved = true;
    this.keep();
    this.tellSolved();
    this.live.textContent += ` ${this.end.textContent}`;
    this.handlers.onSolved(this.helped);
  }

  tellSolved() {
    this.end.replaceChildren(
      make(
        "p",
        { class: "title right" },
        make("span", { class: "sign", "aria-hidden": "true" }, "✓"),
        " ",
        say(this.helped ? "problem.solved.helped" : "problem.solved.alone"),
      ),
    );
  }
}

/** Print the problem as a sheet to work on: without what was written, checked and opened. */
function printWithSpace() {
  document.body.classList.add("with-space");
  window.addEventListener("afterprint", () => document.body.classList.remove("with-space"), { once: true });
  window.print();
}

/** The lines of a part's working that are kept: where there are any. */
const keptLines = (label, working) => (working?.wrote.some(Boolean) ? [[label, working.wrote]] : []);

/** The end of a session: what was aimed at is reached. */
export function endView(told, actions) {
  return make(
    "section",
    { class: "start" },
    heading(1, say("aim.reached")),
    told.map((sentence) => paragraph(sentence)),
    make(
      "div",
      { class: "actions" },
      button(say("aim.on"), actions.onGoOn, { class: "main" }),
      button(say("record.title"), actions.onRecord),
    ),
  );
}
