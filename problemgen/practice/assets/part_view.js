// One part of a problem: its question, the answer's field, the verdict, the hints.

import { button, make, printed } from "./dom.js";
import { CHARGE } from "./equation.js";
import { formCalled } from "./forms.js";
import { rules } from "./rules.js";
import { canSay, say } from "./text.js";
import { WorkingView } from "./working_view.js";

/** What a student can ask for, one after the other: three hints, each called by what it asks, and the solution. */
const STEPS = ["relation", "numbers", "setup", "solution"];

/** Remarks on figures: said once a sitting. */
const ON_FIGURES = new Set(["fewer", "more"]);

/** The unit stands beside the field: a bare number is right, and nothing is to be said of it. */
const NOT_SAID = new Set(["nounit"]);

/** Verdicts after which the page offers the step that failed. */
const LOOKED_INTO = new Set(["mistake", "wrong"]);

/**
 * A part on the page. `handlers` are { onCheck, onHelp, onType, onWork, written, minds, scene, failedStep, isSilent }; `hints` gives the HTML of a
 * step, by its number.
 */
export class PartView {
  constructor(part, handlers, hints) {
    this.part = part;
    this.shown = 0;
    this.tried = false;
    this.hints = hints;
    this.handlers = handlers;
    this.field = formCalled(part.form).field(part);
    this.field.element.addEventListener("input", () => this.typed());
    this.verdict = make("div", { class: "verdict", id: `verdict-${part.label}` });
    this.help = make("div", { class: "help" });
    this.more = button("", () => this.askForHint(), { class: "plain more" });
    const hasWorking = part.form === "number" && !handlers.isSilent;
    this.working = hasWorking ? new WorkingView(part.label, handlers.scene, handlers.onWork) : null;
    const check = make(
      "button",
      { type: "submit", "aria-label": say("part.check.label", { label: part.label }) },
      say("part.check"),
    );
    this.element = make(
      "form",
      { class: "part", "aria-labelledby": `prompt-${part.label}`, onsubmit: (event) => this.check(event) },
      make(
        "div",
        { class: "prompt", id: `prompt-${part.label}`, tabindex: -1 },
        make("strong", {}, `(${part.label}) `),
        printed("span", part.prompt),
      ),
      make("div", { class: "entry" }, this.field.element, check, this.field.keys ?? null),
      this.verdict,
      this.help,
      this.more,
      this.working?.element,
    );
    this.nameMore();
  }

  get wrote() {
    return this.field.wrote();
  }

  /** What was there before: the answer, the hints that were open, whether it was checked, the working. */
  restore(wrote, shown, tried, lines) {
    this.field.write(wrote);
    this.working?.restore(lines);
    this.tried = tried;
    for (let step = 0; step < shown; step += 1) this.showHint();
    this.nameMore();
  }

  focus() {
    (this.field.element.querySelector("input:checked, input") ?? this.field.element).focus();
    this.element.scrollIntoView({ block: "nearest" });
  }

  typed() {
    this.verdict.replaceChildren();
    this.handlers.onType(this.part.label);
  }

  check(event) {
    event.preventDefault();
    if (!this.handlers.isSilent) this.handlers.onCheck(this.part.label);
  }

  /** Show a result, and return the sentence that tells it aloud. */
  show(result) {
    if (result.verdict === "blank") {
      this.verdict.replaceChildren(make("p", { class: "title" }, say("part.nothing")));
      return say("part.empty", { label: this.part.label });
    }
    this.tried = true;
    this.nameMore();
    const remarks = result.remarks.filter((one) => this.isSaid(one));
    const title = say(`verdict.${result.verdict === "right" && remarks.length ? "right.minded" : result.verdict}`);
    const sentences = [sentenceOf(result, this.part.form), ...remarks.map(remarkText)].filter(Boolean);
    const read = isUnusual(this.wrote, result.read) ? say("part.read", { read: result.read }) : "";
    this.verdict.replaceChildren(
      make(
        "p",
        { class: `title ${result.verdict}` },
        make("span", { class: "sign", "aria-hidden": "true" }, rules.part_view.signs.get(result.verdict)),
        " ",
        title,
        read ? make("span", { class: "read" }, ` ${read}`) : "",
      ),
      ...sentences.map((sentence) => make("p", {}, sentence)),
      ...this.offered(result),
    );
    return [say("part.label", { label: this.part.label }), `${title}.`, read, ...sentences].filter(Boolean).join(" ");
  }

