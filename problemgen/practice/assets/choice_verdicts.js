// Judging a choice: the limiting reagent, by the right numbers or by the student's own; any other by itself.

import { RIGHT, finding } from "./findings.js";
import { mistakesBehindChoice, namedFinding } from "./mistakes.js";

/** The result of a part that asks for a reagent: the page offers them, so what is chosen is one of them, by its id. */
export function judgeChoice(paper, part, truth, chosen) {
  if (!chosen) return finding("blank", "blank");
  const found = choiceFinding(paper, truth, chosen);
  if (found.verdict === "right") paper.rightParts.set(part.asked.quantity, part.label);
  else {
    paper.carryChoice(chosen);
    paper.answerKnown(part.asked);
  }
  paper.chosen = chosen;
  return found;
}

/** The result of a part that asks for one of its options, from which nothing follows. */
export function judgeOption(_paper, _part, truth, chosen) {
  if (!chosen) return finding("blank", "blank");
  return chosen === truth.text ? RIGHT : finding("wrong", "no-match");
}

function choiceFinding(paper, truth, chosen) {
  if (chosen === truth.choice) return RIGHT;
  if (paper.carried.size && paper.leastCarried() === chosen) return finding("follows", "follow-through");
  const ways = mistakesBehindChoice(paper, chosen);
  return ways.length ? namedFinding(paper, ways) : finding("wrong", "no-match");
}
