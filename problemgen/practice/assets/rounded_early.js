// Answers that the right way leads to when a result on the way is rounded further than an honest worker may.

import { stepsTo, unlessDividingByZero } from "./bench.js";
import { asFloat, variedFloats } from "./floats.js";
import { exponentOf, roundToPlace } from "./rounding.js";
import { rules } from "./rules.js";
import { windowOf, windowValues, workedStep } from "./windows.js";

const roundingTo = (steps, rounding) => new Map(steps.map((step) => [step.id, rounding(step)]));

/** The ways to round too early on the way to a quantity, in the order of trial: maps from a step's id to its rounding. */
function waysToRound(steps, asked) {
  const before = steps.filter((step) => step.id !== asked);
  const ways = rules.rounded_early.habits.flatMap(([figures, places, of]) => {
    const mine = before.filter((step) => step.rounding === of);
    if (!figures) {
      const cut = mine.filter((step) => places.has(step.kind));
      return [roundingTo(cut, (step) => ({ figures: 0, place: places.get(step.kind) }))];
    }
    const toFigures = (some) => roundingTo(some, () => ({ figures, place: 0 }));
    return [...mine.map((step) => toFigures([step])), ...(mine.length > 1 ? [toFigures(mine)] : [])];
  });
  return ways.filter((way) => way.size);
}

const roundedBy =
  ({ figures, place }) =>
  (value) =>
    roundToPlace(value, figures ? (value.isZero ? 0 : exponentOf(value) - figures + 1) : place);

function alteredWindows(bench, steps, roundings, start) {
  const result = new Map(start);
  const dirty = new Set();
  for (const step of steps) {
    if (!roundings.has(step.id) && !step.needs.some((name) => dirty.has(name))) continue;
    let window = workedStep(step, step.expression, result, bench.leastFigures);
    if (roundings.has(step.id)) {
      const rounded = roundedBy(roundings.get(step.id));
      window = windowOf(rounded(window.value), rounded(window.low), rounded(window.high), window.figures);
    }
    result.set(step.id, window);
    dirty.add(step.id);
  }
  return result;
}

/** Whether some way of rounding too early leads from a state of the problem to an answer. */
export function isRoundedEarly(bench, asked, said, start) {
  const name = asked.quantity;
  const right = new Map([...start].map(([one, window]) => [one, asFloat(window.value)]));
  const target = asFloat(said.engine);
  const { farthest, loose } = rules.rounded_early;
  if (!(Math.abs(target - right.get(name)) <= farthest * Math.abs(right.get(name)))) return false;
  const fixed = new Set([...bench.carried.keys()].filter((one) => one !== name));
  const steps = stepsTo(bench.plan, name).filter((step) => !fixed.has(step.id));
  for (const way of waysToRound(steps, name)) {
    const reached = variedFloats(steps, right, new Map(), way).get(name) ?? right.get(name);
    if (!(Math.abs(reached - target) <= loose * Math.abs(target))) continue;
    const windows = unlessDividingByZero(() => alteredWindows(bench, steps, way, start));
    if (windows !== null && bench.fits(said, windows)) return true;
  }
  return hasShortWeights(bench, said, fixed);
}

/** Atomic weights cut shorter than an honest worker takes them. */
function hasShortWeights(bench, said, fixed) {
  const steps = stepsTo(bench.plan, said.asked.quantity);
  const needed = new Set(steps.flatMap((step) => step.needs));
  const isWeight = (constant) => constant.kind === "atomic_weight";
  if (!bench.plan.constants.some((constant) => isWeight(constant) && needed.has(constant.id))) return false;
  const given = new Map([...bench.given, ...[...fixed].map((name) => [name, bench.carried.get(name)])]);
  return rules.rounded_early.short_weights.some((place) => {
    const constants = bench.plan.constants.map((constant) => {
      if (!isWeight(constant)) return constant;
      const value = roundToPlace(constant.value, place);
      return { ...constant, value, low: value, high: value };
    });
    const windows = unlessDividingByZero(() => windowValues({ ...bench.plan, constants }, given, steps));
    return windows !== null && bench.fits(said, windows);
  });
}
