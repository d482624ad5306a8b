// One problem under judgement: what was given, what is right, what the student answered so far.

import { ZERO } from "./rational.js";
import { halfUnit } from "./rounding.js";
import { rules } from "./rules.js";
import { answerWindow, dataFigures, windowOf, windowValues } from "./windows.js";

/** The extent of the reaction, by which the limiting reagent was chosen. */
export const EXTENT = "extent()";
const extentOf = (source) => `extent(${source})`;

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
export function stepsTo(plan, name) {
  const needed = new Set([name]);
  const picked = [];
  for (const step of [...plan.steps].reverse()) {
    if (!needed.has(step.id)) continue;
    step.needs.forEach((one) => needed.add(one));
    picked.unshift(step);
  }
  return picked;
}

/** The quantities that change when the named ones do, those themselves among them where they are worked out. */
export function touchedBy(plan, names) {
  const dirty = new Set(names);
  const touched = new Set();
  for (const step of plan.steps) {
    if (!dirty.has(step.id) && !step.needs.some((one) => dirty.has(one))) continue;
    dirty.add(step.id);
    touched.add(step.id);
  }
  return touched;
}

export class Bench {
  constructor(template, key, decimalMark) {
    Object.assign(this, {
      plan: template.plan,
      parts: template.parts,
      given: key.given,
      truths: key.truths,
      decimalMark,
    });
    this.carried = new Map(); // the student's own values of what was wrong
    this.numbers = []; // what was answered so far
    this.astray = []; // the wrong ones among them, with their parts
    this.chosen = ""; // the reagent that was answered
  }

  /** The problem worked with the right numbers: not before an answer lies outside its window. */
  get right() {
    this.rightValues ??= windowValues(this.plan, this.given);
    return this.rightValues;
  }

  get leastFigures() {
    return dataFigures(this.given);
  }

  buildsOnWrong(asked) {
    return stepsTo(this.plan, asked.quantity).some((step) => step.id !== asked.quantity && this.carried.has(step.id));
  }

  /** What the wanted quantities need, by the student's own wrong values; null where they cannot be worked with. */
  own(wanted, leaveOut = "") {
    const needed = new Set(wanted.flatMap((name) => stepsTo(this.plan, name).map((step) => step.id)));
    const steps = this.plan.steps.filter((step) => needed.has(step.id));
    const carried = [...this.carried].filter(([name]) => name !== leaveOut);
    return unlessDividingByZero(() => windowValues(this.plan, new Map([...this.given, ...carried]), steps));
  }

  ownFor(asked) {
    return this.buildsOnWrong(asked) ? this.own([asked.quantity], asked.quantity) : null;
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

  answer(said, windows) {
    return answerWindow(this.plan, said.asked, windows);
  }

  /** Whether a worker with these values may answer so: as strictly as where the values are the right ones. */
  fits(said, windows) {
    const window = this.answer(said, windows);
    const rounded = said.figures >= rules.windows.least_figures && said.figures === window.figures - 1;
    return isAround(said.value, window, rounded ? halfUnit(said.value, said.figures) : ZERO);
  }

  /** Whether a worker with these values may have meant this, however far the answer was rounded. */
  gives(said, windows) {
    const window = this.answer(said, windows);
    return isAround(said.value, window, said.figures < window.figures ? halfUnit(said.value, said.figures) : ZERO);
  }

  extents(windows) {
    return new Map(this.plan.sources.map((source) => [source, windows.get(extentOf(source)).value]));
  }

  /** The reagent that was gone on with: the one whose extent is the reaction's. */
  sourceOf(windows) {
    const overall = windows.get(EXTENT).value;
    return leastBy(this.extents(windows), (extent) => extent.minus(overall).size());
  }

  /** The reagent that limits by the student's own values; "" where they cannot be worked with. */
  ownLeast() {
    const own = this.own(this.plan.sources.map(extentOf));
    return own === null ? "" : leastBy(this.extents(own), (extent) => extent);
  }

  /** Go on with the reagent that was chosen. */
  carryChoice(chosen) {
    const own = this.own([extentOf(chosen)]);
    if (own !== null) this.carried.set(EXTENT, own.get(extentOf(chosen)));
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
