// A rehearsal: some problems in a row as on a sheet, without checks and without help, marked at the end.

import { button, heading, make } from "./dom.js";
import { judgeProblem } from "./judge.js";
import { problemKey, templateKey } from "./page.js";
import { MINUTE } from "./start_view.js";
import { say } from "./text.js";

/** What came of one problem: { results, right }, of what was written in a draft. */
export function markedDraft({ whole, problem }, draft, decimalMark) {
  const results = judgeProblem(templateKey(whole), problemKey(problem), draft.answers, decimalMark);
  return { results, right: results.filter((result) => result.verdict === "right").length };
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
