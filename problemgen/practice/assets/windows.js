// A plan of quantities worked in windows: a value, the bounds of what an honest worker may hold in its place, and
// the significant figures that its data support. The rules are those of the instructor's program.

import { ONE, Rational, greaterOf, lesserOf } from "./rational.js";
import { exponentOf, halfUnit, roundToPlace, trimmedOut } from "./rounding.js";

/** The figures of a number that sets no limit: a count, a coefficient, a constant. */
export const EXACT_FIGURES = 99;
/** An honest worker keeps at least so many figures of an intermediate result. */
export const LEAST_FIGURES = 3;
const UNLIMITED_FIGURES = 4;
const TRIM_FIGURES = 15;
const HUNDREDTHS = new Rational(1n, 200n);
const NEAR_WHOLE = new Rational(1n, 10n);
const FREEZING = Rational.of("273.15");
const SHORTENED_FREEZING = Rational.of("-0.15");

export const windowOf = (value, low, high, figures = EXACT_FIGURES) => ({ value, low, high, figures });
export const pointWindow = (value, figures = EXACT_FIGURES) => windowOf(value, value, value, figures);

const isPoint = (a) => a.low === a.value && a.high === a.value;
const lastPlace = (a) => exponentOf(a.value) - a.figures + 1;

function addWindows(a, b) {
  const value = a.value.plus(b.value);
  const place = Math.max(lastPlace(a), lastPlace(b));
  const figures = Math.max(exponentOf(value) - place + 1, 1);
  return windowOf(value, a.low.plus(b.low), a.high.plus(b.high), Math.min(figures, EXACT_FIGURES));
}

function monotonic(operation, a, b, first, second) {
  const figures = Math.min(a.figures, b.figures);
  const value = operation(a.value, b.value);
  if (isPoint(a) && isPoint(b)) return pointWindow(value, figures);
  if (a.low.isPositive && b.low.isPositive) {
    return windowOf(value, operation(a.low, first), operation(a.high, second), figures);
  }
  const corners = [a.low, a.high].flatMap((x) => [b.low, b.high].map((y) => operation(x, y)));
  return windowOf(value, corners.reduce(lesserOf), corners.reduce(greaterOf), figures);
}

const multiplyWindows = (a, b) => monotonic((x, y) => x.times(y), a, b, b.low, b.high);
/** The quotient; a RangeError where the divisor may be 0, whatever its value: no bounds hold then. */
function divideWindows(a, b) {
  if (!b.low.isPositive && !b.high.isNegative) throw new RangeError("division by zero");
  return monotonic((x, y) => x.over(y), a, b, b.high, b.low);
}

const negateWindow = (a) => windowOf(a.value.negative(), a.high.negative(), a.low.negative(), a.figures);

function picked(pick, a, b, first, second) {
  const figures = first.compare(second) <= 0 ? a.figures : b.figures;
  return windowOf(pick(a.value, b.value), pick(a.low, b.low), pick(a.high, b.high), figures);
}

const lesserWindow = (a, b) => picked(lesserOf, a, b, a.value, b.value);
const greaterWindow = (a, b) => picked(greaterOf, a, b, b.value, a.value);

function floorOf(value) {
  const whole = value.n / value.d;
  return new Rational(value.n < 0n && whole * value.d !== value.n ? whole - 1n : whole);
}

const floorWindow = (a) => windowOf(floorOf(a.value), floorOf(a.low), floorOf(a.high));

/** One of the least whole numbers whose ratio is that of the amounts, each as near as a tenth. */
function wholeIn(index, amounts) {
  const least = amounts.reduce(lesserOf);
  const ratios = amounts.map((amount) => amount.over(least));
  const near = (ratio) => ratio.minus(roundToPlace(ratio, 0)).size().compare(NEAR_WHOLE) <= 0;
  const scaled = (times) => ratios.map((ratio) => ratio.times(new Rational(BigInt(times))));
  const times = [1, 2, 3, 4, 5, 6, 7, 8].find((multiple) => scaled(multiple).every(near)) ?? 1;
  return roundToPlace(scaled(times)[index], 0);
}

/** What stands with the lesser key; where a worker may find either key the lesser, the bounds hold both. */
function besideLesser(keyA, a, keyB, b) {
  const first = keyA.value.compare(keyB.value) <= 0 ? a : b;
  if (keyB.low.compare(keyA.high) > 0) return windowOf(first.value, a.low, a.high, first.figures);
  if (keyA.low.compare(keyB.high) > 0) return windowOf(first.value, b.low, b.high, first.figures);
  return windowOf(first.value, lesserOf(a.low, b.low), greaterOf(a.high, b.high), first.figures);
}

function leastPair([[key, value], ...others]) {
  let [least, beside] = [key, value];
  for (const [other, one] of others) {
    beside = besideLesser(least, beside, other, one);
    least = lesserWindow(least, other);
  }
  return beside;
}

function powerOf(base, exponent) {
  const product = Array(Math.abs(exponent)).fill(base).reduce(multiplyWindows);
  return exponent > 0 ? product : divideWindows(pointWindow(ONE), product);
}

const FOLDED = { add: addWindows, mul: multiplyWindows, min: lesserWindow, max: greaterWindow };

