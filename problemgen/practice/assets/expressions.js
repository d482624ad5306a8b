// Expressions of a plan, nested arrays over a closed list of operations, worked in one arithmetic or the other: in
// windows, or in floats. An arithmetic has the operations that the instructor's program has in its own.

import { Rational } from "./rational.js";

const FOLDED = { add: "add", mul: "multiply", min: "lesser", max: "greater" };
const SINGLE = { div: "divide", neg: "negate", floor: "floor", round: "nearest" };
const NUMBERS = new Map();

/** A number of an expression, read once: plans are worked thousands of times. */
function numberOf(text) {
  if (!NUMBERS.has(text)) NUMBERS.set(text, Rational.of(text));
  return NUMBERS.get(text);
}

/** The value of an expression; `known` holds the values of the quantities by id. */
export function evaluate(expression, known, arithmetic) {
  if (typeof expression === "string") {
    if (!known.has(expression)) throw new ReferenceError(`no value for ${expression}`);
    return known.get(expression);
  }
  const [head, ...rest] = expression;
  const value = (operand) => evaluate(operand, known, arithmetic);
  if (head in FOLDED) return rest.map(value).reduce((a, b) => arithmetic[FOLDED[head]](a, b));
  if (head in SINGLE) return arithmetic[SINGLE[head]](...rest.map(value));
  switch (head) {
    case "num":
      return arithmetic.number(numberOf(rest[0]));
    case "pow":
      return powerOf(value(rest[0]), rest[1], arithmetic);
    case "whole":
      return arithmetic.whole(rest[0], rest.slice(1).map(value));
    case "least":
      return leastOf(
        rest.map(([key, one]) => [value(key), value(one)]),
        arithmetic,
      );
    default:
      throw new SyntaxError(`not an operation: ${head}`);
  }
}

function powerOf(base, exponent, arithmetic) {
  const product = Array(Math.abs(exponent))
    .fill(base)
    .reduce((a, b) => arithmetic.multiply(a, b));
  return exponent > 0 ? product : arithmetic.divide(arithmetic.number(numberOf("1")), product);
}

function leastOf([[key, value], ...others], arithmetic) {
  let [least, beside] = [key, value];
  for (const [other, one] of others) {
    beside = arithmetic.besideLesser(least, beside, other, one);
    least = arithmetic.lesser(least, other);
  }
  return beside;
}

/** The quantities that an expression looks up, by id. */
export function namesIn(expression, found = new Set()) {
  if (typeof expression === "string") return found.add(expression);
  const [head, ...rest] = expression;
  if (head === "num") return found;
  if (head === "least") rest.flat().forEach((one) => namesIn(one, found));
  else if (head === "pow") namesIn(rest[0], found);
  else (head === "whole" ? rest.slice(1) : rest).forEach((one) => namesIn(one, found));
  return found;
}
