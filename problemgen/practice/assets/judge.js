// Judging the answers to one problem, by the rules of the instructor's program and in its order.

import { Paper } from "./paper.js";

/**
 * Judge all parts: { label, verdict, reason, mistakes, hints, titles, remarks, read, values } each, in order. `cells`
 * holds what was written, by label.
 */
export function judgeProblem(template, key, cells, decimalMark) {
  const paper = new Paper(template, key, decimalMark);
  return template.parts.map((part) => ({
    label: part.label,
    read: "",
    remarks: [],
    hints: [],
    titles: [],
    values: {},
    ...part.judge(paper, part, paper.truths.get(part.id), cells[part.label] ?? ""),
  }));
}
