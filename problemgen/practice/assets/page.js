// The page's data as the program works with it: exact numbers, and what is looked up by name.

import { namesIn } from "./expressions.js";
import { formCalled } from "./forms.js";
import { Rational } from "./rational.js";
import { familyOf } from "./spacing.js";
import { readUnitText } from "./units.js";
import { pointWindow, windowOf } from "./windows.js";

const NAME = /^([a-z_]+)\(([^,]*)(?:,(.+))?\)$/;

/** A quantity by its name in expressions: "mass(acetone,actual)". */
function quantityNamed(id) {
  const [, kind, of, role = ""] = id.match(NAME);
  return { id, kind, of, role };
}

function readPlan(plan) {
  const steps = plan.steps.map((step) => ({
    ...quantityNamed(step.quantity),
    expression: step.expression,
    rounding: step.rounding,
    needs: [...namesIn(step.expression)],
  }));
  return {
    steps,
    byId: new Map(steps.map((step) => [step.id, step])),
    constants: plan.constants.map((constant) => ({
      ...quantityNamed(constant.quantity),
      value: Rational.of(constant.value),
      low: Rational.of(constant.low),
      high: Rational.of(constant.high),
    })),
    sources: plan.sources,
    mistakes: plan.mistakes,
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
    TEMPLATE_KEYS.set(template, { plan: readPlan(template.key.plan), parts: template.key.parts.map(readPart) });
  }
  return TEMPLATE_KEYS.get(template);
}

function readTruth({ low = "0", high = "0", figures = 0, choice = "", text = "" }) {
  return { low: Rational.of(low), high: Rational.of(high), figures, choice, text };
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
  return { given: new Map(given), truths };
}

/** The page as the program takes it: problems that point to their template, the titles of mistakes by family. */
export function readPage(data) {
  const { templates } = data;
  const problems = data.problems.map((problem) => ({ ...problem, template: templates[problem.template] }));
  const titles = new Map();
  for (const template of templates) {
    for (const mistake of template.key.plan.mistakes) titles.set(familyOf(mistake.id), mistake.title);
  }
  return { ...data, templates, problems, titles, topics: [...new Set(templates.map((one) => one.topic))] };
}
