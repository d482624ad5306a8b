// Many ways of working one problem, in floats: a first look that tells which are worth working exactly.

import { exponentOf } from "./rounding.js";
import { tenTo } from "./rational.js";

const ENOUGH_DIGITS = 18;

/** The nearest float, or nearly; infinite where none is near. */
export function asFloat(value) {
  if (value.isZero) return 0;
  const power = exponentOf(value);
  const shift = ENOUGH_DIGITS - power;
  const digits = shift >= 0 ? (value.n * tenTo(shift)) / value.d : value.n / (value.d * tenTo(-shift));
  return Number(`${digits}e${-shift}`);
}

const near = Math.abs;

function wholeOf(index, amounts) {
  const least = Math.min(...amounts);
  const ratios = amounts.map((amount) => amount / least);
  const times =
    [1, 2, 3, 4, 5, 6, 7, 8].find((n) => ratios.every((r) => near(n * r - Math.floor(n * r + 0.5)) <= 0.1)) ?? 1;
  return Math.floor(times * ratios[index] + 0.5);
}

/** The float of an expression; nan or infinite where it cannot be worked. */
function floatOf(expression, known) {
  if (typeof expression === "string") return known.get(expression);
  const [head, ...rest] = expression;
  const value = (operand) => floatOf(operand, known);
  switch (head) {
    case "num": {
      const [over, under = "1"] = rest[0].split("/");
      return Number(over) / Number(under);
    }
    case "add":
      return rest.map(value).reduce((a, b) => a + b);
    case "mul":
      return rest.map(value).reduce((a, b) => a * b);
    case "min":
      return Math.min(...rest.map(value));
    case "max":
      return Math.max(...rest.map(value));
    case "div":
      return value(rest[0]) / value(rest[1]);
    case "neg":
      return -value(rest[0]);
    case "pow":
      return value(rest[0]) ** rest[1];
    case "floor":
      return Math.floor(value(rest[0]));
    case "round":
      return Math.floor(value(rest[0]) + 0.5);
    case "whole":
      return wholeOf(rest[0], rest.slice(1).map(value));
    case "least":
      return rest.map(([key, one]) => [value(key), value(one)]).reduce((a, b) => (a[0] <= b[0] ? a : b))[1];
    default:
      throw new SyntaxError(`not an operation: ${head}`);
  }
}

/** A float rounded to figures, or to a place. */
function roundedFloat(value, { figures, place }) {
  const at = figures ? Math.floor(Math.log10(near(value)) + 1e-12) - figures + 1 : place;
  const unit = 10 ** at;
  return Math.floor(value / unit + 0.5) * unit;
}

/** The values that one way changes, by quantity; `rewrites` and `roundings` by the id of a step. */
export function variedFloats(steps, right, rewrites, roundings = new Map()) {
  const known = new Map(right);
  const varied = new Map();
  for (const step of steps) {
    const isChanged = rewrites.has(step.id) || roundings.has(step.id);
    const isStale = step.needs.some((name) => varied.has(name));
    if (!isChanged && !isStale) continue;
    let result =
      rewrites.has(step.id) || isStale ? floatOf(rewrites.get(step.id) ?? step.expression, known) : right.get(step.id);
    if (roundings.has(step.id)) result = roundedFloat(result, roundings.get(step.id));
    known.set(step.id, result);
    varied.set(step.id, result);
  }
  return varied;
}
