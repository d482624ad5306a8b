// The scratch calculator: numbers with units, exact throughout. It reads a line by its grammar and evaluates nothing
// else:
//
//   line     = sum ["in" unit]
//   sum      = product (("+" | "-") product)*          terms of one dimension
//   product  = power (("×" | "*" | "÷" | "/") power)*
//   power    = factor ["^" whole number]
//   factor   = ["-"] (number [unit] | "M(" formula ")" | "(" sum ")")
//
// A "/" with a unit's letter straight behind it belongs to the unit ("84.01 g/mol"); with a space or a figure, it
// divides. M(C7H6O3) is a molar mass, summed over the atoms of the formula. Numbers have a decimal point or comma and
// may have a power of ten ("1.5e-3"). Where the mark is not the page's own and may group thousands ("1,234"), nothing is
// worked: which number is meant has to be written.

import { formulaOrNull } from "./formula.js";
import { ONE, Rational } from "./rational.js";
import { figuresText } from "./rounding.js";
import { UnitError, readUnitText, unitOfFactors } from "./units.js";

/** A line that cannot be worked; `key` names the sentence, `values` what is filled in. */
export class CalculationError extends Error {
  constructor(key, values = {}) {
    super(key);
    this.key = key;
    this.values = values;
  }
}

const NUMBER_TOKEN = /^(\d+(?:[.,]\d+)?|[.,]\d+)(?:[eE]([+-]?\d{1,3}))?/;
const UNIT_TOKEN = /^[\p{L}%°µ℃][\p{L}%°\d^]*(?:-\d)?(?:(?: ?[·⋅] ?|\/\(?|·)[\p{L}%°µ][\p{L}%°\d^]*(?:-\d)?\)?)*/u;
/** More than any answer asks for, so that a result can be gone on with. */
const SHOWN_FIGURES = 6;
/** No calculation of the laboratory needs more, nor a longer line: they keep a slip of the keyboard from stalling the page. */
const GREATEST_POWER = 9;
const LONGEST_LINE = 200;

const RAISED = Object.fromEntries(
  [..."⁰¹²³⁴⁵⁶⁷⁸⁹"]
    .map((sign, digit) => [sign, digit])
    .concat([
      ["⁻", "-"],
      ["⁺", "+"],
    ]),
);

/** A number that is another one where its mark groups thousands. */
const EITHER_WAY = /^([1-9]\d{0,2})([.,])(\d{3})$/;

