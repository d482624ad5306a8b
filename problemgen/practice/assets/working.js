// A line of a student's own working: whether its sides agree, and which step of the way it is.
//
//   line = [words "="] side ("=" side)*        "n = 2.50 g / 84.01 g/mol = 0.0298 mol"
//
// Each side is read as a line of the calculator. Sides agree where a written number is the one before it, rounded or cut;
// units have to agree too, where both sides have some. What the last side comes to is then judged as the answer to each
// step of the way would be, from what the student has answered and worked before.

import { CalculationError, shownValue, workedOut } from "./calculation.js";
import { judgeNumber } from "./number_verdicts.js";
import { quantityNamed } from "./page.js";
import { Paper } from "./paper.js";
import { stepsSince } from "./paths.js";
import { Rational } from "./rational.js";
import { readAnswer } from "./reading.js";
import { figuresText, halfUnit } from "./rounding.js";
import { readUnitText, unitShown } from "./units.js";
import { answerWindow } from "./windows.js";

/** Two calculations agree that differ by less than intermediate rounding to three figures makes (own choice). */
const NEAR = Rational.of("0.005");
const HUNDRED = new Rational(100n);
/** A bare number up to here is a fraction, where a percentage is asked for: nobody obtains more (own choice). */
const LARGEST_FRACTION = Rational.of("1.2");
/** More than anybody writes; so that a side that is only worked is judged by its value alone. */
const ALL_FIGURES = 12;
/** What is said of a line that is a step, the plainest first. */
const ORDER = ["right", "follows", "rounded", "slip", "mistake"];

/** Whether somebody works a step: an extent is a comparison, and what is copied from a table is looked up. */
const isWorked = ({ kind, expression }) => kind !== "extent" && typeof expression !== "string";

/** The steps on the way to a part that are its own: behind what earlier parts ask for. `chosen` is no number: left out. */
export function ownSteps(template, key, label) {
  const index = key.parts.findIndex((part) => part.label === label);
  const before = new Set(key.parts.slice(0, index).map((part) => part.asked.quantity));
  const asked = key.parts[index].asked.quantity;
  const own = new Set(stepsSince(key.plan, asked, before).map((step) => step.id));
  return key.plan.steps.flatMap((step, i) =>
    own.has(step.id) && isWorked(step) && (step.id === asked || !before.has(step.id)) ? [i] : [],
  );
}

/**
 * What a line amounts to: { key, values, step, wrote, unit, result }. The key is "step" (right, or following: `step` is its
 * number in the plan), "given", "sides", "units", "none", a key of ORDER with the `result` that the step's answer would
 * have, or that of a CalculationError.
 *
 * @param scene { template, key (of the template), problem (its key), cells, label, decimalMark, weights }
 * @param earlier what the lines before it amounted to
 * @param next the number of the step that is looked for, or null
 */
export function judgeLine(scene, text, earlier, next) {
  let sides;
  try {
    sides = sidesOf(text, scene);
  } catch (error) {
    if (error instanceof CalculationError) return { key: error.key, values: error.values };
    throw error;
  }
  return unequalSides(sides) ?? stepBehind(scene, sides.at(-1), earlier, next);
}

function sidesOf(text, { decimalMark, weights }) {
  const texts = text.split(/[=≈]/);
  const read = (side, place) => {
    try {
      return [sideOf(side, decimalMark, weights)];
    } catch (error) {
      const isName = place === 0 && texts.length > 1 && /^\s*\p{L}/u.test(side);
      if (error instanceof CalculationError && isName) return [];
      throw error;
    }
  };
  return texts.flatMap(read);
}

function sideOf(text, decimalMark, weights) {
  const { value, unit } = workedOut(text, decimalMark, weights);
  const { status, written } = readAnswer(text, unit ?? readUnitText("1"), decimalMark);
  const isWritten = status === "number" && written !== null;
  const isBare = unit === null && !/\p{L}/u.test(text.replace(/\de/gi, ""));
  return {
    text: text.trim(),
    value,
    unit: isBare ? null : (unit ?? readUnitText("1")),
    figures: isWritten ? written.figures : null,
  };
}

const shown = ({ value, unit }) =>
  unit && unit.text !== "1" ? `${shownValue(value)} ${unitShown(unit)}` : shownValue(value);
const engine = ({ value, unit }) => value.times(unit.factor).plus(unit.offset);

/** The first side that is not what the side before it comes to; null where all agree. */
function unequalSides(sides) {
  for (let i = 1; i < sides.length; i += 1) {
    const [one, other] = [sides[i - 1], sides[i]];
    if (one.unit && other.unit && one.unit.dimension !== other.unit.dimension)
      return { key: "units", values: { found: unitShown(one.unit), unit: unitShown(other.unit) } };
    if (!agree(one, other)) return { key: "sides", values: { value: shown(inUnitOf(one, other)), read: shown(other) } };
  }
  return null;
}

/** A side in the unit of another, where both have one. */
function inUnitOf(one, { unit }) {
  if (!one.unit || !unit) return one;
  return { value: engine(one).minus(unit.offset).over(unit.factor), unit };
}

