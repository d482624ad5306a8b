// Expressions worked in plain floats, for a look at many ways to work one problem: what cannot be worked is nan. The same
// operations in the same order as in the instructor's program, so that both come to the same numbers.

import { evaluate } from "./expressions.js";
import { tenTo } from "./rational.js";
import { exponentOf } from "./rounding.js";
import { rules } from "./rules.js";

/** A float holds 17 decimal digits at most. */
const ENOUGH_DIGITS = 18;

/** The nearest float, or nearly; infinite where none is near. */
export function asFloat(value) {
  if (value.isZero) return 0;
  const power = exponentOf(value);
  const shift = ENOUGH_DIGITS - power;
  const digits = shift >= 0 ? (value.n * tenTo(shift)) / value.d : value.n / (value.d * tenTo(-shift));
  return Number(`${digits}e${-shift}`);
}

const READ = new WeakMap();

/** The float of an exact number that is looked up again and again, worked once. */
export function floatOnce(value) {
  if (!READ.has(value)) READ.set(value, asFloat(value));
  return READ.get(value);
}

const nearestTo = (value) => Math.floor(value + 0.5);
const divided = (a, b) => (b === 0 ? NaN : a / b);

function wholeOf(index, amounts) {
  const { least_whole, multiples } = rules.windows;
  const least = Math.min(...amounts);
  const ratios = amounts.map((amount) => divided(amount, least));
  const isNear = (ratio) => Math.abs(ratio - nearestTo(ratio)) <= floatOnce(least_whole);
  const times = multiples.find((multiple) => ratios.every((ratio) => isNear(multiple * ratio))) ?? 1;
  return nearestTo(times * ratios[index]);
}

/** The arithmetic of floats: nan where something cannot be worked. */
const FLOATS = {
  number: floatOnce,
  add: (a, b) => a + b,
  multiply: (a, b) => a * b,
  divide: divided,
  negate: (a) => -a,
  lesser: (a, b) => Math.min(a, b),
  greater: (a, b) => Math.max(a, b),
  floor: Math.floor,
  nearest: nearestTo,
  whole: wholeOf,
  besideLesser: (keyA, a, keyB, b) => (keyA <= keyB ? a : b),
};

/** The value of an expression; `values` holds those of the quantities by id. */
export const plainValue = (expression, values) => evaluate(expression, values, FLOATS);
