// Units of measurement: the closed, case-sensitive list that the page was made with, every factor exact.
// Grammar and rules are those of the instructor's program; value in engine units = value × factor + offset.

import { keeping } from "./keeping.js";
import { ONE, Rational, ZERO } from "./rational.js";
import { rules } from "./rules.js";

/** A text that is no unit. */
export class UnitError extends Error {}

let listed = null;

/** Take the list: { units: {symbol: [factor, offset, {base: exponent}]}, spellings: {text: symbol}, lengths: [] }. */
export function useUnits(list) {
  const units = new Map();
  for (const [symbol, [factor, offset, dimension]] of Object.entries(list.units)) {
    units.set(symbol, { factor: Rational.of(factor), offset: Rational.of(offset), dimension });
  }
  listed = { units, spellings: new Map(Object.entries(list.spellings)), lengths: new Set(list.lengths) };
}

export const isSpelling = (text) => listed.spellings.has(text);
const isLength = (text) => listed.lengths.has(text);

const raisedTo = (base, power) => {
  let result = ONE;
  for (let i = 0; i < Math.abs(power); i += 1) result = result.times(base);
  return power < 0 ? ONE.over(result) : result;
};

/** What turns grams, metres and seconds into engine units (g, L, mol, K, kPa), for a dimension. */
function engineOf(dimension) {
  const kilopascals = Math.floor(Math.max(-(dimension.time ?? 0), 0) / 2);
  return raisedTo(rules.units.metre, dimension.length ?? 0).over(raisedTo(rules.units.kilopascal, kilopascals));
}

function volumeFactor(length, power, whole) {
  if (power % 3) throw new UnitError(`${length} in ${whole} is a length; only volumes are known: ${length}3`);
  return [`${length}3`, power / 3];
}

function unitFactor(text, whole) {
  const match = rules.units.factor.fullmatch(text);
  let [spelling, power] = [match[1], Number(match[2] ?? "1")];
  if (!text || !spelling || /[()]/.test(text)) throw new UnitError(`a unit is missing in ${whole}`);
  if (isLength(spelling) && (power % 3 === 0 || !isSpelling(spelling))) {
    [spelling, power] = volumeFactor(spelling, power, whole);
  }
  if (!isSpelling(spelling)) throw new UnitError(`unknown unit ${spelling}`);
  if (power === 0 || Math.abs(power) > rules.units.greatest_exponent)
    throw new UnitError(`the exponent ${power} in ${whole}`);
  return [listed.spellings.get(spelling), power];
}

function unitProduct(part, whole, leading) {
  const bracket = rules.units.bracket.fullmatch(part);
  const inner = bracket ? bracket[1].trim() : part;
  if (leading && inner === "1") return [];
  return rules.units.multiply.split(inner).map((factor) => unitFactor(factor, whole));
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
export const readUnitText = keeping((text) => {
  const { longest, raised, raised_run, spaced, division } = rules.units;
  if ([...text].length > longest) throw new UnitError(`a unit of ${[...text].length} characters`);
  if (!text.trim()) throw new UnitError("no unit is written");
  let plain = raised_run.sub((run) => `^${[...run].map((sign) => raised.get(sign)).join("")}`, text.trim());
  plain = plain.replaceAll("−", "-");
  for (const [pattern, joined] of spaced) plain = pattern.sub(joined, plain);
  const [over, ...under] = division.split(plain);
  const factors = unitProduct(over, text, true);
  return unitOfFactors([...factors, ...under.flatMap((part) => unitDivisor(part, text))]);
}, UnitError);

/** A unit with its powers raised: g²/mol. */
export const unitShown = ({ text }) => text.replace(/(?<=\p{L})\d/gu, (digit) => "⁰¹²³⁴⁵⁶⁷⁸⁹"[digit]);
