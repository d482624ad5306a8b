// A cell of an answer as a number with a unit, by the grammar of the instructor's program. Nothing is evaluated.

import { NumeralError, readNumeral } from "./numerals.js";
import { ZERO, greaterOf, powerOfTen } from "./rational.js";
import { rules } from "./rules.js";
import { isBlank, isTooLong, plainCharacters } from "./spelling.js";
import { withoutSpaces } from "./strings.js";
import { UnitError, readUnitText } from "./units.js";
import { fromEngine, toEngine } from "./windows.js";
import { hidesNumber, readBehind } from "./written_units.js";

/**
 * Read an answer: { status, written, unit, valueInUnit, remark }. The status is "number", "ambiguous", "unreadable",
 * "wrong_dimension" or "blank".
 */
export function readAnswer(text, asked, decimalMark) {
  const outer = withoutSpaces(text);
  if (isTooLong(outer)) return reading("unreadable");
  const plain = plainCharacters(outer);
  if (isBlank(plain)) return reading("blank");
  try {
    return convertedReading(oneQuantity(statedQuantities(plain, asked, decimalMark), asked), asked);
  } catch (error) {
    if (error instanceof NumeralError || error instanceof UnitError) return reading("unreadable");
    throw error;
  }
}

/** A spelling that was read, but is not quite what it should be. */
const MENDED = { other: "" };

const reading = (status) => ({ status, written: null, unit: null, valueInUnit: null, remark: null });

function statedQuantities(plain, asked, decimalMark) {
  if ([...plain].some((sign) => rules.reading.inequality.has(sign))) throw new NumeralError("an inequality");
  const sides = [];
  for (const side of rules.reading.sides.split(plain).map(withoutLabel)) {
    if (side && !(isLabel(side) && !(sides.length && /\p{Nd}/u.test(side)))) sides.push(side);
  }
  if (!sides.length) throw new NumeralError("no number");
  return sides.flatMap((side) => statedIn(side, asked, decimalMark));
}

function withoutLabel(text) {
  const { note, leads } = rules.reading;
  const colon = text.indexOf(":");
  let side = withoutSpaces(colon >= 0 && isLabel(text.slice(0, colon)) ? text.slice(colon + 1) : text);
  side = note.sub("", side);
  for (let lead = leads.match(side); lead; lead = leads.match(side)) side = side.slice(lead[0].length);
  return side;
}

function isLabel(text) {
  const { label, naming } = rules.reading;
  return Boolean(label.fullmatch(text) && naming.search(text)) && !hidesNumber(text);
}

function statedIn(side, asked, decimalMark) {
  const second = rules.reading.second_in_brackets.search(side);
  if (!second) return [quantityIn(side, asked, decimalMark)];
  const first = quantityIn(side.slice(0, second.index), asked, decimalMark);
  return [quantityIn(second[1], asked, decimalMark), first];
}

function quantityIn(side, asked, decimalMark) {
  const text = withoutUncertainty(side);
  const numeral = readNumeral(rules.reading.in_brackets.sub("\\1", text), decimalMark);
  const { unit, mended } = readBehind(numeral.rest, asked);
  const remark = numeral.remark ?? (mended || text !== side ? MENDED : null);
  return { written: numeral.written, unit, ambiguous: numeral.ambiguous, remark };
}

function withoutUncertainty(text) {
  const match = rules.reading.uncertainty.search(text);
  if (!match || !match.index) return text;
  const before = text.slice(0, match.index);
  const after = text.slice(match.index + match[0].length);
  const last = [...before].at(-1);
  return /\p{L}/u.test(last) || last === "%" ? before : before + after;
}

const halfOfLast = ({ text, place }) => (text.includes("/") ? ZERO : powerOfTen(place).over(TWO));
const TWO = powerOfTen(0).plus(powerOfTen(0));

function oneQuantity(quantities, asked) {
  const chosen = [...quantities].reverse().find((quantity) => quantity.unit) ?? quantities.at(-1);
  if (!quantities.every((quantity) => agreeing(quantity, chosen, asked))) throw new NumeralError("two numbers");
  return chosen;
}

function agreeing(one, other, asked) {
  if (one === other) return true;
  const theirs = other.unit ?? asked;
  const possible = one.unit ? [one.unit] : [theirs, readUnitText("1")];
  return possible.some((ours) => sameAmount(one, ours, other, theirs));
}

function sameAmount(one, ours, other, theirs) {
  if (ours.dimension !== theirs.dimension) return false;
  const apart = toEngine(ours, one.written.value).minus(toEngine(theirs, other.written.value)).size();
  const room = greaterOf(halfOfLast(one.written).times(ours.factor), halfOfLast(other.written).times(theirs.factor));
  return apart.compare(room) <= 0;
}

function convertedReading({ written, unit, ambiguous, remark }, asked) {
  if (unit && unit.dimension !== asked.dimension) return { ...reading("wrong_dimension"), written, unit };
  const valueInUnit = unit ? fromEngine(asked, toEngine(unit, written.value)) : written.value;
  return { status: ambiguous ? "ambiguous" : "number", written, unit, valueInUnit, remark };
}

/** Whether a reading has figures to count: "3/4" is exact and has none. */
export const countsFigures = (read) => read.written !== null && !read.written.text.includes("/");
