// Many ways of working one problem, in floats: a first look that tells which are worth working exactly.

import { evaluate } from "./expressions.js";
import { tenTo } from "./rational.js";
import { exponentOf } from "./rounding.js";
import { rules } from "./rules.js";

/** A float holds 17 decimal digits at most. */
const ENOUGH_DIGITS = 18;
/** A power of ten may come out of the logarithm a little less than it is. */
const LOGARITHM_ERROR = 1e-12;

/** The nearest float, or nearly; infinite where none is near. */
export function asFloat(value) {
  if (value.isZero) return 0;
  const power = exponentOf(value);
  const shift = ENOUGH_DIGITS - power;
  const digits = shift >= 0 ? (value.n * tenTo(shift)) / value.d : value.n / (value.d * tenTo(-shift));
  return Number(`${digits}e${-shift}`);
}

const READ = new WeakMap();

/** The float of a number that stands in an expression, worked once. */
function floatOnce(value) {
  if (!READ.has(value)) READ.set(value, asFloat(value));
  return READ.get(value);
}

const nearestTo = (value) => Math.floor(value + 0.5);

function wholeOf(index, amounts) {
  const { least_whole, multiples } = rules.windows;
  const least = Math.min(...amounts);
  const ratios = amounts.map((amount) => amount / least);
  const isNear = (ratio) => Math.abs(ratio - nearestTo(ratio)) <= floatOnce(least_whole);
  const times = multiples.find((multiple) => ratios.every((ratio) => isNear(multiple * ratio))) ?? 1;
  return nearestTo(times * ratios[index]);
}

/** The arithmetic of floats: nan or infinite where something cannot be worked. */
const FLOATS = {
  number: floatOnce,
  add: (a, b) => a + b,
  multiply: (a, b) => a * b,
  divide: (a, b) => a / b,
  negate: (a) => -a,
  lesser: (a, b) => Math.min(a, b),
  greater: (a, b) => Math.max(a, b),
  floor: Math.floor,
  nearest: nearestTo,
  whole: wholeOf,
  besideLesser: (keyA, a, keyB, b) => (keyA <= keyB ? a : b),
};

/** A float rounded to figures, or to a place. */
function roundedFloat(value, { figures, place }) {
  const at = figures ? Math.floor(Math.log10(Math.abs(value)) + LOGARITHM_ERROR) - figures + 1 : place;
  const unit = 10 ** at;
  return nearestTo(value / unit) * unit;
}

/** The values that one way changes, by quantity; `rewrites` and `roundings` by the id of a step. */
export function variedFloats(steps, right, rewrites, roundings = new Map()) {
  const known = new Map(right);
  const varied = new Map();
  for (const step of steps) {
    const isChanged = rewrites.has(step.id) || roundings.has(step.id);
    const isStale = step.needs.some((name) => varied.has(name));
    if (!isChanged && !isStale) continue;
    let result = right.get(step.id);
    if (rewrites.has(step.id) || isStale) result = evaluate(rewrites.get(step.id) ?? step.expression, known, FLOATS);
    if (roundings.has(step.id)) result = roundedFloat(result, roundings.get(step.id));
    known.set(step.id, result);
    varied.set(step.id, result);
  }
  return varied;
}
