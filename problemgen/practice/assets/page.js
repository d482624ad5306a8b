// The page's data as the program works with it: exact numbers, and what is looked up by name.

import { namesIn } from "./expressions.js";
import { formCalled } from "./forms.js";
import { grown } from "./packing.js";
import { Rational } from "./rational.js";
import { readUnitText } from "./units.js";
import { pointWindow, windowOf } from "./windows.js";

/** The family of a mistake: "density-divided:acetic-anhydride" is one of "density-divided". */
export const familyOf = (mistake) => mistake.split(":")[0];

const NAME = /^([a-z_]+)\(([^,]*)(?:,(.+))?\)$/;

/** A quantity by its name in expressions: "mass(acetone,actual)". */
export function quantityNamed(id) {
  const [, kind, of, role = ""] = id.match(NAME);
  return { id, kind, of, role };
}

/** A step with what may be worked in its place: [id, how, rank, group, expression, title, sentence, whether the point moves]. */
function readStep(step, tries) {
  const quantity = quantityNamed(step.quantity);
  return {
    ...quantity,
    expression: step.expression,
    rounding: step.rounding,
    needs: [...namesIn(step.expression)],
    isOnPlan: tries === null,
    tries: (tries ?? []).map(([id, how, rank, group, expression, title, sentence, movesPoint]) => ({
      id,
      how,
      rank,
      group,
      expression,
      title,
      sentence,
      movesPoint,
      step: quantity.id,
    })),
  };
}

/** A route; its steps off the plan have tries. */
function readRoute(route, { near, tries }) {
  const steps = route.steps.map((step, index) => readStep(step, tries[index]));
  return { steps, to: steps.at(-1).id, isNear: near };
}

function readPlan(plan, tries) {
  const steps = plan.steps.map((step, index) => readStep(step, tries.steps[index]));
  return {
    steps,
    routes: (plan.routes ?? []).map((route, index) => readRoute(route, tries.routes[index])),
    byId: new Map(steps.map((step) => [step.id, step])),
    constants: plan.constants.map((constant) => ({
      ...quantityNamed(constant.quantity),
      value: Rational.of(constant.value),
      low: Rational.of(constant.low),
      high: Rational.of(constant.high),
    })),
    sources: plan.sources,
  };
}

function readPart(part) {
  const { quantity, unit, form } = part.asked;
  const { judge, isExact = false } = formCalled(form);
  const asked = { ...quantityNamed(quantity), quantity, unit: readUnitText(unit), isExact };
  return { id: part.id, label: part.label, asked, judge };
}

const TEMPLATE_KEYS = new WeakMap();

/** A template's plan and parts with exact numbers, worked out when one of its problems is opened. */
export function templateKey(template) {
  if (!TEMPLATE_KEYS.has(template)) {
    TEMPLATE_KEYS.set(template, {
      plan: readPlan(template.key.plan, template.key.tries),
      parts: template.key.parts.map(readPart),
    });
  }
  return TEMPLATE_KEYS.get(template);
}

/** The idea that a mistake is about: of the first step that it is made at; undefined for one of no step. */
export function ideaOf(template, mistake) {
  const index = template.key.tries.steps.findIndex((tries) => tries.some(([id]) => id === mistake));
  return template.step_ideas[index];
}

function readTruth({ value, low = "0", high = "0", figures = 0, choice = "", text = "" }) {
  const isNumber = value !== undefined;
  return {
    isNumber,
    figures,
    choice,
    text,
    value: Rational.of(value ?? "0"),
    low: Rational.of(low),
    high: Rational.of(high),
  };
}

/** A given value as the sheet prints it: [number, figures, unit]. */
function readPrinted([text, figures, unit]) {
  return { text: `${text} ${unit}`, value: Rational.of(text), figures, unit: readUnitText(unit) };
}

/** A given value's window in engine units: [value, figures], or [value, figures, low, high] where it is no point. */
function readGiven([value, figures, low, high]) {
  const exact = Rational.of(value);
  return low === undefined
    ? pointWindow(exact, figures)
    : windowOf(exact, Rational.of(low), Rational.of(high), figures);
}

/** A problem's key, worked out when the problem is opened: a page holds hundreds. */
export function problemKey(problem) {
  const given = Object.entries(problem.given).map(([name, window]) => [name, readGiven(window)]);
  const truths = new Map(Object.entries(problem.answers).map(([part, answer]) => [part, readTruth(answer)]));
  const printed = Object.entries(problem.printed).map(([name, told]) => [name, readPrinted(told)]);
  return { given: new Map(given), printed: new Map(printed), truths };
}

const BODIES = new WeakMap();

/** A template with its parts, its key and its problems, unpacked when it is first opened. */
export function wholeTemplate(template) {
  if (!BODIES.has(template))
    BODIES.set(
      template,
      grown(template.body).then((body) => ({ ...template, ...body })),
    );
  return BODIES.get(template);
}

/** The page as the program takes it: the titles of mistakes by family, the atomic weights by symbol. */
export function readPage(data) {
  const weighed = data.elements
    .filter(({ weight }) => weight)
    .map(({ symbol, weight }) => [symbol, Rational.of(weight)]);
  return { ...data, titles: new Map(Object.entries(data.titles)), weights: new Map(weighed) };
}
