// Numbers as students write them, at the start of an answer, with the digits they were written with.

import { Rational } from "./rational.js";
import { exponentOf } from "./rounding.js";
import { NARROW } from "./spelling.js";

/** A text that does not start with one number. */
export class NumeralError extends Error {}

const TIMES_SIGNS = "(?:[xX×*·⋅∙•∗✕✖⨯]|\\\\times|\\\\cdot)";
export const TIMES_PATTERN = TIMES_SIGNS;
const GAP = `[ ${NARROW}]*`;
const FRACTION = /^([0-9]+) ?\/ ?([0-9]+)(?! ?[/^]|[.,']?[0-9])/;
const MANTISSA = new RegExp(`^[.,]?[0-9]+(?:[.,'${NARROW}][0-9]+| [0-9]{3}(?![0-9]))*`);
const EXPONENT = /^\.? ?[eE]{1,2} ?([+-]?) ?([0-9]+)/;
const TEN = new RegExp(`^${GAP}${TIMES_SIGNS}${GAP}10(?![.,]?[0-9])`);
const OTHER_FACTOR = new RegExp(`^${GAP}${TIMES_SIGNS}${GAP}10[0-9]+`);
const RAISED = /^(?: ?\^ ?([+-]?) ?([0-9]+)|(-)([0-9]+))/;
const POINT_AS_TIMES = /(?<=[0-9])(?<![^0-9.,]0)(?<!^0) ?\. ?(?=10 ?\^)/g;
const GROUPED = /^[1-9][0-9]{0,2}(?:([.,' ])[0-9]{3})(?:\1[0-9]{3})*$/;
const LONGEST_FRACTION = 12;
const FIGURES_OF_A_FRACTION = 12;
const LONGEST_NUMBER = 100;
const GREATEST_POWER_OF_TEN = 999;
const DIGITS = /^[0-9]+$/;

const refuseNumeral = (reason) => {
  throw new NumeralError(reason);
};

/** A written number: { value, place, text, figures }; a fraction has no figures to count. */
function writtenNumber(text) {
  if (text.length > LONGEST_NUMBER) refuseNumeral("too many figures");
  const [, sign, whole, decimals = "", power = ""] =
    text.match(/^([+-]?)([0-9]+)(?:\.([0-9]+))?(?:[eE]([+-]?[0-9]+))?$/) ?? refuseNumeral("not a number");
  const shift = Number(power || "0");
  if (Math.abs(shift) > GREATEST_POWER_OF_TEN) refuseNumeral("too great a power of ten");
  const value = Rational.of(`${sign}${whole}${decimals}e${shift - decimals.length}`);
  const negative = value.n < 0n ? "-" : "";
  const shown = `${negative}${whole.replace(/^0+/, "") || "0"}${decimals ? `.${decimals}` : ""}${power ? `e${shift}` : ""}`;
  return withFigures({ value, place: shift - decimals.length, text: shown });
}

const withFigures = (written) => ({
  ...written,
  figures: written.value.isZero ? 1 : exponentOf(written.value) - written.place + 1,
});

function fractionNumber(sign, [whole, over, under]) {
  if (over.length > LONGEST_FRACTION || under.length > LONGEST_FRACTION) refuseNumeral("too many figures");
  if (BigInt(under) === 0n) refuseNumeral(`${whole} divides by zero`);
  const value = new Rational(BigInt(over) * (sign === "-" ? -1n : 1n), BigInt(under));
  const text = `${value.n < 0n ? "-" : ""}${BigInt(over)}/${BigInt(under)}`;
  return withFigures({ value, place: placeOfFraction(value), text });
}

function placeOfFraction(value) {
  const longest = value.isZero ? 0 : exponentOf(value) - FIGURES_OF_A_FRACTION + 1;
  for (let place = 0; place >= longest; place -= 1) {
    if ((value.n * 10n ** BigInt(-place)) % value.d === 0n) return place;
  }
  return longest;
}

/** The number at the start of plain text: { written, rest, other, ambiguous, remark }. A NumeralError for none. */
export function readNumeral(plain, decimalMark) {
  const text = plain.replace(POINT_AS_TIMES, "×");
  const lead = text.match(/^([+-]?) */);
  const [sign, rest] = [lead[1], text.slice(lead[0].length)];
  const fraction = rest.match(FRACTION);
  if (fraction) return numeral(fractionNumber(sign, fraction), rest.slice(fraction[0].length));
  const mantissa = rest.match(MANTISSA) ?? refuseNumeral("no number");
  const behind = rest.slice(mantissa[0].length);
  if (mantissa[0] === "10" && behind.trimStart().startsWith("^")) return powerAlone(sign, behind);
  const [digits, other] = digitsOf(mantissa[0], decimalMark);
  const [power, left, lost] = powerBehind(behind);
  const written = writtenNumber(sign + digits + power);
  return {
    written,
    rest: left,
    ambiguous: Boolean(other) && !digits.includes("."),
    remark: other || lost ? { mantissa: mantissa[0], digits, other } : null,
  };
}

const numeral = (written, rest) => ({ written, rest, ambiguous: false, remark: null });

function powerAlone(sign, behind) {
  const raised = behind.match(RAISED);
  if (!raised) refuseNumeral("the power of ten is not finished");
  return numeral(writtenNumber(`${sign}1e${raised[1] ?? ""}${raised[2] ?? ""}`), behind.slice(raised[0].length));
}

/** The power of ten behind a mantissa, the rest, and whether a raised figure had lost its place. */
function powerBehind(text) {
  const match = text.match(EXPONENT);
  if (match) return [`e${match[1]}${match[2]}`, text.slice(match[0].length), false];
  const ten = text.match(TEN);
  const raised = ten && text.slice(ten[0].length).match(RAISED);
  if (!raised) {
    if (OTHER_FACTOR.test(text)) refuseNumeral("the power of ten is not clear");
    return ["", text, false];
  }
  const rest = text.slice(ten[0].length + raised[0].length);
  return raised[3] ? [`e-${raised[4]}`, rest, true] : [`e${raised[1]}${raised[2]}`, rest, false];
}

function digitsOf(lexeme, decimalMark) {
  if (DIGITS.test(lexeme)) return [lexeme, ""];
  if (".,".includes(lexeme[0])) return [decimalDigits("0", lexeme.slice(1)), ""];
  const spaced = lexeme.replaceAll(NARROW, " ");
  const [points, commas] = [".", ","].map((mark) => lexeme.split(mark).length - 1);
  if (points + commas === 0) return [wholeDigits(spaced), ""];
  let mark = points ? "." : ",";
  if (points && commas) mark = lexeme.lastIndexOf(".") > lexeme.lastIndexOf(",") ? "." : ",";
  else if (points + commas > 1) return [wholeDigits(spaced), ""];
  const pieces = lexeme.split(mark);
  if (pieces.length !== 2) refuseNumeral(`${lexeme} is not one number`);
  const [whole, decimals] = pieces;
  const figures = wholeDigits(whole.replaceAll(NARROW, " "));
  if (decimals.length === 3 && GROUPED.test(spaced) && DIGITS.test(whole))
    return eitherWay(whole, decimals, mark, decimalMark);
  return [decimalDigits(figures, decimals), ""];
}

/** Figures on both sides of a mark that may group or divide them: the reading, and the other one. */
function eitherWay(whole, decimals, mark, decimalMark) {
  const [grouped, divided] = [whole + decimals, `${whole}.${decimals}`];
  if (mark !== decimalMark) return [grouped, divided];
  return [divided, mark === "," ? grouped : ""];
}

function wholeDigits(figures) {
  if (DIGITS.test(figures)) return figures;
  if (!GROUPED.test(figures)) refuseNumeral(`${figures} is not one number`);
  return figures.replace(/[^0-9]/g, "");
}

function decimalDigits(whole, decimals) {
  const groups = decimals.split(NARROW);
  const wellGrouped = groups.slice(0, -1).every((group) => group.length === 3) && groups.at(-1).length <= 3;
  if (!groups.every((group) => DIGITS.test(group)) || (groups.length > 1 && !wellGrouped)) {
    refuseNumeral(`${decimals} is not one number`);
  }
  return `${whole}.${groups.join("")}`;
}
