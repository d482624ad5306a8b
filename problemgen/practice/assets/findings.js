// What an answer amounts to by itself: how it was read, how far it was rounded, and what is said about it.

import { powerOfTen } from "./rational.js";
import { countsFigures, readAnswer } from "./reading.js";
import { halfUnit } from "./rounding.js";
import { rules } from "./rules.js";
import { rangesMeet, toEngine, windowOf } from "./windows.js";

export const finding = (verdict, reason) => ({ verdict, reason, mistakes: [] });
export const RIGHT = finding("right", "in-window");

/** The ways to read a number: one, or two where the other decimal mark makes another number. */
export function readingsOf(wrote, asked, mark) {
  const first = readAnswer(wrote, asked.unit, mark);
  return first.status === "ambiguous" ? [readAnswer(wrote, asked.unit, mark === "." ? "," : "."), first] : [first];
}

/** The figures that a number shows: zeros at the end of "15000" count no further than the data support. */
function shownFigures(written, truth) {
  if (!/^[0-9]+$/.test(written.text)) return written.figures;
  return Math.min(written.figures, Math.max(written.text.replace(/0+$/, "").length, truth.figures));
}

/** The number that was read: { asked, value, figures, written, telling }; null where there is none. */
export function saidIn(read, asked, truth) {
  if (read.valueInUnit === null || !["number", "ambiguous"].includes(read.status)) return null;
  const written = shownFigures(read.written, truth);
  const value = read.valueInUnit;
  return {
    asked,
    value,
    engine: toEngine(asked.unit, value),
    figures: written < truth.figures ? written : rules.windows.exact_figures,
    written,
    telling: written >= rules.findings.telling || value.isZero,
  };
}

/** The reason for a slip of unit, power of ten or sign; null where there is none. */
export function slipOf(truth, value) {
  const power = rules.findings.slips.find((one) => value.times(powerOfTen(one)).isWithin(truth.low, truth.high));
  if (power !== undefined) return `power-of-ten:${-power}`;
  return value.negative().isWithin(truth.low, truth.high) ? "sign" : null;
}

/** A student's value in engine units, as a value that may have been rounded where it is written. */
export function asWindow(read, asked, truth) {
  if (read.written === null || read.valueInUnit === null) return null;
  const figures = shownFigures(read.written, truth);
  const half = halfUnit(read.valueInUnit, figures);
  const [low, high] = [read.valueInUnit.minus(half), read.valueInUnit.plus(half)].map((one) =>
    toEngine(asked.unit, one),
  );
  return windowOf(toEngine(asked.unit, read.valueInUnit), low, high, Math.min(figures, truth.figures));
}

function meetsTruth(window, truth, unit) {
  return rangesMeet(window.low, window.high, toEngine(unit, truth.low), toEngine(unit, truth.high));
}

export function roundedOnceMore(read, asked, truth) {
  const window = asWindow(read, asked, truth);
  if (!window || window.figures < rules.windows.least_figures || window.figures !== truth.figures - 1) return false;
  return meetsTruth(window, truth, asked.unit);
}

export function roundedTooFar(read, asked, truth) {
  const window = asWindow(read, asked, truth);
  return Boolean(window) && window.figures < truth.figures && meetsTruth(window, truth, asked.unit);
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
export function remarksOn(read, asked, truth) {
  const remarks = [];
  if (countsFigures(read) && !read.written.value.isZero) {
    const written = shownFigures(read.written, truth);
    if (written < truth.figures) remarks.push({ key: "fewer", values: { written, figures: truth.figures } });
    if (written > truth.figures + rules.findings.spare)
      remarks.push({ key: "more", values: { written, figures: truth.figures } });
  }
  if (read.unit === null && asked.unit.text !== "1") remarks.push({ key: "nounit", values: {} });
  if (read.remark?.other)
    remarks.push({ key: "ambiguous", values: { wrote: read.remark.mantissa, read: read.remark.digits } });
  else if (read.remark) remarks.push({ key: "mended", values: { read: toldReading(read, asked) } });
  return remarks;
}
