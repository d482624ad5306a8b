// A cell of an answer as a number with a unit, by the grammar of the instructor's program. Nothing is evaluated.

import { isRatio, readLabel } from "./labels.js";
import { NumeralError, readNumeral } from "./numerals.js";
import { ZERO, greaterOf, powerOfTen } from "./rational.js";
import { rules } from "./rules.js";
import { isBlank, isTooLong, plainCharacters } from "./spelling.js";
import { withoutSpaces } from "./strings.js";
import { UnitError, isSpelling, readUnitText } from "./units.js";
import { fromEngine, toEngine } from "./windows.js";
import { NOTHING_BEHIND, isSameScale, readBehind, sameUnit } from "./written_units.js";

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
    return convertedReading(statedAmount(plain, asked, decimalMark), asked);
  } catch (error) {
    if (error instanceof NumeralError || error instanceof UnitError) return reading("unreadable");
    throw error;
  }
}

/** A spelling that was read, but is not quite what it should be. */
const MENDED = { other: "" };

const reading = (status) => ({ status, written: null, unit: null, valueInUnit: null, remark: null });

function statedAmount(plain, asked, decimalMark) {
  if ([...plain].some((sign) => rules.cell.inequality.has(sign))) throw new NumeralError("an inequality");
  let label = NOTHING_BEHIND;
  const quantities = [];
  const { bracketed, relation, sides } = rules.cell;
  for (const [place, side] of sides.split(withoutMark(plain)).entries()) {
    const mayBeLabel = !(quantities.length && /\p{Nd}/u.test(side));
    const [said, rest] = withoutLabel(withoutSpaces(side), asked, mayBeLabel);
    if (said.unit) label = sameUnit(said, label);
    const isLabel = !rest && !said.unit && (quantities.length > 0 || place === 0);
    if (isLabel && relation.search(bracketed.sub("", withoutSpaces(side)))) throw new UnitError(side);
    if (rest) quantities.push(...statedIn(rest, asked, decimalMark));
  }
  if (!quantities.length) throw new NumeralError("no number");
  return oneQuantity(quantities, label, asked);
}

/** A text without the mark of a list; "(g)" is a unit, "(a)" is none. */
function withoutMark(plain) {
  const letter = rules.cell.letter_mark.match(plain);
  if (letter) return isSpelling(letter[1]) ? plain : plain.slice(letter[0].length);
  const mark = rules.cell.mark.match(plain);
  return mark ? plain.slice(mark[0].length) : plain;
}

const together = (label, more) => (more.unit ? sameUnit(more, label) : label);

/** What the labels of a side say, and the side without them, words such as "about", and notes. */
function withoutLabel(text, asked, mayBeLabel) {
  const { leads, note, starts_with_number } = rules.cell;
  let [label, side] = [NOTHING_BEHIND, text];
  while (side && !starts_with_number.match(side)) {
    if (isRatio(side, asked)) throw new UnitError(side);
    const whole = mayBeLabel ? readLabel(side, asked) : null;
    if (whole) return [together(label, whole), ""];
    const colon = side.indexOf(":");
    const named = colon >= 0 ? readLabel(side.slice(0, colon), asked) : null;
    const lead = named ? null : leads.match(side);
    if (named) {
      label = together(label, named);
      side = withoutSpaces(side.slice(colon + 1));
    } else if (lead) {
      side = side.slice(lead[0].length);
    } else {
      const [said, rest] = labelBefore(side, asked);
      return [together(label, said), note.sub("", rest)];
    }
  }
  return [label, note.sub("", side)];
}

function labelBefore(side, asked) {
  const { label_before, plainly_label } = rules.cell;
  const before = label_before.match(side);
  const text = before ? withoutSpaces(before[0]) : "";
  const isOpen = text.split("(").length !== text.split(")").length;
  const named = before && !isOpen ? readLabel(text, asked) : null;
  if (named && (named.unit || plainly_label.fullmatch(text))) return [named, side.slice(before[0].length)];
  if (!/\p{Nd}/u.test(side)) throw new UnitError(side);
  return [NOTHING_BEHIND, side];
}

function statedIn(side, asked, decimalMark) {
  const second = rules.cell.second_in_brackets.search(side);
  if (!second) return [quantityIn(side, asked, decimalMark)];
  const first = quantityIn(side.slice(0, second.index), asked, decimalMark);
  return [quantityIn(second[1], asked, decimalMark), first];
}

function quantityIn(side, asked, decimalMark) {
  const [text, behind] = withoutUncertainty(side);
  const numeral = readNumeral(rules.cell.in_brackets.sub("\\1", text), decimalMark);
  const { unit, mended } = readBehind(numeral.rest, asked);
  const itsOwn = readBehind(behind, asked).unit;
  if (unit && itsOwn && itsOwn.dimension && itsOwn.dimension !== unit.dimension) throw new UnitError("two units");
  const remark = numeral.remark ?? (mended || text !== side ? MENDED : null);
  return { written: numeral.written, unit, ambiguous: numeral.ambiguous, remark };
}

/** A text without "± 0.05" or "(5)", and what stands behind it with its own unit. */
function withoutUncertainty(text) {
  const certain = rules.cell.last_figures.sub("\\1", text);
  if (certain !== text) return [certain, ""];
  const match = rules.cell.uncertainty.search(text);
  if (!match || !match.index) return [text, ""];
  const before = text.slice(0, match.index);
  const after = text.slice(match.index + match[0].length);
  const last = [...before].at(-1);
  return /\p{L}/u.test(last) || last === "%" ? [before, after] : [before + after, ""];
}

const halfOfLast = ({ text, place }) => (text.includes("/") ? ZERO : powerOfTen(place).over(TWO));
const TWO = powerOfTen(0).plus(powerOfTen(0));

function oneQuantity(quantities, label, asked) {
  const units = quantities.map((quantity) => quantity.unit).filter(Boolean);
  if (units.length && label.unit && !units.some((unit) => isSameScale(unit, label.unit))) {
    throw new UnitError("two units");
  }
  let chosen = [...quantities].reverse().find((quantity) => quantity.unit) ?? quantities.at(-1);
  if (!chosen.unit && label.unit) {
    chosen = { ...chosen, unit: label.unit, remark: chosen.remark ?? (label.mended ? MENDED : null) };
  }
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
