// What an answer amounts to by itself: how it was read, how far it was rounded, and what is said about it.

import { Rational, greaterOf, powerOfTen } from "./rational.js";
import { countsFigures, readAnswer } from "./reading.js";
import { halfUnit } from "./rounding.js";
import { rules } from "./rules.js";
import { readUnitText, unitShown } from "./units.js";
import { toEngine, windowOf } from "./windows.js";

export const finding = (verdict, reason) => ({ verdict, reason, mistakes: [] });
export const RIGHT = finding("right", "in-window");

/** The ways to read a number: one, or two where the other decimal mark makes another number. */
export function readingsOf(wrote, asked, mark) {
  const first = readAnswer(wrote, asked.unit, mark);
  return first.status === "ambiguous" ? [readAnswer(wrote, asked.unit, mark === "." ? "," : "."), first] : [first];
}

/** The figures that a number may show: zeros at the end of "15000" may be figures, and may be none. */
function shownFigures(written, truth) {
  if (!/^[0-9]+$/.test(written.text)) return [written.figures];
  const least = written.text.replace(/0+$/, "").length || written.figures;
  const most = Math.max(least, Math.min(written.figures, truth.figures));
  return Array.from({ length: most - least + 1 }, (_, index) => most - index);
}

/** The number that was read, in each way its figures may count: { asked, value, unit, written, … }; [] for none. */
export function saidIn(read, asked, truth) {
  if (read.valueInUnit === null || !["number", "ambiguous"].includes(read.status)) return [];
  const value = read.valueInUnit;
  return shownFigures(read.written, truth).map((written) => ({
    asked,
    value,
    unit: read.unit,
    engine: toEngine(asked.unit, value),
    showsAll: written >= truth.figures,
    written,
    telling: written >= rules.findings.telling || value.isZero,
  }));
}

/** The slip of unit, power of ten or sign: { reason, key, values }, with a key where it has a name; null for none. */
export function slipOf(unit, truth, { value, unit: wrote }) {
  const power = rules.right_digits.slips.find((one) => value.times(powerOfTen(one)).isWithin(truth.low, truth.high));
  if (power !== undefined) return otherUnit(unit, power, wrote) ?? { reason: `power-of-ten:${-power}` };
  return value.negative().isWithin(truth.low, truth.high) ? { reason: "sign" } : null;
}

/** The unit that a value may have been given in, where its digits are right and a power of ten converts it. */
function otherUnit(unit, power, wrote) {
  if (wrote && wrote.text !== unit.text) return writtenFor(wrote, power, [unit.text, ...rules.right_digits.given_for]);
  if (unit.text === "%" && power === 2) return { reason: "fraction-for-percent", key: "fraction", values: {} };
  const given = larger(unit, power, rules.right_digits.given_for);
  if (!given) return null;
  return { reason: `other-unit:${given.text}`, key: "unit", values: { given: given.text, asked: unit.text } };
}

/** The unit that would have been right behind a number, in the place of the one that was written there. */
function writtenFor(wrote, power, units) {
  const meant = larger(wrote, power, units);
  if (!meant) return null;
  const values = { wrote: unitShown(wrote), meant: unitShown(meant) };
  return { reason: `written-unit:${wrote.text}:${meant.text}`, key: meant.text === "1" ? "plain" : "written", values };
}

/** Among units, the one that is a power of ten times another. */
function larger(unit, power, units) {
  const factor = unit.factor.times(powerOfTen(power));
  return units
    .map((text) => readUnitText(text))
    .find((one) => one.dimension === unit.dimension && one.offset.isZero && one.factor.equals(factor));
}

const BOTH_SIDES = new Rational(2n);

/** Whether an answer is within one unit of some figure of the right value, or of its window; less than half is not. */
function isWithin(said, truth, figures) {
  if (truth.value.isZero || said.value.isZero) return false;
  if (said.value.size().times(BOTH_SIDES).compare(truth.value.size()) < 0) return false;
  const half = halfUnit(truth.value, figures);
  const reach = greaterOf(half.times(BOTH_SIDES), half.plus(truth.high.minus(truth.low).over(BOTH_SIDES)));
  return said.value.minus(truth.value).size().compare(reach) <= 0;
}

/** Whether an answer is within one unit of the last digit that the data support. A count has no last digit. */
export function isWithinLastDigit(said, truth) {
  return truth.low.compare(truth.high) < 0 && said.telling && isWithin(said, truth, truth.figures);
}

/** Whether an answer is as near as one that is rounded to one figure fewer than the data support. */
export function roundedOnceMore(said, truth) {
  const { least_figures } = rules.windows;
  if (!(least_figures < truth.figures && truth.figures > said.written) || said.value.isZero) return false;
  const half = halfUnit(truth.value, truth.figures - 1);
  if (said.written < truth.figures - 1) return said.value.minus(truth.value).size().compare(half) <= 0;
  return said.value.isWithin(truth.low.minus(half), truth.high.plus(half));
}

/** Whether an answer is right but for being rounded to fewer figures than the data support, or cut and still near. */
export function roundedTooFar(said, truth) {
  if (said.written >= truth.figures || !isWithin(said, truth, said.written)) return false;
  const far = truth.value.size().times(rules.closeness.farthest);
  const rounded = halfUnit(truth.value, said.written).plus(truth.high.minus(truth.low).over(BOTH_SIDES));
  const reach = greaterOf(rounded, far);
  return said.value.minus(truth.value).size().compare(reach) <= 0;
}

/** A student's value in engine units, as a value that may have been rounded where it is written. */
export function asWindow(said, truth) {
  const half = halfUnit(said.value, said.written);
  const [low, high] = [said.value.minus(half), said.value.plus(half)].map((one) => toEngine(said.asked.unit, one));
  return windowOf(said.engine, low, high, Math.min(said.written, truth.figures));
}

/** A cell without a number that can be used. */
export function unreadFinding(read) {
  return finding(rules.findings.unread.get(read.status) ?? "unread", read.status);
}

/** What was read, in the unit asked for: "39.5 g". */
export function toldReading(read, asked) {
  if (read.written === null) return "";
  const unit = read.unit ? read.unit.text : asked.unit.text;
  return unit === "1" ? read.written.text : `${read.written.text} ${unit}`;
}

/** The remarks on a number that is right, or follows. */
export function remarksOn(read, said, truth, found) {
  const { asked, written } = said;
  const remarks = [];
  const isCount = truth.low.compare(truth.high) === 0;
  if (countsFigures(read) && !read.written.value.isZero && !isCount) {
    if (written < truth.figures) remarks.push({ key: "fewer", values: { n: written, figures: truth.figures } });
    if (written > truth.figures + rules.findings.spare)
      remarks.push({ key: "more", values: { n: written, figures: truth.figures } });
  }
  if (read.unit === null && asked.unit.text !== "1") remarks.push({ key: "nounit", values: {} });
  if (found.reason === rules.closeness.last_digit) remarks.push({ key: "lastdigit", values: {} });
  if (found.reason === rules.closeness.not_rounded) remarks.push({ key: "whole", values: {} });
  if (read.remark?.other)
    remarks.push({ key: "ambiguous", values: { wrote: read.remark.mantissa, read: read.remark.digits } });
  else if (read.remark) remarks.push({ key: "mended", values: { read: toldReading(read, asked) } });
  return remarks;
}
