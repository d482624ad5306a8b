// A plan of quantities worked in windows: a value, the bounds of what an honest worker may hold in its place, and
// the significant figures that its data support. The rules are those of the instructor's program.

import { evaluate } from "./expressions.js";
import { Rational, greaterOf, lesserOf } from "./rational.js";
import { exponentOf, halfUnit, roundToPlace, trimmedOut } from "./rounding.js";
import { rules } from "./rules.js";

export const windowOf = (value, low, high, figures = rules.windows.exact_figures) => ({ value, low, high, figures });
export const pointWindow = (value, figures) => windowOf(value, value, value, figures);

const isPoint = (a) => a.low === a.value && a.high === a.value;
const exponentFor = (value) => (value.isZero ? rules.windows.zero_exponent : exponentOf(value));
const lastPlace = (a) => exponentFor(a.value) - a.figures + 1;

function addWindows(a, b) {
  const value = a.value.plus(b.value);
  const place = Math.max(lastPlace(a), lastPlace(b));
  const figures = Math.max(exponentFor(value) - place + 1, 1);
  return windowOf(value, a.low.plus(b.low), a.high.plus(b.high), Math.min(figures, rules.windows.exact_figures));
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

/** The quotient; a RangeError where the divisor may be 0, whatever its value: no bounds hold then. */
function divideWindows(a, b) {
  if (!b.low.isPositive && !b.high.isNegative) throw new RangeError("division by zero");
  return monotonic((x, y) => x.over(y), a, b, b.high, b.low);
}

function picked(pick, a, b, first, second) {
  const figures = first.compare(second) <= 0 ? a.figures : b.figures;
  return windowOf(pick(a.value, b.value), pick(a.low, b.low), pick(a.high, b.high), figures);
}

function floorOf(value) {
  const whole = value.n / value.d;
  return new Rational(value.n < 0n && whole * value.d !== value.n ? whole - 1n : whole);
}

/** One of the least whole numbers whose ratio is that of the amounts. */
function wholeIn(index, amounts) {
  const { least_whole, multiples } = rules.windows;
  const least = amounts.reduce(lesserOf);
  const ratios = amounts.map((amount) => amount.over(least));
  const near = (ratio) => ratio.minus(roundToPlace(ratio, 0)).size().compare(least_whole) <= 0;
  const scaled = (times) => ratios.map((ratio) => ratio.times(new Rational(BigInt(times))));
  const times = multiples.find((multiple) => scaled(multiple).every(near)) ?? 1;
  return roundToPlace(scaled(times)[index], 0);
}

/** What stands with the lesser key; where a worker may find either key the lesser, the bounds hold both. */
function besideLesser(keyA, a, keyB, b) {
  const first = keyA.value.compare(keyB.value) <= 0 ? a : b;
  if (keyB.low.compare(keyA.high) > 0) return windowOf(first.value, a.low, a.high, first.figures);
  if (keyA.low.compare(keyB.high) > 0) return windowOf(first.value, b.low, b.high, first.figures);
  return windowOf(first.value, lesserOf(a.low, b.low), greaterOf(a.high, b.high), first.figures);
}

/** The arithmetic of windows. A RangeError where 0 divides. */
const WINDOWS = {
  number: pointWindow,
  add: addWindows,
  multiply: (a, b) => monotonic((x, y) => x.times(y), a, b, b.low, b.high),
  divide: divideWindows,
  negate: (a) => windowOf(a.value.negative(), a.high.negative(), a.low.negative(), a.figures),
  lesser: (a, b) => picked(lesserOf, a, b, a.value, b.value),
  greater: (a, b) => picked(greaterOf, a, b, b.value, a.value),
  floor: (a) => windowOf(floorOf(a.value), floorOf(a.low), floorOf(a.high)),
  nearest: (a) => pointWindow(roundToPlace(a.value, 0)),
  whole: (index, amounts) =>
    pointWindow(
      wholeIn(
        index,
        amounts.map((one) => one.value),
      ),
    ),
  besideLesser,
};

function roundedWindow(a, figures) {
  const low = a.low.minus(halfUnit(a.low, figures));
  return windowOf(a.value, low, a.high.plus(halfUnit(a.high, figures)), a.figures);
}

function roundedStep(step, window, least) {
  const { exact_figures, least_figures, hundredths, trim } = rules.windows;
  if (step.rounding === "none" || step.rounding === "whole") return window;
  let rounded;
  if (step.rounding === "molar mass") {
    const half = greaterOf(halfUnit(window.value, Math.max(least, least_figures)), hundredths);
    rounded = windowOf(window.value, window.low.minus(half), window.high.plus(half), window.figures);
  } else {
    const own = window.figures >= exact_figures ? least : window.figures;
    rounded = roundedWindow(window, Math.max(own, least_figures));
  }
  const low = trimmedOut(rounded.low, trim, false);
  return windowOf(rounded.value, low, trimmedOut(rounded.high, trim, true), rounded.figures);
}

/** The window of an expression, not rounded. */
export const evaluatedWindow = (expression, known) => evaluate(expression, known, WINDOWS);

/** The window of a step's result, its expression (its own, or one in its place) worked and rounded as a worker may. */
export const workedStep = (step, expression, known, least) =>
  roundedStep(step, evaluatedWindow(expression, known), least);

/** The fewest figures among the data. */
export function dataFigures(given) {
  return [...given.values()].reduce((least, window) => Math.min(least, window.figures), rules.windows.exact_figures);
}

/** All windows of a plan's steps, each rounded as a worker may; a quantity that `given` holds is taken as it is. */
export function windowValues(plan, given, steps = plan.steps) {
  const least = dataFigures(given);
  const known = new Map(plan.constants.map((c) => [c.id, windowOf(c.value, c.low, c.high)]));
  given.forEach((window, name) => known.set(name, window));
  for (const step of steps) {
    if (!known.has(step.id)) known.set(step.id, workedStep(step, step.expression, known, least));
  }
  return new Map([...known, ...byOtherRoutes(plan, known, given, least)]);
}

/** The windows of what near routes lead to as well: wide enough for all that come to the same value. */
function byOtherRoutes(plan, known, given, least) {
  const hulls = new Map();
  for (const { to, isNear, steps } of plan.routes) {
    if (!isNear || !known.has(to) || given.has(to)) continue;
    const other = routeWindow({ to, steps }, known, least);
    if (other !== null) hulls.set(to, hullOf(hulls.get(to) ?? known.get(to), other));
  }
  return hulls;
}

function hullOf(a, b) {
  if (b.low.compare(a.high) > 0 || a.low.compare(b.high) > 0) return a;
  return windowOf(a.value, lesserOf(a.low, b.low), greaterOf(a.high, b.high), a.figures);
}

/** The window of what a route leads to; null where it lacks a value, or would divide by 0. */
export function routeWindow(route, known, least) {
  const result = new Map(known);
  for (const step of route.steps) {
    if (!step.needs.every((name) => result.has(name))) return null;
    try {
      result.set(step.id, workedStep(step, step.expression, result, least));
    } catch (error) {
      if (error instanceof RangeError) return null;
      throw error;
    }
  }
  return result.get(route.to);
}

export const toEngine = (unit, value) => value.times(unit.factor).plus(unit.offset);
export const fromEngine = (unit, value) => value.minus(unit.offset).over(unit.factor);

/** The acceptance window of an asked quantity, in its unit; `figures` are those of the answer. */
export function answerWindow(plan, asked, values) {
  const { exact_figures, least_figures, unlimited_figures } = rules.windows;
  const inner = values.get(asked.quantity);
  const step = plan.byId.get(asked.quantity);
  if (asked.isExact || step?.rounding === "whole") {
    const value = fromEngine(asked.unit, inner.value);
    return pointWindow(value, Math.max(exponentOf(value) + 1, 1));
  }
  const [value, low, high] = [inner.value, inner.low, inner.high].map((one) => fromEngine(asked.unit, one));
  const limited = inner.figures < exact_figures;
  const figures = limited ? inner.figures : unlimited_figures;
  const inGuard = step && step.rounding !== "molar mass" && limited && figures >= least_figures;
  return roundedWindow(windowOf(value, low, high, figures), inGuard ? figures + 1 : figures);
}
