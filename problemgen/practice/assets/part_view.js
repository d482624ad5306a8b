// One part of a problem: its question, the answer's field, the verdict, the hints.

import { button, make, printed } from "./dom.js";
import { CHARGE } from "./equation.js";
import { formCalled } from "./forms.js";
import { rules } from "./rules.js";
import { canSay, say } from "./text.js";

/** What a student can ask for, one after the other: three hints, each called by what it asks, and the solution. */
const STEPS = ["relation", "numbers", "setup", "solution"];

/** A part on the page. `handlers` are { onCheck, onHelp }; `hints` gives the HTML of a step, by its number. */
export class PartView {
  constructor(part, decimalMark, handlers, hints) {
    this.part = part;
    this.shown = 0;
    this.hints = hints;
    this.handlers = handlers;
    this.field = formCalled(part.form).field(part);
    this.verdict = make("div", { class: "verdict", id: `verdict-${part.label}` });
    this.help = make("div", { class: "help" });
    this.more = button(say("hint.relation"), () => this.showHint(), { class: "plain" });
    this.element = make(
      "form",
      { class: "part", "aria-labelledby": `prompt-${part.label}`, onsubmit: (event) => this.check(event) },
      make(
        "div",
        { class: "prompt", id: `prompt-${part.label}` },
        make("strong", {}, `(${part.label}) `),
        printed("span", part.prompt),
      ),
      make("div", { class: "entry" }, this.field.element, make("button", { type: "submit" }, say("part.check"))),
      this.verdict,
      this.help,
      this.more,
    );
  }

  get wrote() {
    return this.field.wrote();
  }

  check(event) {
    event.preventDefault();
    this.handlers.onCheck(this.part.label);
  }

  /** Show a result, and return the sentence that tells it aloud. */
  show(result) {
    if (result.verdict === "blank") {
      this.verdict.replaceChildren();
      return say("part.empty", { label: this.part.label });
    }
    const minded = result.verdict === "right" && result.remarks.length ? "right.minded" : result.verdict;
    const title = say(`verdict.${minded}`);
    const sentences = [sentenceOf(result), ...result.remarks.map(remarkText)].filter(Boolean);
    const read = result.read ? say("part.read", { read: result.read }) : "";
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
    );
    return [say("part.label", { label: this.part.label }), `${title}.`, read, ...sentences].filter(Boolean).join(" ");
  }

  showHint() {
    const step = STEPS[this.shown];
    const opened = make(
      "section",
      { class: `hint ${step}`, tabindex: -1 },
      make("h2", {}, say(`hint.${step}`)),
      printed("div", this.hints(this.shown)),
    );
    this.help.append(opened);
    this.shown += 1;
    const next = STEPS[this.shown];
    this.more.hidden = !next;
    if (next) this.more.textContent = say(`hint.${next}`);
    opened.focus();
    this.handlers.onHelp(step);
  }
}

/** What is said of a result: by its reason where the catalogue has it, else by its verdict. */
function sentenceOf(result) {
  if (result.verdict === "mistake") return mistakeSentence(result);
  if (result.verdict === "wrong" && result.values.parts?.length) return say("said.wrong-after", result.values);
  if (result.reason === "unbalanced")
    return say("reason.unbalanced", { elements: result.values.uneven.map(unevenText).join(", ") });
  const key = [`reason.${result.reason.split(":")[0]}`, `said.${result.verdict}`].find(canSay);
  return key ? say(key, result.values) : "";
}

/** What does not balance: an element's symbol, or "charge". */
const unevenText = (one) => (one === CHARGE ? say("unbalanced.charge") : one);

/** "This looks like …": one mistake, two together, or one of several. */
function mistakeSentence({ key: named, titles, hints, values }) {
  if (named) return say(`named.${named}`, values);
  const told = titles.map((together) => together.join(` ${say("mistake.together")} `));
  const key = told.length > 1 ? "mistake.several" : titles[0].length > 1 ? "mistake.two" : "mistake.one";
  return `${say(key, { titles: told.join("; ") })} ${hints.join(" ")}`;
}

const remarkText = (remark) => say(`remark.${remark.key}`, remark.values);
