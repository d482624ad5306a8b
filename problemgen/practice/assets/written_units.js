// The unit behind a number, and the substance behind the unit, as students write them.

import { formulaOrNull } from "./formula.js";
import { rules } from "./rules.js";
import { groupsWrittenOut } from "./spelling.js";
import { stripped, strippedLeft, strippedRight } from "./strings.js";
import { UnitError, isSpelling, readUnitText } from "./units.js";

const NOTHING_BEHIND = { unit: null, mended: false };

const withoutMarks = (text, more = "") => stripped(text, rules.written_units.punctuation + more);
const withoutMarksBehind = (text, more = "") => strippedRight(text, rules.written_units.punctuation + more);

/**
 * What stands behind a number: { unit, mended } with a null unit for none; mended where it was not spelled as the reader
 * of units knows it. A UnitError where it is not understood.
 */
export function readBehind(behind, asked) {
  const { operator, worded, bare_degrees } = rules.written_units;
  if (operator.match(behind)) throw new UnitError("a calculation");
  if (!withoutMarks(behind)) return NOTHING_BEHIND;
  const written = strippedLeft(behind, rules.written_units.punctuation).trimEnd();
  const text = worded.reduce((read, [pattern, by]) => pattern.sub(by, read), written);
  if (asked.dimension === "temperature^1" && bare_degrees.has(withoutMarksBehind(text))) {
    return { unit: asked.offset.isZero ? readUnitText("°C") : asked, mended: true };
  }
  const found = unitCandidates(text);
  if (found.length) {
    const fitting = found.filter(({ unit }) => unit.dimension === asked.dimension);
    return fitting.length ? fitting.at(-1) : found[0];
  }
  const counted = countedEntities(text);
  if (counted) return counted;
  if (!isSubstance(text, null)) throw new UnitError(text);
  return NOTHING_BEHIND;
}

function unitCandidates(text) {
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

function writtenUnit(text) {
  const { other_marks, run } = rules.written_units;
  if (other_marks.search(text)) return null;
  let known = true;
  const spelled = run.sub((letters) => {
    const symbol = symbolOf(letters);
    known &&= symbol !== null;
    return symbol ?? letters;
  }, text);
  if (!known) return null;
  try {
    return { unit: readUnitText(spelled), mended: spelled !== text };
  } catch (error) {
    if (error instanceof UnitError) return null;
    throw error;
  }
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

const elementsIn = (text) => {
  const formula = formulaOrNull(groupsWrittenOut(text));
  if (!formula) return [];
  return formula.counts.length ? formula.counts.map(([symbol]) => symbol) : ["e"];
};

function isSubstance(behind, unit) {
  const { most_words, no_substance, leads_to_substance } = rules.written_units;
  const text = withoutMarks(behind);
  if (!text) return true;
  if (elementsIn(text).length) return isFreeFormula(text, unit);
  const words = text.split(/\s+/).map((word) => withoutMarks(word));
  if (words.length > most_words || words.some((word) => no_substance.has(word.toLowerCase()))) return false;
  const [first] = words;
  if (!leads_to_substance.has(first)) {
    const isFree = (given) => elementsIn(first).length > 0 && isFreeFormula(first, given);
    if (unit === null && !isFree(null)) return false;
    if (isSpelling(first) && !isFree(unit)) return false;
  }
  return words.every(isNameWord);
}

function isFreeFormula(text, unit) {
  if (unit === null) {
    const { folded, folded_spellings } = rules.written_units;
    const small = text.toLowerCase();
    return elementsIn(text).length > 1 && !folded.has(small) && !folded_spellings.has(small);
  }
  return !isSpelling(text) || unit.factors.length === 1;
}

function isNameWord(text) {
  const { by_mass, roman } = rules.written_units;
  const bare = withoutMarks(text, "()[]'");
  if (!bare || by_mass.has(bare) || elementsIn(text).length || elementsIn(bare).length) return true;
  const pieces = stripped(roman.sub("", withoutMarks(text)), "()[]'")
    .replaceAll("'", "-")
    .split("-");
  const isAlpha = (piece) => /^\p{L}+$/u.test(piece);
  return (
    isAlpha(pieces.at(-1)) && pieces.every((piece) => isAlpha(piece) || /^\p{Nd}+$/u.test(piece.replaceAll(",", "")))
  );
}

/** Whether a text has a number in it: figures that belong to no formula, symbol or chemical name. */
export function hidesNumber(text) {
  const { free_figure, locants, power, hydrate } = rules.written_units;
  return free_figure.search(hydrate.sub("", power.sub("", locants.sub("", text)))) !== null;
}