function agree(one, other) {
  const wanted = inUnitOf(one, other).value;
  const isShare = !one.unit && other.unit?.text === "%";
  const wants = isShare ? [wanted, wanted.times(HUNDRED)] : [wanted];
  const reach = (value) =>
    other.figures === null ? value.size().times(NEAR) : halfUnit(other.value, other.figures).times(new Rational(2n));
  return wants.some((value) => value.minus(other.value).size().compare(reach(value)) <= 0);
}

/** Which step of the way a value is. */
function stepBehind(scene, side, earlier, next) {
  const found = stepsFor(scene, side, earlier, next).map(({ step, unit }) => {
    const result = judgedAs(scene, earlier, { step, unit, wrote: wroteOf(side, unit) });
    return { step, unit, wrote: wroteOf(side, unit), result, rank: ORDER.indexOf(result.verdict) };
  });
  const told = found.filter(({ rank, result }) => rank >= 0 && !(rank === ORDER.length - 1 && result.key));
  const best = told.toSorted((a, b) => a.rank - b.rank)[0];
  if (best && best.rank <= ORDER.indexOf("follows")) return { ...best, key: "step", values: {} };
  if (isGiven(scene.problem, side)) return { key: "given", values: {} };
  return best ? { ...best, key: best.result.verdict, values: {} } : { key: "none", values: { value: shown(side) } };
}

/** A value as the answer to a step; a quotient of two alike is a fraction where a percentage is asked for. */
function wroteOf({ text, value, unit, figures }, asked) {
  const isFraction = unit === null ? value.size().compare(LARGEST_FRACTION) <= 0 : unit.text === "1";
  if (asked.text === "%" && isFraction) return `${figuresText(value.times(HUNDRED), figures ?? ALL_FIGURES)} %`;
  if (figures !== null) return text;
  return `${figuresText(value, ALL_FIGURES)}${unit && unit.text !== "1" ? ` ${unit.text}` : ""}`;
}

/**
 * The steps that a value may be, each with the unit that it is asked in: the one looked for, then in the order of the
 * plan, those that no line before has led to first.
 */
function stepsFor({ template, key, label }, { unit }, earlier, next) {
  const asked = key.parts.find((part) => part.label === label).asked.quantity;
  const way = new Set(stepsSince(key.plan, asked, new Set()).map((step) => step.id));
  const all = key.plan.steps.flatMap((step, i) => (way.has(step.id) && step.kind !== "extent" ? [i] : []));
  const done = new Set(earlier.filter((line) => line.key === "step").map((line) => line.step));
  const order = new Set([...(next === null ? [] : [next]), ...all.filter((step) => !done.has(step)), ...all]);
  return [...order].flatMap((step) => unitsFor(template, key, step, unit).map((one) => ({ step, unit: one })));
}

/** The units that a step's value may be in; a bare number may be in the trade's, or in one that a part asks for. */
function unitsFor(template, key, step, unit) {
  const natural = readUnitText(template.step_words[step][1]);
  if (unit) return unit.dimension === natural.dimension ? [natural] : [];
  const { id } = key.plan.steps[step];
  const asked = key.parts.filter((part) => part.asked.quantity === id).map((part) => part.asked.unit);
  return [...new Map([natural, ...asked].map((one) => [one.text, one])).values()];
}

/** The result that a step's answer would have, for one who answered and worked what stands before it. */
function judgedAs({ key, problem, cells, label, decimalMark }, earlier, line) {
  const paper = new Paper(key, problem, decimalMark);
  paper.truths = new Map(paper.truths);
  for (const part of key.parts) {
    if (part.label === label) break;
    part.judge(paper, part, paper.truths.get(part.id), cells[part.label] ?? "");
  }
  for (const before of earlier.filter((one) => one.result)) judgeStep(paper, key, before);
  return judgeStep(paper, key, line);
}

function judgeStep(paper, key, { step, unit, wrote }) {
  const { id } = key.plan.steps[step];
  const asked = { ...quantityNamed(id), quantity: id, unit, isExact: false };
  const part = { id: `step ${step}`, label: "", asked };
  const truth = answerWindow(key.plan, asked, paper.right);
  paper.truths.set(part.id, truth);
  return judgeNumber(paper, part, truth, wrote);
}

/** Whether a value stands in the data, in whatever unit. */
function isGiven({ printed }, side) {
  const near = (one, other) => one.minus(other).size().compare(other.size().times(NEAR)) <= 0;
  return [...printed.values()].some((datum) => {
    if (!side.unit) return near(side.value, datum.value);
    return side.unit.dimension === datum.unit.dimension && near(engine(side), engine(datum));
  });
}

/** The number of the step that a result shows to have gone wrong: the one of the mistake; the first of its own for others. */
export function failedStep(template, key, label, { mistakes }) {
  const own = ownSteps(template, key, label);
  const failed = new Set(mistakes);
  const holds = (step) => template.key.tries.steps[step].some(([id]) => failed.has(id));
  return own.find(holds) ?? own[0] ?? null;
}