/** The window of an expression; `known` holds the windows of the quantities by id. A RangeError where 0 divides. */
export function evaluateIn(expression, known) {
  if (typeof expression === "string") {
    if (!known.has(expression)) throw new ReferenceError(`no value for ${expression}`);
    return known.get(expression);
  }
  const [head, ...rest] = expression;
  const value = (operand) => evaluateIn(operand, known);
  if (head in FOLDED) return rest.map(value).reduce(FOLDED[head]);
  switch (head) {
    case "num":
      return pointWindow(Rational.of(rest[0]));
    case "div":
      return divideWindows(value(rest[0]), value(rest[1]));
    case "neg":
      return negateWindow(value(rest[0]));
    case "pow":
      return powerOf(value(rest[0]), rest[1]);
    case "floor":
      return floorWindow(value(rest[0]));
    case "round":
      return pointWindow(roundToPlace(value(rest[0]).value, 0));
    case "whole":
      return pointWindow(
        wholeIn(
          rest[0],
          rest.slice(1).map((one) => value(one).value),
        ),
      );
    case "least":
      return leastPair(rest.map(([key, one]) => [value(key), value(one)]));
    default:
      throw new SyntaxError(`not an operation: ${head}`);
  }
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

function roundedWindow(a, figures) {
  const low = a.low.minus(halfUnit(a.low, figures));
  return windowOf(a.value, low, a.high.plus(halfUnit(a.high, figures)), a.figures);
}

export function roundedStep(step, window, least) {
  if (step.rounding === "none" || step.rounding === "whole") return window;
  let rounded;
  if (step.rounding === "molar mass") {
    const half = greaterOf(halfUnit(window.value, Math.max(least, LEAST_FIGURES)), HUNDREDTHS);
    rounded = windowOf(window.value, window.low.minus(half), window.high.plus(half), window.figures);
  } else {
    const own = window.figures >= EXACT_FIGURES ? least : window.figures;
    rounded = roundedWindow(window, Math.max(own, LEAST_FIGURES));
  }
  const low = trimmedOut(rounded.low, TRIM_FIGURES, false);
  return windowOf(rounded.value, low, trimmedOut(rounded.high, TRIM_FIGURES, true), rounded.figures);
}

/** The fewest figures among the data. */
export function dataFigures(given) {
  return [...given.values()].reduce((least, window) => Math.min(least, window.figures), EXACT_FIGURES);
}

/** All windows of a plan's steps, each rounded as a worker may; a quantity that `given` holds is taken as it is. */
export function windowValues(plan, given, steps = plan.steps) {
  const least = dataFigures(given);
  const known = new Map(plan.constants.map((c) => [c.id, windowOf(c.value, c.low, c.high)]));
  given.forEach((window, name) => known.set(name, window));
  for (const step of steps) {
    if (!known.has(step.id)) known.set(step.id, roundedStep(step, evaluateIn(step.expression, known), least));
  }
  return known;
}

/** The windows after mistakes, a changed step at a time: [id, all windows so far]. */
export function* mistakenSteps(plan, mistakes, known, least) {
  const rewrites = new Map();
  for (const mistake of mistakes) {
    for (const [name, expression] of mistake.rewrites) if (!rewrites.has(name)) rewrites.set(name, expression);
  }
  const result = new Map(known);
  const dirty = new Set();
  for (const step of plan.steps) {
    if (!rewrites.has(step.id) && !step.needs.some((name) => dirty.has(name))) continue;
    const expression = rewrites.get(step.id) ?? step.expression;
    result.set(step.id, roundedStep(step, evaluateIn(expression, result), least));
    dirty.add(step.id);
    yield [step.id, result];
  }
}

export const toEngine = (unit, value) => value.times(unit.factor).plus(unit.offset);
export const fromEngine = (unit, value) => value.minus(unit.offset).over(unit.factor);

const onlyMovesPoint = (unit) =>
  unit.offset.isZero && `${unit.factor.n}`.replace(/0+$/, "") + `${unit.factor.d}`.replace(/0+$/, "") === "11";

/** The window of a given value, in engine units; `place` is that of its last written digit. */
export function givenWindow(value, place, unit) {
  const converted = toEngine(unit, value);
  const counted = exponentOf(unit.offset.isZero ? value : converted) - place + 1;
  const figures = Math.max(counted, 1);
  if (onlyMovesPoint(unit)) return pointWindow(converted, figures);
  const low = unit.offset.equals(FREEZING) ? converted.plus(SHORTENED_FREEZING) : converted;
  return roundedWindow(windowOf(converted, low, converted, figures), Math.max(figures, LEAST_FIGURES));
}

/** The acceptance window of an asked quantity, in its unit; `figures` are those of the answer. */
export function answerWindow(plan, asked, values) {
  const inner = values.get(asked.quantity);
  const step = plan.byId.get(asked.quantity);
  if (asked.form === "formula" || step?.rounding === "whole") {
    const value = fromEngine(asked.unit, inner.value);
    return pointWindow(value, Math.max(exponentOf(value) + 1, 1));
  }
  const [value, low, high] = [inner.value, inner.low, inner.high].map((one) => fromEngine(asked.unit, one));
  const limited = inner.figures < EXACT_FIGURES;
  const figures = limited ? inner.figures : UNLIMITED_FIGURES;
  const inGuard = step && step.rounding !== "molar mass" && limited && figures >= LEAST_FIGURES;
  return roundedWindow(windowOf(value, low, high, figures), inGuard ? figures + 1 : figures);
}

/** Whether two ranges of numbers have anything in common. */
export const rangesMeet = (lowA, highA, lowB, highB) => lowA.compare(highB) <= 0 && lowB.compare(highA) <= 0;
