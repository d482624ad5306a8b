// Answers that stand in the wrong place: another part's right answer, or a value of the sheet copied.

import { rules } from "./rules.js";
import { toEngine } from "./windows.js";

function otherPart(paper, part, said) {
  return paper.parts.find((other) => {
    const { unit } = other.asked;
    const truth = paper.truths.get(other.id);
    if (other === part || !truth?.isNumber || unit.dimension !== part.asked.unit.dimension) return false;
    return said.engine.isWithin(toEngine(unit, truth.low), toEngine(unit, truth.high));
  });
}

function isCopyOf(said, { value, figures, unit }) {
  const isSame =
    value.equals(said.value) ||
    (unit.dimension === said.asked.unit.dimension && toEngine(unit, value).equals(said.engine));
  return isSame && said.written >= figures && figures >= rules.mix_ups.figures;
}

/** What a wrong answer is a copy of: { reason, key, values }; null where it is none. */
export function mixedUp(paper, part, said) {
  const other = otherPart(paper, part, said);
  if (other) return { reason: `answer-of:${other.label}`, key: "otherpart", values: { part: other.label } };
  for (const [name, printed] of paper.printed) {
    if (isCopyOf(said, printed)) return { reason: `copied:${name}`, key: "copied", values: { value: printed.text } };
  }
  return null;
}
