// Answers that the right way leads to when results on the way are rounded further than an honest worker may.

import { unlessDividingByZero } from "./bench.js";
import { stepsSince } from "./paths.js";
import { greaterOf, lesserOf } from "./rational.js";
import { exponentOf, roundToPlace } from "./rounding.js";
import { rules } from "./rules.js";
import { windowOf, workedStep } from "./windows.js";

const toFigures = (value, figures) => roundToPlace(value, exponentOf(value) - figures + 1);

/** A window with what its bounds are when they are rounded as well. */
function roundedToo(window) {
  const { figures } = rules.rounded_early;
  const bounds = [window.low, window.high];
  const both = [...bounds, ...bounds.filter((one) => !one.isZero).map((one) => toFigures(one, figures))];
  return windowOf(window.value, both.reduce(lesserOf), both.reduce(greaterOf), window.figures);
}

/** Whether results rounded to two figures lead from a state of the problem to an answer. */
export function isRoundedEarly(bench, asked, said, start) {
  const steps = stepsSince(bench.plan, asked.quantity, bench.carried);
  const before = new Set(steps.filter((step) => step.id !== asked.quantity).map((step) => step.id));
  const windows = unlessDividingByZero(() => {
    const result = new Map(start);
    const dirty = new Set();
    for (const step of steps) {
      if (!before.has(step.id) && !step.needs.some((name) => dirty.has(name))) continue;
      const window = workedStep(step, step.expression, result, bench.leastFigures);
      result.set(step.id, before.has(step.id) ? roundedToo(window) : window);
      dirty.add(step.id);
    }
    return result;
  });
  if (windows === null) return false;
  const reached = bench.answer(said, windows);
  const farthest = reached.value.size().times(rules.rounded_early.farthest);
  const low = greaterOf(reached.low, reached.value.minus(farthest));
  const high = lesserOf(reached.high, reached.value.plus(farthest));
  return said.value.isWithin(low, high);
}
