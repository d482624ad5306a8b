// One problem: its data, its parts, and what to do next.

import { button, heading, make, printed } from "./dom.js";
import { judgeProblem } from "./judge.js";
import { unpacked } from "./packing.js";
import { problemKey, templateKey } from "./page.js";
import { PartView } from "./part_view.js";
import { say } from "./text.js";

const SOLUTION_STEP = 3;

/** A problem on the page. `handlers` are { onResults, onHelp, onSolved, onSame, onHarder, onLink }. */
export class ProblemView {
  constructor(page, template, problem, handlers) {
    Object.assign(this, {
      page,
      template,
      problem,
      handlers,
      checked: new Set(),
      solved: false,
      key: problemKey(problem),
    });
    this.live = make("p", { class: "unseen", role: "status", "aria-live": "polite" });
    this.end = make("div", { class: "end" });
    const fragment = (packed) => unpacked(page.skeletons, packed);
    this.parts = template.parts.map((part, i) => {
      const helps = problem.help[i];
      const own = { onCheck: (label) => this.check([label]), onHelp: () => handlers.onHelp() };
      return new PartView(part, page.decimal_mark, own, (step) => fragment(helps[Math.min(step, SOLUTION_STEP)]));
    });
    this.element = make(
      "article",
      { class: "problem" },
      heading(1, template.title),
      make(
        "p",
        { class: "quiet" },
        say("problem.about", { topic: template.topic, level: say(`level.${template.level}`) }),
      ),
      printed("div", fragment(problem.story), { class: "story" }),
      template.scheme ? printed("div", template.scheme) : null,
      printed("div", fragment(problem.numbers), { class: "numbers" }),
      this.live,
      this.parts.map((part) => part.element),
      make(
        "div",
        { class: "actions" },
        button(say("problem.all"), () => this.check(template.parts.map((part) => part.label))),
      ),
      this.end,
      this.nextActions(),
    );
  }

  nextActions() {
    const link = button(say("problem.link"), async () => {
      const copied = await this.handlers.onLink();
      this.live.textContent = say(copied ? "problem.link.copied" : "problem.link.shown");
      shown.textContent = copied ? say("problem.link.copied") : window.location.href;
    });
    const shown = make("p", { class: "quiet link", dir: "auto" });
    return make(
      "section",
      { class: "next", "aria-label": say("problem.next") },
      make(
        "div",
        { class: "actions" },
        button(say("problem.same"), this.handlers.onSame),
        button(say("problem.harder"), this.handlers.onHarder),
        button(say("problem.any"), this.handlers.onAny),
        link,
      ),
      shown,
    );
  }

  get cells() {
    return Object.fromEntries(this.parts.map((view) => [view.part.label, view.wrote]));
  }

  /** Judge all answers, and show the results of the labels, and of those shown before. */
  check(labels) {
    labels.forEach((label) => this.checked.add(label));
    const results = judgeProblem(templateKey(this.template), this.key, this.cells, this.page.decimal_mark);
    const told = [];
    results.forEach((result, i) => {
      if (!this.checked.has(result.label)) return;
      const sentence = this.parts[i].show(result);
      if (labels.includes(result.label)) told.push(sentence);
    });
    this.live.textContent = told.join(" ");
    this.handlers.onResults(results.filter((result) => labels.includes(result.label)));
    if (!this.solved && results.every((result) => result.verdict === "right")) this.finish();
  }

  finish() {
    this.solved = true;
    const helped = this.parts.some((part) => part.shown > 0);
    this.end.replaceChildren(
      make(
        "p",
        { class: "title right" },
        make("span", { class: "sign", "aria-hidden": "true" }, "✓"),
        " ",
        say(helped ? "problem.solved.helped" : "problem.solved.alone"),
      ),
    );
    this.live.textContent += ` ${say(helped ? "problem.solved.helped" : "problem.solved.alone")}`;
    this.handlers.onSolved(helped);
  }
}
