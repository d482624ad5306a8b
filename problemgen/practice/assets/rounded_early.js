// Answers that the right way leads to when results on the way are rounded further than an honest worker may.

import { unlessDividingByZero } from "./paper.js";
import { stepsSince } from "./paths.js";
import { greaterOf, lesserOf } from "./rational.js";
import { exponentOf, roundToPlace } from "./rounding.js";
import { rules } from "./rules.js";
import { windowOf, workedStep } from "./windows.js";

const toFigures = (value, figures) => roundToPlace(value, exponentOf(value) - figures + 1);

/** A window with what its bounds are when they are rounded to so many figures as well. */
function roundedToo(window, figures) {
  const bounds = [window.low, window.high];
  const both = [...bounds, ...bounds.filter((one) => !one.isZero).map((one) => toFigures(one, figures))];
  return windowOf(window.value, both.reduce(lesserOf), both.reduce(greaterOf), window.figures);
}

/** Whether results rounded to so many figures lead from a state of the problem as far as to an answer. */
export function isRoundedEarly(paper, asked, said, start, figures) {
  const steps = stepsSince(paper.plan, asked.quantity, paper.carried);
  const before = new Set(steps.filter((step) => step.id !== asked.quantity).map((step) => step.id));
  const windows = unlessDividingByZero(() => {
    const result = new Map(start);
    const dirty = new Set();
    for (const step of steps) {
      if (!before.has(step.id) && !step.needs.some((name) => dirty.has(name))) continue;
      const window = workedStep(step, step.expression, result, paper.leastFigures);
      result.set(step.id, before.has(step.id) ? roundedToo(window, figures) : window);
      dirty.add(step.id);
    }
    return result;
  });
  if (windows === null) return false;
  const reached = paper.answer(said, windows);
  const farthest = reached.value.size().times(rules.closeness.farthest);
  const reach = greaterOf(reached.high.minus(reached.value), reached.value.minus(reached.low));
  return said.value.minus(reached.value).size().compare(lesserOf(farthest, reach)) <= 0;
}
