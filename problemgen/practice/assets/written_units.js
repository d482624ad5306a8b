// The unit behind a number, and the substance behind the unit, as students write them.

import { formulaOrNull } from "./formula.js";
import { TIMES_PATTERN } from "./numerals.js";
import { groupsWrittenOut } from "./spelling.js";
import { UnitError, isLength, isSpelling, readUnitText, unitSpellings } from "./units.js";

const LETTER = "[\\p{L}\\p{Nl}\\p{No}]";
const WORD = "[\\p{L}\\p{N}_]";
const PUNCTUATION = " .,;:?\u00a0";
const MOST_WORDS = 8;
const LONGEST_WRITTEN_UNIT = 60;

const ABBREVIATIONS = new Map(
  Object.entries({
    g: "gm gms gr grs gramme grammes Gramm gramm",
    kg: "kgs",
    mg: "mgs",
    L: "ltr ltrs",
    mL: "mls",
    mol: "mols",
    mmol: "mmols mmole mmoles millimol millimols",
    cm3: "ccm",
    M: "molar Molar",
    mM: "millimolar",
    s: "sec secs",
    min: "mins",
    h: "hr hrs",
    "%": "pct Prozent prozent",
    "°C": "Celsius celsius",
    "°F": "Fahrenheit fahrenheit",
  }).flatMap(([symbol, spellings]) => spellings.split(" ").map((spelling) => [spelling, symbol])),
);
const TWO_LETTERS = new Map(Object.entries({ KG: "kg", Kg: "kg", ML: "mL", Ml: "mL" }));
const KEYWORDS = new Set(["per", "formula", "unit", "units", "mm", "Hg", "cent"]);
const NO_SUBSTANCE = new Set(["or", "and", "to", "x", "plus", "minus", "times", "not", "no", "oder", "und"]);
const LEADS_TO_SUBSTANCE = new Set(["of", "Of", "de", "von"]);

const BOUNDARY = new RegExp("[ \\u00a0]+|(?<=[\\p{L}\\p{N}_%]) ?(?=\\()", "gu");
const RUN = new RegExp(`${LETTER}+`, "gu");
const OTHER_MARKS = /[^\p{L}\p{N}_\s^+\-·⋅*./()%°℃℉]/u;
const START = `(?:(?<!${WORD})(?=${WORD}))`;
const END = `(?:(?<=${WORD})(?!${WORD}))`;
const DEGREE_SIGN = `(?:°|${START}o(?=[CF]${END})|${START}deg(?:rees?|\\.)?) ?`;
/** Units of several words, and signs, as the reader of units knows them: in this order. */
const WORDED = [
  [`${DEGREE_SIGN}[Cc](?:elsius)?${END}`, "°C"],
  [`${DEGREE_SIGN}[Ff](?:ahrenheit)?${END}`, "°F"],
  [`° ?K${END}`, "K"],
  ["\\[([^\\[\\]()0-9]*)\\]", "($1)"],
  [`(?<=${LETTER}) +(?=\\^-?[0-9])`, ""],
  [`(?<=${LETTER}) ?× ?(?=${LETTER})`, "·"],
  [`${START}c\\.c${END}\\.?`, "cc"],
  [`${START}cubic centimet(?:re|er)s?${END}`, "cm3"],
  [`${START}cubic decimet(?:re|er)s?${END}`, "dm3"],
  [`${START}cubic met(?:re|er)s?${END}`, "m3"],
  [`${START}(?:wt|mass|[wm]/[wm])\\.? ?%`, "%"],
].map(([pattern, read]) => [new RegExp(pattern, "gu"), read]);
const BARE_DEGREES = new Set(["°", "degree", "degrees", "deg"]);
const OPERATOR = new RegExp(`^\\s*(?:${TIMES_PATTERN}|[/:+^=-])\\s*[0-9(.,+-]`, "u");
const FREE_FIGURE = new RegExp(`(?:^|[\\s(\\[+/:;,±-]|(?<!${LETTER})${TIMES_PATTERN})[.,]?[0-9]`, "u");
const LOCANTS = new RegExp(`(?<![\\p{L}\\p{N}_.,])[0-9]{1,2}(?:,[0-9]{1,2})*-(?=${LETTER})`, "gu");
const HYDRATE = /(?<=[\p{L}\p{N}_)\]]) ?[·⋅•*] ?(?=[0-9]{0,2} ?H2O)/gu;
const UNIT_POWER = new RegExp(`(?<=${LETTER})(?:\\^-?|-)[0-9](?!${WORD})`, "gu");
const ROMAN = /\((?:I{1,3}|IV|VI{0,3}|i{1,3}|iv|vi{0,3})\)$/;

const stripped = (text, marks) => {
  let [start, end] = [0, text.length];
  while (start < end && marks.includes(text[start])) start += 1;
  while (end > start && marks.includes(text[end - 1])) end -= 1;
  return text.slice(start, end);
};
const strippedRight = (text, marks) => {
  let end = text.length;
  while (end && marks.includes(text[end - 1])) end -= 1;
  return text.slice(0, end);
};
const strippedLeft = (text, marks) => {
  let start = 0;
  while (start < text.length && marks.includes(text[start])) start += 1;
  return text.slice(start);
};

