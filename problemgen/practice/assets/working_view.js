// The student's own working of a part: lines, each with what the page makes of it.

import { button, make, printed } from "./dom.js";
import { say } from "./text.js";
import { judgeLine, ownSteps } from "./working.js";

/** More lines than any part needs: what is kept of a problem stays small. */
const MOST_LINES = 20;

/** The sign and the words of a line's state: it holds, it departs from the way, it is not read. */
const HOLDS = { step: "✓", given: "✓" };

/**
 * "My working" of a part. `scene` gives what a line is judged by (see working.js) as it stands now; `onChange` is called
 * when there is something to keep.
 */
export class WorkingView {
  constructor(label, scene, onChange) {
    Object.assign(this, { label, scene, onChange, lines: [], next: null });
    this.input = make("input", {
      type: "text",
      id: `line-${label}`,
      class: "wide",
      autocomplete: "off",
      autocapitalize: "off",
      spellcheck: "false",
      dir: "ltr",
      oninput: () => onChange(),
      onkeydown: (event) => this.entered(event),
    });
    this.wanted = make("p", { class: "wanted", hidden: true });
    this.list = make("ol", { class: "lines" });
    this.told = make("p", { class: "unseen", role: "status" });
    this.element = make(
      "details",
      { class: "working", ontoggle: () => this.show() },
      make("summary", {}, say("working.title")),
      make("p", { class: "quiet" }, say("working.how")),
      this.list,
      this.wanted,
      make(
        "div",
        { class: "entry" },
        make("label", { for: `line-${label}`, class: "unseen" }, say("working.line", { label })),
        this.input,
        button(say("working.check"), () => this.take()),
      ),
      this.told,
    );
  }

  /** What is kept of it: the lines, and the one that is being written. */
  get wrote() {
    return [...this.lines, this.input.value];
  }

  restore(wrote) {
    this.lines = wrote.slice(0, -1).slice(0, MOST_LINES);
    this.input.value = wrote.at(-1) ?? "";
    this.element.open = this.lines.length > 0 || this.input.value !== "";
  }

  entered(event) {
    if (event.key !== "Enter") return;
    event.preventDefault(); // the part around it would take the answer as handed in
    this.take();
  }

  take() {
    const line = this.input.value.trim();
    if (!line || this.lines.length >= MOST_LINES) return;
    this.lines.push(line);
    this.input.value = "";
    const last = this.show().at(-1);
    this.told.textContent = lineText(last);
    this.onChange();
    this.input.focus();
  }

  /** A line goes back to where it can be mended. */
  takeBack(index) {
    [this.input.value] = this.lines.splice(index, 1);
    this.show();
    this.onChange();
    this.input.focus();
  }

  /** Look for one step, by its number in the plan: the one that went wrong. */
  lookFor(step) {
    this.element.open = true;
    this.next = step;
    this.show();
    this.input.focus();
  }

  /** Judge all lines as they stand now, and show what they amount to. */
  show() {
    if (!this.element.open) return [];
    const scene = this.scene();
    const amounts = [];
    for (const line of this.lines) amounts.push(judgeLine(scene, line, amounts, this.next));
    const item = (line, index) => {
      const { key } = amounts[index];
      return make(
        "li",
        { class: HOLDS[key] ? "holds" : "departs" },
        button(line, () => this.takeBack(index), {
          class: "plain",
          dir: "ltr",
          "aria-label": say("working.again", { line }),
        }),
        " ",
        make("span", { class: "sign", "aria-hidden": "true" }, HOLDS[key] ?? "✗"),
        " ",
        lineWords(amounts[index], scene.template),
      );
    };
    this.list.replaceChildren(...this.lines.map(item));
    this.ask(scene, amounts);
    return amounts;
  }

  /** Ask for the step that is looked for; once it is there, for the one behind it. */
  ask({ template, key }, amounts) {
    const done = new Set(amounts.filter((one) => one.key === "step").map((one) => one.step));
    const open = ownSteps(template, key, this.label).filter((step) => step >= this.next && !done.has(step));
    const isAsked = this.next !== null && open.length > 0;
    this.wanted.hidden = !isAsked;
    if (isAsked) this.wanted.replaceChildren(printed("span", template.step_words[open[0]][0]), " = ?");
  }
}

/** What a line amounts to, in words: a step by its symbol. */
function lineWords(amount, template) {
  const words = make("span", { class: "quiet" }, lineText(amount));
  if (amount.step === undefined) return words;
  return make("span", {}, words, " ", printed("span", template.step_words[amount.step][0]));
}

function lineText({ key, values, result }) {
  if (result && key === "mistake") return say("working.mistake", { title: result.titles[0].join(" ") });
  return key.startsWith("calculator.") ? say(key, values) : say(`working.${key}`, values);
}
