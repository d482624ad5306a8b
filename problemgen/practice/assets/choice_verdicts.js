// Judging a choice: the limiting reagent, by the right numbers or by the student's own; any other by itself.

import { RIGHT, finding } from "./findings.js";
import { mistakesBehindChoice, namedFinding } from "./mistakes.js";

/** The result of a part that asks for a reagent: the page offers them, so what is chosen is one of them, by its id. */
export function judgeChoice(bench, part, truth, chosen) {
  if (!chosen) return finding("blank", "blank");
  const found = choiceFinding(bench, truth, chosen);
  if (found.verdict === "right") bench.rightParts.set(part.asked.quantity, part.label);
  else {
    bench.carryChoice(chosen);
    bench.answerKnown(part.asked);
  }
  bench.chosen = chosen;
  return found;
}

/** The result of a part that asks for one of its options, from which nothing follows. */
export function judgeOption(_bench, _part, truth, chosen) {
  if (!chosen) return finding("blank", "blank");
  return chosen === truth.text ? RIGHT : finding("wrong", "no-match");
}

function choiceFinding(bench, truth, chosen) {
  if (chosen === truth.choice) return RIGHT;
  if (bench.carried.size && bench.ownLeast() === chosen) return finding("follows", "follow-through");
  const ways = mistakesBehindChoice(bench, chosen);
  return ways.length ? namedFinding(bench, ways) : finding("wrong", "no-match");
}