/** Spellings of three letters or more, in small letters, to the one unit that each can mean. */
function foldedSpellings() {
  const meant = new Map();
  for (const [spelling, symbol] of unitSpellings()) {
    if (spelling.length < 3 || !/^\p{L}+$/u.test(spelling)) continue;
    const folded = spelling.toLowerCase();
    meant.set(folded, (meant.get(folded) ?? new Set()).add(symbol));
  }
  return new Map(
    [...meant].filter(([, symbols]) => symbols.size === 1).map(([folded, symbols]) => [folded, [...symbols][0]]),
  );
}

const NOTHING_BEHIND = { unit: null, mended: false };

let folded = null;
let foldedAll = null;
let foldedOf = null;

function fold() {
  if (foldedOf === unitSpellings()) return;
  foldedOf = unitSpellings();
  folded = foldedSpellings();
  foldedAll = new Set([...foldedOf.keys()].map((spelling) => spelling.toLowerCase()));
}

/**
 * What stands behind a number: { unit, mended } with a null unit for none; mended where it was not spelled as the reader
 * of units knows it. A UnitError where it is not understood.
 */
export function readBehind(behind, asked) {
  fold();
  if (OPERATOR.test(behind)) throw new UnitError("a calculation");
  if (!stripped(behind, PUNCTUATION)) return NOTHING_BEHIND;
  const text = WORDED.reduce(
    (read, [pattern, by]) => read.replace(pattern, by),
    strippedLeft(behind, PUNCTUATION).trimEnd(),
  );
  if (asked.dimension === "temperature^1" && BARE_DEGREES.has(strippedRight(text, PUNCTUATION))) {
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
  const found = [];
  const ends = [...text.matchAll(BOUNDARY)].filter((match) => match.index >= 1).slice(0, MOST_WORDS);
  for (const [end, start] of [
    ...ends.map((match) => [match.index, match.index + match[0].length]),
    [text.length, text.length],
  ]) {
    const written =
      end <= LONGEST_WRITTEN_UNIT ? writtenUnit(strippedRight(text.slice(0, end), `${PUNCTUATION}!'`)) : null;
    if (written && isSubstance(text.slice(start), written.unit)) found.push(written);
  }
  return found;
}

function writtenUnit(text) {
  if (OTHER_MARKS.test(text)) return null;
  let known = true;
  const spelled = text.replace(RUN, (run) => {
    const symbol = symbolOf(run);
    known &&= symbol !== null;
    return symbol ?? run;
  });
  if (!known) return null;
  try {
    return { unit: readUnitText(spelled), mended: spelled !== text };
  } catch (error) {
    if (error instanceof UnitError) return null;
    throw error;
  }
}

function symbolOf(run) {
  if (isSpelling(run) || KEYWORDS.has(run) || isLength(run)) return run;
  return ABBREVIATIONS.get(run) ?? TWO_LETTERS.get(run) ?? folded.get(run.toLowerCase()) ?? null;
}

function countedEntities(text) {
  const trimmed = strippedRight(text, PUNCTUATION);
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
  const text = stripped(behind, PUNCTUATION);
  if (!text) return true;
  if (elementsIn(text).length) return isFreeFormula(text, unit);
  const words = text.split(/\s+/).map((word) => stripped(word, PUNCTUATION));
  if (words.length > MOST_WORDS || words.some((word) => NO_SUBSTANCE.has(word.toLowerCase()))) return false;
  const [first] = words;
  if (!LEADS_TO_SUBSTANCE.has(first)) {
    const isFree = (given) => elementsIn(first).length > 0 && isFreeFormula(first, given);
    if (unit === null && !isFree(null)) return false;
    if (isSpelling(first) && !isFree(unit)) return false;
  }
  return words.every(isNameWord);
}

function isFreeFormula(text, unit) {
  if (unit === null) {
    const small = text.toLowerCase();
    return elementsIn(text).length > 1 && !folded.has(small) && !foldedAll.has(small);
  }
  return !isSpelling(text) || unit.factors.length === 1;
}

function isNameWord(text) {
  const bare = stripped(text, `${PUNCTUATION}()[]'`);
  if (!bare || ["w/w", "m/m"].includes(bare) || elementsIn(text).length || elementsIn(bare).length) return true;
  const pieces = stripped(stripped(text, PUNCTUATION).replace(ROMAN, ""), "()[]'").replaceAll("'", "-").split("-");
  const isAlpha = (piece) => /^\p{L}+$/u.test(piece);
  return (
    isAlpha(pieces.at(-1)) && pieces.every((piece) => isAlpha(piece) || /^\p{Nd}+$/u.test(piece.replaceAll(",", "")))
  );
}

/** Whether a text has a number in it: figures that belong to no formula, symbol or chemical name. */
export function hidesNumber(text) {
  return FREE_FIGURE.test(text.replace(LOCANTS, "").replace(UNIT_POWER, "").replace(HYDRATE, ""));
}
