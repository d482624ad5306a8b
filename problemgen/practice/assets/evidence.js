// What the results of a problem say of the ideas that its parts exercise.

import { ideaOf } from "./page.js";

/**
 * Pairs [idea, "missed" or "right"] of a template's results, the missed first: a named mistake is one of the idea that it
 * is made at; a right part says so of all its ideas, where `counts` says of its label that it does.
 */
export function evidenceOf(template, results, counts) {
  const said = results.flatMap((result) => {
    const { ideas } = template.parts.find((part) => part.label === result.label);
    if (result.mistakes.length) return result.mistakes.map((id) => [ideaOf(template, id) ?? ideas[0], "missed"]);
    return result.verdict === "right" && counts(result.label) ? ideas.map((key) => [key, "right"]) : [];
  });
  return said.sort(([, a], [, b]) => a.localeCompare(b));
}
