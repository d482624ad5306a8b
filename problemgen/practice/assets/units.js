// Units of measurement: the closed, case-sensitive list that the page was made with, every factor exact.
// Grammar and rules are those of the instructor's program; value in engine units = value × factor + offset.

import { ONE, Rational, ZERO } from "./rational.js";

/** A text that is no unit. */
export class UnitError extends Error {}

const LONGEST_UNIT = 80;
const GREATEST_EXPONENT = 9;
const RAISED_DIGITS = new Map([..."⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻−"].map((sign, i) => [sign, "0123456789+--"[i]]));
const RAISED_RUN_OF_UNIT = /[⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻]+/g;
const METRE = new Rational(10n);
const KILOPASCAL = new Rational(100000n);

let listed = null;

/** Take the list: { units: {symbol: [factor, offset, {base: exponent}]}, spellings: {text: symbol}, lengths: [] }. */
export function useUnits(list) {
  const units = new Map();
  for (const [symbol, [factor, offset, dimension]] of Object.entries(list.units)) {
    units.set(symbol, { factor: Rational.of(factor), offset: Rational.of(offset), dimension });
  }
  listed = { units, spellings: new Map(Object.entries(list.spellings)), lengths: new Set(list.lengths) };
  readUnitText.cache.clear();
}

export const isSpelling = (text) => listed.spellings.has(text);
export const isLength = (text) => listed.lengths.has(text);
export const unitSpellings = () => listed.spellings;

const raisedTo = (base, power) => {
  let result = ONE;
  for (let i = 0; i < Math.abs(power); i += 1) result = result.times(base);
  return power < 0 ? ONE.over(result) : result;
};

/** What turns grams, metres and seconds into engine units (g, L, mol, K, kPa), for a dimension. */
function engineOf(dimension) {
  const kilopascals = Math.floor(Math.max(-(dimension.time ?? 0), 0) / 2);
  return raisedTo(METRE, dimension.length ?? 0).over(raisedTo(KILOPASCAL, kilopascals));
}

function volumeFactor(length, power, whole) {
  if (power % 3) throw new UnitError(`${length} in ${whole} is a length; only volumes are known: ${length}3`);
  return [`${length}3`, power / 3];
}

function unitFactor(text, whole) {
  const match = text.match(/^([^]*?)(?:\^?([+-]?[0-9]+))?$/u);
  let [spelling, power] = [match[1], Number(match[2] ?? "1")];
  if (!text || !spelling || /[()]/.test(text)) throw new UnitError(`a unit is missing in ${whole}`);
  if (isLength(spelling) && (power % 3 === 0 || !isSpelling(spelling))) {
    [spelling, power] = volumeFactor(spelling, power, whole);
  }
  if (!isSpelling(spelling)) throw new UnitError(`unknown unit ${spelling}`);
  if (power === 0 || Math.abs(power) > GREATEST_EXPONENT) throw new UnitError(`the exponent ${power} in ${whole}`);
  return [listed.spellings.get(spelling), power];
}

function unitProduct(part, whole, leading) {
  const bracket = part.match(/^\(([^()]*)\)$/);
  const inner = bracket ? bracket[1].trim() : part;
  if (leading && inner === "1") return [];
  return inner.split(/\s*[·⋅*.]\s*|\s+/u).map((factor) => unitFactor(factor, whole));
}

function unitDivisor(part, whole) {
  const factors = unitProduct(part, whole, false);
  if (factors.length > 1 && !part.startsWith("(")) throw new UnitError(`${whole} can be misread`);
  return factors.map(([symbol, power]) => [symbol, -power]);
}

function powerText(symbol, power) {
  if (power === 1) return symbol;
  return symbol.endsWith("3") ? `${symbol.slice(0, -1)}${3 * power}` : `${symbol}${power}`;
}

function textOfFactors(factors) {
  const over = factors.filter(([, power]) => power > 0).map(([symbol, power]) => powerText(symbol, power));
  const under = factors.filter(([, power]) => power < 0).map(([symbol, power]) => powerText(symbol, -power));
  const below = under.length > 1 ? `(${under.join("·")})` : under.join("");
  return (over.join("·") || "1") + (below ? `/${below}` : "");
}

function dimensionKey(dimension) {
  const bases = Object.keys(dimension).filter((base) => dimension[base]);
  return bases
    .sort()
    .map((base) => `${base}^${dimension[base]}`)
    .join(" ");
}

/** The unit that factors make: { text, factor, offset, dimension (a text to compare), factors }. */
export function unitOfFactors(factors) {
  if (factors.length === 1 && factors[0][1] === 1) {
    const { factor, offset, dimension } = listed.units.get(factors[0][0]);
    return { text: textOfFactors(factors), factor, offset, dimension: dimensionKey(dimension), factors };
  }
  const total = {};
  let factor = ONE;
  for (const [symbol, power] of factors) {
    const unit = listed.units.get(symbol);
    factor = factor.times(raisedTo(unit.factor.over(engineOf(unit.dimension)), power));
    for (const [base, exponent] of Object.entries(unit.dimension)) total[base] = (total[base] ?? 0) + exponent * power;
  }
  const text = textOfFactors(factors);
  return { text, factor: factor.times(engineOf(total)), offset: ZERO, dimension: dimensionKey(total), factors };
}

/** Read a unit. A UnitError for text that is none. */
export function readUnitText(text) {
  const { cache } = readUnitText;
  if (!cache.has(text)) {
    if (cache.size > 2000) cache.clear();
    cache.set(text, parsedUnit(text));
  }
  const found = cache.get(text);
  if (found instanceof UnitError) throw found;
  return found;
}
readUnitText.cache = new Map();

function parsedUnit(text) {
  try {
    if ([...text].length > LONGEST_UNIT) throw new UnitError(`a unit of ${[...text].length} characters`);
    if (!text.trim()) throw new UnitError("no unit is written");
    const raised = (run) => `^${[...run].map((sign) => RAISED_DIGITS.get(sign)).join("")}`;
    const plain = text
      .trim()
      .replace(RAISED_RUN_OF_UNIT, raised)
      .replace(/−/g, "-")
      .replace(/\bformula\s+units?\b/g, "formula_units")
      .replace(/\bmm\s+Hg\b/g, "mmHg")
      .replace(/\bper\s+cent\b/g, "percent");
    const [over, ...under] = plain.split(/\s*\/\s*|(?:\s+|^)per\s+/);
    const factors = unitProduct(over, text, true);
    return unitOfFactors([...factors, ...under.flatMap((part) => unitDivisor(part, text))]);
  } catch (error) {
    if (error instanceof UnitError) return error;
    throw error;
  }
}