class Line {
  constructor(text, decimalMark, weights) {
    this.decimalMark = decimalMark;
    this.weights = weights;
    this.rest = text
      .replace(/[−–]/g, "-")
      .replace(/10([⁺⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)/g, (_, raised) => `10^${[...raised].map((sign) => RAISED[sign]).join("")}`)
      .replace(/(\d)\s*[×✕·⋅*]\s*10\s*\^\s*([+-]?\d{1,3})(?!\d)/g, "$1e$2")
      .replace(/[×✕·⋅](?=\s*[\d(.])/g, "*")
      .replace(/÷/g, "/")
      .replace(/\/\s*M\s*\(/g, "/ M(") // the divisor, not mol/L
      .trim();
  }

  take(pattern) {
    const match = this.rest.match(pattern);
    if (!match) return null;
    this.rest = this.rest.slice(match[0].length).trimStart();
    return match;
  }
}

const plain = (value) => ({ value, factors: [] });

function combined(factors) {
  const powers = new Map();
  for (const [symbol, power] of factors) powers.set(symbol, (powers.get(symbol) ?? 0) + power);
  return [...powers].filter(([, power]) => power);
}

const unitFor = (quantity) => (quantity.factors.length ? unitOfFactors(quantity.factors) : null);
const dimensionFor = (quantity) => unitFor(quantity)?.dimension ?? "";
const factorFor = (quantity) => unitFor(quantity)?.factor ?? ONE;

function addQuantities(a, b, sign) {
  if (dimensionFor(a) !== dimensionFor(b)) throw new CalculationError("calculator.different");
  const inOurs = b.value.times(factorFor(b)).over(factorFor(a));
  return { value: sign === "-" ? a.value.minus(inOurs) : a.value.plus(inOurs), factors: a.factors };
}

function multiplyQuantities(a, b, sign) {
  if (sign === "/" && b.value.isZero) throw new CalculationError("calculator.zero");
  const turned = sign === "/" ? b.factors.map(([symbol, power]) => [symbol, -power]) : b.factors;
  return cancelled({
    value: sign === "/" ? a.value.over(b.value) : a.value.times(b.value),
    factors: combined([...a.factors, ...turned]),
  });
}

/** A percentage beside another unit is a number: "98 % * 4.5 g" is a mass. */
function withoutShares({ value, factors }) {
  const isShare = ([symbol]) => unitOfFactors([[symbol, 1]]).dimension === "";
  if (factors.length < 2 || !factors.some(isShare)) return { value, factors };
  const shares = factors.filter(isShare);
  const times = unitOfFactors([...shares, ["K", 1]]).factor;
  return { value: value.times(times), factors: factors.filter((factor) => !isShare(factor)) };
}

/** What is left where two units of one kind stand above and below: "mL" over "L" is a plain number. */
function cancelled(quantity) {
  let { value, factors } = withoutShares(quantity);
  for (let i = 0; i < factors.length; i += 1) {
    for (let j = i + 1; j < factors.length; j += 1) {
      const [one, other] = [factors[i], factors[j]];
      const [first, second] = [unitOfFactors([[one[0], 1]]), unitOfFactors([[other[0], 1]])];
      if (first.dimension !== second.dimension || one[1] * other[1] >= 0) continue;
      const times = Math.min(Math.abs(one[1]), Math.abs(other[1]));
      const ratio = one[1] > 0 ? first.factor.over(second.factor) : second.factor.over(first.factor);
      for (let k = 0; k < times; k += 1) value = value.times(ratio);
      const less = ([symbol, power]) => [symbol, power - Math.sign(power) * times];
      factors = factors.map((factor) => (factor === one || factor === other ? less(factor) : factor));
    }
  }
  return { value, factors: factors.filter(([, power]) => power) };
}

function factorIn(line) {
  if (line.take(/^-/)) {
    const inner = factorIn(line);
    return { ...inner, value: inner.value.negative() };
  }
  if (line.take(/^M\s*(?=\()/)) return molarMassIn(line);
  if (line.take(/^\(/)) {
    const inner = sumIn(line);
    if (!line.take(/^\)/)) throw new CalculationError("calculator.bracket");
    return inner;
  }
  const number = line.take(NUMBER_TOKEN);
  if (!number)
    throw new CalculationError(line.rest ? "calculator.number" : "calculator.unfinished", { found: line.rest });
  const either = number[1].match(EITHER_WAY);
  if (either && either[2] !== line.decimalMark) {
    const [found, whole, , rest] = either;
    throw new CalculationError("calculator.doubtful", { found, grouped: whole + rest, divided: `${whole}.${rest}` });
  }
  const mantissa = number[1].replace(",", ".").replace(/^\./, "0.");
  const value = Rational.of(number[2] ? `${mantissa}e${number[2]}` : mantissa);
  const unit = /^in\s/.test(line.rest) ? null : line.take(UNIT_TOKEN);
  return unit ? withUnit(value, unit[0]) : plain(value);
}

/** A formula in brackets, which may have brackets itself: its molar mass. */
function molarMassIn(line) {
  let depth = 0;
  const end = [...line.rest].findIndex((letter) => {
    depth += letter === "(" ? 1 : letter === ")" ? -1 : 0;
    return depth === 0;
  });
  if (end < 0) throw new CalculationError("calculator.bracket");
  const text = line.rest.slice(1, end);
  line.rest = line.rest.slice(end + 1).trimStart();
  const counts = formulaOrNull(text)?.counts;
  if (!counts?.length || counts.some(([symbol]) => !line.weights.has(symbol)))
    throw new CalculationError("calculator.formula", { found: text });
  const terms = counts.map(([symbol, atoms]) => line.weights.get(symbol).times(new Rational(BigInt(atoms))));
  return { value: terms.reduce((sum, term) => sum.plus(term)), factors: combined(readUnitText("g/mol").factors) };
}

function unitCalled(text) {
  try {
    return readUnitText(text);
  } catch (error) {
    if (error instanceof UnitError) throw new CalculationError("calculator.unit", { found: text });
    throw error;
  }
}

function withUnit(value, text) {
  const unit = unitCalled(text);
  if (unit.offset.isZero) return cancelled({ value, factors: combined(unit.factors) });
  return { value: value.times(unit.factor).plus(unit.offset), factors: [["K", 1]] };
}

function powerIn(line) {
  const base = factorIn(line);
  const raised = line.take(/^\^\s*(-?\d+)/);
  if (!raised) return base;
  const power = Number(raised[1]);
  if (Math.abs(power) > GREATEST_POWER) throw new CalculationError("calculator.power");
  let result = plain(ONE);
  for (let i = 0; i < Math.abs(power); i += 1) result = multiplyQuantities(result, base, power < 0 ? "/" : "*");
  return result;
}

function productIn(line) {
  let result = powerIn(line);
  for (let sign = line.take(/^[*/]/); sign; sign = line.take(/^[*/]/)) {
    result = multiplyQuantities(result, powerIn(line), sign[0]);
  }
  return result;
}

function sumIn(line) {
  let result = productIn(line);
  for (let sign = line.take(/^[+-]/); sign; sign = line.take(/^[+-]/)) {
    result = addQuantities(result, productIn(line), sign[0]);
  }
  return result;
}

function converted(quantity, text) {
  const unit = unitCalled(text.trim());
  if (unit.dimension !== dimensionFor(quantity)) throw new CalculationError("calculator.different");
  const value = quantity.value.times(factorFor(quantity)).minus(unit.offset).over(unit.factor);
  return { value, unit };
}

/**
 * The exact result of a line: { value, unit }, the unit null for a plain number; `weights` are the atomic weights by
 * symbol. A CalculationError for a line that has none.
 */
export function workedOut(text, decimalMark, weights) {
  if ([...text].length > LONGEST_LINE) throw new CalculationError("calculator.long");
  const line = new Line(text, decimalMark, weights);
  const result = sumIn(line);
  const wanted = line.take(/^in\s+(.+)$/);
  if (line.rest) throw new CalculationError("calculator.rest", { found: line.rest });
  return wanted ? converted(result, wanted[1]) : { value: result.value, unit: unitFor(result) };
}

/** A number as the calculator shows it: six figures, without idle zeros. */
export const shownValue = (value) => (value.isZero ? "0" : trimmedText(figuresText(value, SHOWN_FIGURES)));

/** The result of a line, { value, unit }, as text. A CalculationError for a line that has none. */
export function calculate(text, decimalMark, weights) {
  const { value, unit } = workedOut(text, decimalMark, weights);
  return { value: shownValue(value), unit: !unit || unit.text === "1" ? "" : unit.text };
}

/** A number without idle zeros behind the point. */
function trimmedText(text) {
  const [mantissa, power] = text.split("e");
  const short = mantissa.includes(".") ? mantissa.replace(/\.?0+$/, "") : mantissa;
  return power === undefined ? short : `${short}e${power}`;
}
