// The unit behind a number, and the words behind the unit, as students write them.

import { rules } from "./rules.js";
import { strippedLeft, strippedRight } from "./strings.js";
import { UnitError, isSpelling, readUnitText } from "./units.js";
import { areNames, elementsIn, withoutMarks } from "./words.js";

/** What is said where no unit is written. */
export const NOTHING_BEHIND = { unit: null, mended: false };

const withoutMarksBehind = (text, more = "") => strippedRight(text, rules.words.punctuation + more);

/** A text with units of several words and signs as the reader of units knows them. */
export const worded = (text) => rules.written_units.worded.reduce((read, [pattern, by]) => pattern.sub(by, read), text);

/**
 * What stands behind a number: { unit, mended } with a null unit for none; mended where it was not spelled as the reader
 * of units knows it. A UnitError where it is not understood.
 */
export function readBehind(behind, asked) {
  const { operator, bare_degrees } = rules.written_units;
  if (operator.match(behind)) throw new UnitError("a calculation");
  if (!withoutMarks(behind)) return NOTHING_BEHIND;
  const text = worded(strippedLeft(behind, rules.words.punctuation).trimEnd());
  if (asked.dimension === "temperature^1" && bare_degrees.has(withoutMarksBehind(text))) {
    return { unit: asked.offset.isZero ? readUnitText("°C") : asked, mended: true };
  }
  const converted = behindIn(text, asked);
  if (converted) return converted;
  const found = unitAndNames(text);
  if (found.length) {
    const fitting = found.filter(({ unit }) => unit.dimension === asked.dimension);
    return fitting.length ? fitting.at(-1) : found[0];
  }
  const counted = countedEntities(text);
  if (counted) return counted;
  if (!isSubstance(text, null)) throw new UnitError(text);
  return NOTHING_BEHIND;
}

function behindIn(text, asked) {
  for (const match of rules.written_units.in_unit.all(text)) {
    const [behind] = unitAndNames(withoutMarksBehind(text.slice(match.index + match[0].length), ")"));
    if (behind) {
      const before = readBehind(strippedRight(text.slice(0, match.index), " ("), asked);
      return before.unit ? sameUnit(before, behind) : behind;
    }
  }
  return null;
}

/** Whether two units are spellings of the same one. */
export const isSameScale = (one, other) =>
  one.dimension === other.dimension && one.factor.compare(other.factor) === 0 && one.offset.compare(other.offset) === 0;

/** The one unit that two units are; a UnitError where they are two. */
export function sameUnit(one, other) {
  if (one.unit && other.unit && !isSameScale(one.unit, other.unit)) throw new UnitError("two units");
  return one;
}

/** Every way to split a text into a unit and words behind it, the shortest unit first. */
export function unitAndNames(text) {
  const { boundary, most_words, longest_unit } = rules.written_units;
  const found = [];
  const ends = boundary
    .all(text)
    .filter((match) => match.index >= 1)
    .slice(0, most_words);
  for (const [end, start] of [
    ...ends.map((match) => [match.index, match.index + match[0].length]),
    [text.length, text.length],
  ]) {
    const written = end <= longest_unit ? writtenUnit(withoutMarksBehind(text.slice(0, end), "!'")) : null;
    if (written && isSubstance(text.slice(start), written.unit)) found.push(written);
  }
  return found;
}

/** The unit that a text is: { unit, mended }; null if it is none. */
export function writtenUnit(written) {
  const { in_brackets, other_marks, run } = rules.written_units;
  if (other_marks.search(written)) return null;
  const text = in_brackets.sub("\\1", written);
  let known = true;
  const spelled = run.sub((letters) => {
    const symbol = symbolOf(letters);
    known &&= symbol !== null;
    return symbol ?? letters;
  }, text);
  if (!known) return null;
  try {
    const unit = readUnitText(spelled);
    return isOneMeasure(unit) ? { unit, mended: spelled !== text } : null;
  } catch (error) {
    if (error instanceof UnitError) return null;
    throw error;
  }
}

/** Whether shares stand alone, and counts nowhere but in front; "%5" is no power of a share. */
function isOneMeasure({ factors }) {
  const { counts, shares } = rules.written_units;
  if (factors.length === 1) return !shares.has(factors[0][0]) || factors[0][1] === 1;
  return !factors.some(([symbol], place) => shares.has(symbol) || (counts.has(symbol) && place));
}

function symbolOf(run) {
  const { keywords, abbreviations, folded } = rules.written_units;
  if (isSpelling(run) || keywords.has(run)) return run;
  return abbreviations.get(run) ?? folded.get(run.toLowerCase()) ?? null;
}

function countedEntities(text) {
  const trimmed = withoutMarksBehind(text);
  const gap = trimmed.lastIndexOf(" ");
  const written = writtenUnit(trimmed.slice(gap + 1));
  if (!written || written.unit.dimension !== "entity^1") return null;
  return isSubstance(gap < 0 ? "" : trimmed.slice(0, gap), written.unit) ? written : null;
}

function isSubstance(behind, unit) {
  const { most_words } = rules.written_units;
  const text = withoutMarks(behind);
  if (!text) return true;
  if (elementsIn(text).length) return isFreeFormula(text, unit);
  const words = text.split(/\s+/).map((word) => withoutMarks(word, "()[]") || word);
  if (words.length > most_words) return false;
  const [first] = words;
  const mayBeUnit = isSpelling(first) || (unit === null && !rules.words.behind_number.has(first.toLowerCase()));
  const isFree = () => elementsIn(first).length > 0 && isFreeFormula(first, unit);
  if (mayBeUnit && !isFree()) return false;
  return areNames(words);
}

function isFreeFormula(text, unit) {
  if (unit === null) {
    const { folded, folded_spellings } = rules.written_units;
    const small = text.toLowerCase();
    return elementsIn(text).length > 1 && !folded.has(small) && !folded_spellings.has(small);
  }
  return !isSpelling(text) || unit.factors.length === 1;
}

/** Whether a text has a number in it: figures that belong to no formula, symbol or chemical name. */
export function hidesNumber(text) {
  const { free_figure, locants, power, hydrate } = rules.written_units;
  return free_figure.search(hydrate.sub("", power.sub("", locants.sub("", text)))) !== null;
}
