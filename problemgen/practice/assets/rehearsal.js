// A rehearsal: some problems in a row as on a sheet, without checks and without help, marked at the end.

import { button, heading, make } from "./dom.js";
import { judgeProblem } from "./judge.js";
import { problemKey, templateKey, wholeTemplate } from "./page.js";
import { MINUTE } from "./start_view.js";
import { say } from "./text.js";

/**
 * What came of problems, by their names "TEMPLATE:CODE": { name, title, whole (the template), problem, draft, results,
 * right } of each, by what was written in their drafts. One that the page does not hold is left out.
 */
export async function markedDrafts(page, names, draftOf) {
  const marked = [];
  for (const name of names) {
    const [id, code] = name.split(":");
    const template = page.templates.find((one) => one.id === id && one.codes.includes(code));
    if (!template) continue;
    // Three problems, one after the other: what took a moment to unpack when it was opened is kept.
    const whole = await wholeTemplate(template); // oxlint-disable-line no-await-in-loop
    const problem = whole.problems.find((one) => one.code === code);
    const draft = draftOf(name);
    const results = judgeProblem(templateKey(whole), problemKey(problem), draft.answers, page.decimal_mark);
    const right = results.filter((result) => result.verdict === "right").length;
    marked.push({ name, title: template.title, whole, problem, draft, results, right });
  }
  return marked;
}

/** A draft after it was handed in: all of it checked, so that its verdicts stand beside the answers. */
export function handedIn(draft, results) {
  const labels = results.map((result) => result.label);
  return { ...draft, checked: labels, tried: labels };
}

/** The end of a rehearsal: each problem with how many of its answers were right, and the way back to it. */
export function rehearsalView(marked, since, actions) {
  const entry = ({ name, title, right, of }) =>
    make(
      "li",
      {},
      button(title, () => actions.onOpen(name), { class: "plain" }),
      ": ",
      say("problem.sum", { n: right, of }),
    );
  return make(
    "section",
    { class: "start" },
    heading(1, say("rehearsal.over")),
    make("p", {}, say("rehearsal.took", { n: Math.max(1, Math.round((Date.now() - since) / MINUTE)) })),
    make("ol", { class: "rehearsed" }, marked.map(entry)),
    make("p", {}, say("rehearsal.look")),
    make("div", { class: "actions" }, button(say("problem.on"), actions.onGoOn, { class: "main" })),
  );
}
