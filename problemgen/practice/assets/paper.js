// One problem under judgement: what was given, what is right, what the student answered so far.

import { asFloat } from "./floats.js";
import { EXTENT, extentOf, stepsSince } from "./paths.js";
import { ZERO } from "./rational.js";
import { halfUnit } from "./rounding.js";
import { rules } from "./rules.js";
import { answerWindow, dataFigures, evaluatedWindow, routeWindow, windowOf, windowValues } from "./windows.js";

const NOTHING = new Set();

/** Runs some work; null where it divides by zero: a student may answer with 0. */
export function unlessDividingByZero(work) {
  try {
    return work();
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/** The steps that one quantity needs, its own last, in order. */
const stepsTo = (plan, name) => stepsSince(plan, name, NOTHING);

/** Whether a step rests on some quantities: looks one up, or one that is worked from them. */
function restsOn(plan, step, names) {
  const needed = [step, ...step.needs.flatMap((name) => stepsTo(plan, name))].flatMap((one) => one.needs);
  return needed.some((name) => names.has(name));
}

export class Paper {
  constructor(template, key, decimalMark) {
    Object.assign(this, {
      plan: template.plan,
      parts: template.parts,
      given: key.given,
      printed: key.printed,
      truths: key.truths,
      decimalMark,
    });
    this.carried = new Map(); // the student's own values of what was wrong
    this.answered = new Set(); // the quantities that were answered so far, right or wrong
    this.rightParts = new Map(); // the labels of right answers, by quantity
    this.wrongNumbers = []; // the numbers that were wrong, with their parts
    this.accepted = new Set(); // what was accepted though an honest worker does not arrive there
    this.chosen = ""; // the reagent that was answered
  }

  /** The problem worked with the right numbers: not before an answer lies outside its window. */
  get right() {
    this.rightValues ??= windowValues(this.plan, this.given);
    return this.rightValues;
  }

  /** The values of the problem worked with the right numbers, as floats. */
  get rightFloats() {
    this.floats ??= new Map([...this.right].map(([name, window]) => [name, asFloat(window.value)]));
    return this.floats;
  }

  /** The path to a quantity from what was answered before: from wrong answers too, or from right ones alone. */
  path(asked, carried) {
    const known = [...this.answered].filter((name) => name !== asked && (carried || !this.carried.has(name)));
    return { asked, known: new Set(known), chosen: this.chosen };
  }

  /** Take in that a part was answered: what could form by one reagent tells how far that one reaches, too. */
  answerKnown(asked) {
    this.answered.add(asked.quantity);
    if (asked.role.startsWith("from:")) this.answered.add(extentOf(asked.role.slice(5)));
  }

  /** The labels of the right answers that a quantity builds on. */
  confirmed(name) {
    const steps = stepsSince(this.plan, name, this.answered);
    const needed = new Set([...steps.map((step) => step.id), ...steps.flatMap((step) => step.needs)]);
    return [...this.rightParts].filter(([one]) => needed.has(one) && one !== name).map(([, label]) => label);
  }

  get leastFigures() {
    return dataFigures(this.given);
  }

  buildsOnWrong(asked) {
    return stepsTo(this.plan, asked.quantity).some((step) => step.id !== asked.quantity && this.carried.has(step.id));
  }

  /** What the wanted quantities need, by the student's own wrong values; null where they cannot be worked with. */
  carriedInto(wanted, leaveOut = "") {
    const needed = new Set(wanted.flatMap((name) => stepsTo(this.plan, name).map((step) => step.id)));
    const steps = this.plan.steps.filter((step) => needed.has(step.id));
    const carried = [...this.carried].filter(([name]) => name !== leaveOut);
    return unlessDividingByZero(() => windowValues(this.plan, new Map([...this.given, ...carried]), steps));
  }

  carriedTo(asked) {
    return this.buildsOnWrong(asked) ? this.carriedInto([asked.quantity], asked.quantity) : null;
  }

  /** What a part needs, by the student's own values: on the plan's way, and on each other that is open to them. */
  carriedWaysTo(asked) {
    const carried = this.carriedTo(asked);
    const ways = carried === null ? [] : [carried];
    const rests = (step) => restsOn(this.plan, step, this.carried);
    const routes = this.plan.routes.filter((route) => route.to === asked.quantity && route.steps.some(rests));
    if (!this.carried.size || !routes.length) return ways;
    const others = [...this.carried].filter(([name]) => name !== asked.quantity);
    const world = unlessDividingByZero(() => windowValues(this.plan, new Map([...this.given, ...others])));
    for (const route of world === null ? [] : routes) {
      const reached = routeWindow(route, world, this.leastFigures);
      if (reached !== null) ways.push(new Map([...world, [asked.quantity, reached]]));
    }
    return ways;
  }

  /** Take a wrong answer over. Nothing follows from 0 or less. */
  carry(asked, window) {
    if (!window || !window.low.isPositive) return;
    this.carried.set(asked.quantity, window);
    const reagent = asked.role.startsWith("from:") ? asked.role.slice(5) : "";
    const extent = this.right.get(extentOf(reagent));
    if (!reagent || !extent || extent.value.isZero) return;
    const times = this.right.get(asked.quantity).value.over(extent.value);
    const scaled = [window.value, window.low, window.high].map((one) => one.over(times));
    this.carried.set(extentOf(reagent), windowOf(...scaled, window.figures));
  }

  /** Take over an answer that is accepted beside the honest window, so that what follows from it is accepted too. */
  carryAccepted(asked, window) {
    const before = new Set(this.carried.keys());
    this.carry(asked, window);
    for (const name of this.carried.keys()) if (!before.has(name)) this.accepted.add(name);
  }

  /** Whether all of the student's own values that a part builds on were accepted. */
  restsOnAccepted(asked) {
    const routes = this.plan.routes.filter((route) => route.to === asked.quantity).flatMap((route) => route.steps);
    const steps = [...stepsTo(this.plan, asked.quantity), ...routes];
    const carried = [...this.carried.keys()].filter((name) => name !== asked.quantity);
    return carried.every(
      (name) => this.accepted.has(name) || !steps.some((step) => restsOn(this.plan, step, new Set([name]))),
    );
  }

  /** Whether a number with a fraction is what is rounded to the whole number that is asked for. */
  roundsTo(said, windows) {
    const step = this.plan.byId.get(said.asked.quantity);
    const isRounded = step?.rounding === "whole" && step.expression[0] === "round";
    if (!isRounded || said.value.isZero || said.value.d === 1n) return false;
    const inside = unlessDividingByZero(() => evaluatedWindow(step.expression[1], windows()));
    return inside !== null && isAround(said.value, inside, halfUnit(said.value, said.written));
  }

  answer(said, windows) {
    return answerWindow(this.plan, said.asked, windows);
  }

  /** Whether a worker with these values may answer so: as strictly as where the values are the right ones. */
  fits(said, windows) {
    const window = this.answer(said, windows);
    const isOneFewer = said.written >= rules.windows.least_figures && said.written === window.figures - 1;
    const isRounded = said.written < window.figures && (said.showsAll || isOneFewer);
    return isAround(said.value, window, isRounded ? halfUnit(said.value, said.written) : ZERO);
  }

  extents(windows) {
    return new Map(this.plan.sources.map((source) => [source, windows.get(extentOf(source)).value]));
  }

  /** The reagent that limits by the student's own values; "" where they cannot be worked with. */
  leastCarried() {
    const carried = this.carriedInto(this.plan.sources.map(extentOf));
    return carried === null ? "" : leastBy(this.extents(carried), (extent) => extent);
  }

  /** Go on with the reagent that was chosen. */
  carryChoice(chosen) {
    const carried = this.carriedInto([extentOf(chosen)]);
    if (carried !== null) this.carried.set(EXTENT, carried.get(extentOf(chosen)));
  }
}

const isAround = (value, window, half) => value.isWithin(window.low.minus(half), window.high.plus(half));

function leastBy(values, measure) {
  let best = "";
  let least = null;
  for (const [name, value] of values) {
    const size = measure(value);
    if (least === null || size.compare(least) < 0) [best, least] = [name, size];
  }
  return best;
}