  /** After a wrong answer, the step that failed: to be worked alone. */
  offered(result) {
    const failed = LOOKED_INTO.has(result.verdict) && this.working ? this.handlers.failedStep(result) : null;
    if (failed === null) return [];
    const step = button(say("part.step"), () => this.working.lookFor(failed.step), { class: "plain" });
    step.append(" ", printed("span", failed.html));
    return [step];
  }

  isSaid({ key }) {
    return !NOT_SAID.has(key) && (!ON_FIGURES.has(key) || this.handlers.minds(this.part.label));
  }

  /** The button names the next step; before a try, it is for who is stuck. */
  nameMore() {
    const next = STEPS[this.shown];
    this.more.hidden = !next;
    if (!next) return;
    const words = this.tried || this.shown ? this.named(next) : say("hint.stuck");
    this.more.textContent = words;
    this.more.setAttribute("aria-label", say("hint.label", { hint: words, label: this.part.label }));
  }

  /** What a step is called: by what it asks, in words of the part's form where it has some. */
  named(step) {
    return say([`hint.${this.part.form}.${step}`, `hint.${step}`].find(canSay));
  }

  askForHint() {
    const opened = this.showHint();
    this.nameMore();
    opened.focus();
    this.handlers.onHelp();
  }

  showHint() {
    const step = STEPS[this.shown];
    const told = printed("div", this.hints(this.shown));
    const opened = make(
      "section",
      { class: `hint ${step}`, tabindex: -1 },
      make("h2", {}, this.named(step)),
      told,
      this.earlierAnswers(told.textContent),
      step === "solution" ? lineByLine(told) : null,
    );
    this.help.append(opened);
    this.shown += 1;
    return opened;
  }

  /** The student's own answers that a hint refers to, as they were given. */
  earlierAnswers(text) {
    const written = Object.entries(this.handlers.written?.() ?? {});
    const meant = written.filter(
      ([label, wrote]) => wrote && label < this.part.label && text.includes(`(${label})`) && /\d/.test(wrote),
    );
    return meant.map(([label, wrote]) => make("p", { class: "quiet" }, say("hint.yours", { label, wrote })));
  }
}

/** A worked solution that opens a line at a time: the button for the next line. */
function lineByLine(solution) {
  const [, ...later] = solution.children;
  later.forEach((line) => {
    line.hidden = true;
  });
  if (!later.length) return null;
  const next = button(say("hint.line"), () => {
    later.shift().hidden = false;
    next.hidden = !later.length;
  });
  return next;
}

/** An answer without what may be written in several ways: spaces, the decimal mark, the arrow of an equation. */
const alike = (text) =>
  text
    .replace(/\s/g, "")
    .replace(",", ".")
    .replace(/->|→|⟶|⇌/, "=");

/** Whether an answer was read otherwise than it stands there. */
function isUnusual(wrote, read) {
  if (!read) return false;
  const [written, told, bare] = [wrote, read, read.split(" ")[0]].map(alike);
  return written !== told && written !== bare;
}

/** What is said of a result: by its reason where the catalogue has it, else by its verdict. */
function sentenceOf(result, form) {
  if (result.verdict === "mistake") return mistakeSentence(result);
  if (result.verdict === "wrong" && result.values.parts?.length) return say("said.wrong-after", result.values);
  if (result.reason === "unbalanced")
    return say("reason.unbalanced", { elements: result.values.uneven.map(unevenText).join(", ") });
  const said = `said.${result.verdict}`;
  const key = [`reason.${result.reason.split(":")[0]}`, `${said}.${form}`, said].find(canSay);
  return key ? say(key, result.values) : "";
}

/** What does not balance: an element's symbol, or "charge". */
const unevenText = (one) => (one === CHARGE ? say("unbalanced.charge") : one);

/** Of more alternatives than two nobody learns. */
const MOST_NAMED = 2;

/** "This looks like …": one mistake, two together, or one of several. */
function mistakeSentence({ key: named, titles, hints, values }) {
  if (named) return say(`named.${named}`, values);
  const told = titles.slice(0, MOST_NAMED).map((together) => together.join(` ${say("mistake.together")} `));
  const key = told.length > 1 ? "mistake.several" : titles[0].length > 1 ? "mistake.two" : "mistake.one";
  return `${say(key, { titles: told.join("; ") })} ${hints.slice(0, MOST_NAMED).join(" ")}`;
}

const remarkText = (remark) => say(`remark.${remark.key}`, remark.values);
