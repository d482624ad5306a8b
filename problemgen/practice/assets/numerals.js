// Numbers as students write them, at the start of an answer, with the digits they were written with.

import { Rational } from "./rational.js";
import { exponentOf } from "./rounding.js";
import { rules } from "./rules.js";

/** A text that does not start with one number. */
export class NumeralError extends Error {}

const DIGITS = /^[0-9]+$/;

const refuseNumeral = (reason) => {
  throw new NumeralError(reason);
};

/** A written number: { value, place, text, figures }; a fraction has no figures to count. */
function writtenNumber(text) {
  const { number, longest, greatest_exponent } = rules.digits;
  if (text.length > longest) refuseNumeral("too many figures");
  const [, sign, whole, decimals = "", power = ""] = number.fullmatch(text) ?? refuseNumeral("not a number");
  const shift = Number(power || "0");
  if (Math.abs(shift) > greatest_exponent) refuseNumeral("too great a power of ten");
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
  const longest = rules.numerals.longest_fraction;
  if (over.length > longest || under.length > longest) refuseNumeral("too many figures");
  if (BigInt(under) === 0n) refuseNumeral(`${whole} divides by zero`);
  const value = new Rational(BigInt(over) * (sign === "-" ? -1n : 1n), BigInt(under));
  const text = `${value.n < 0n ? "-" : ""}${BigInt(over)}/${BigInt(under)}`;
  return withFigures({ value, place: placeOfFraction(value), text });
}

function placeOfFraction(value) {
  const longest = value.isZero ? 0 : exponentOf(value) - rules.numerals.figures_of_a_fraction + 1;
  for (let place = 0; place >= longest; place -= 1) {
    if ((value.n * 10n ** BigInt(-place)) % value.d === 0n) return place;
  }
  return longest;
}

/** The number at the start of plain text: { written, rest, other, ambiguous, remark }. A NumeralError for none. */
export function readNumeral(plain, decimalMark) {
  const text = rules.numerals.point_as_times.sub("×", plain);
  const lead = rules.numerals.sign.match(text);
  const [sign, start] = [lead[1], lead[0].length];
  const fraction = rules.numerals.fraction.match(text, start);
  if (fraction) return numeral(fractionNumber(sign, fraction), text.slice(start + fraction[0].length));
  const mantissa = rules.numerals.mantissa.match(text, start) ?? refuseNumeral("no number");
  const end = start + mantissa[0].length;
  if (mantissa[0] === "10" && text.slice(end).trimStart().startsWith("^")) return powerAlone(sign, text, end);
  const [digits, other] = digitsOf(mantissa[0], decimalMark);
  const [power, stop, lost] = powerBehind(text, end);
  const written = writtenNumber(sign + digits + power);
  return {
    written,
    rest: text.slice(stop),
    ambiguous: Boolean(other) && !digits.includes("."),
    remark: other || lost ? { mantissa: mantissa[0], digits, other } : null,
  };
}

const numeral = (written, rest) => ({ written, rest, ambiguous: false, remark: null });

function powerAlone(sign, text, at) {
  const raised = rules.numerals.raised.match(text, at) ?? refuseNumeral("the power of ten is not finished");
  return numeral(writtenNumber(`${sign}1e${raised[1] ?? ""}${raised[2] ?? ""}`), text.slice(at + raised[0].length));
}

/** The power of ten behind a mantissa, where it ends, and whether a raised figure had lost its place. */
function powerBehind(text, at) {
  const { exponent, ten, raised, raised_by_e, other_factor } = rules.numerals;
  const match = exponent.match(text, at);
  if (match) return [`e${match[1]}${match[2]}`, at + match[0].length, false];
  const factor = ten.match(text, at);
  const byE = factor && raised_by_e.match(text, at + factor[0].length);
  if (byE) return [`e${byE[1]}${byE[2]}`, at + factor[0].length + byE[0].length, true];
  const power = factor && raised.match(text, at + factor[0].length);
  if (!power) {
    if (other_factor.match(text, at)) refuseNumeral("the power of ten is not clear");
    return ["", at, false];
  }
  const end = at + factor[0].length + power[0].length;
  return power[3] ? [`e-${power[4]}`, end, true] : [`e${power[1]}${power[2]}`, end, false];
}

const withPlainSpaces = (text) => text.replaceAll(rules.spelling.narrow, " ");

function digitsOf(lexeme, decimalMark) {
  if (DIGITS.test(lexeme)) return [lexeme, ""];
  if (".,".includes(lexeme[0])) return [decimalDigits("0", lexeme.slice(1)), ""];
  const spaced = withPlainSpaces(lexeme);
  const [points, commas] = [".", ","].map((mark) => lexeme.split(mark).length - 1);
  if (points + commas === 0) return [wholeDigits(spaced), ""];
  let mark = points ? "." : ",";
  if (points && commas) mark = lexeme.lastIndexOf(".") > lexeme.lastIndexOf(",") ? "." : ",";
  else if (points + commas > 1) return [wholeDigits(spaced), ""];
  const pieces = lexeme.split(mark);
  if (pieces.length !== 2) refuseNumeral(`${lexeme} is not one number`);
  const [whole, decimals] = pieces;
  const figures = wholeDigits(withPlainSpaces(whole));
  if (decimals.length === 3 && rules.numerals.grouped.fullmatch(spaced) && DIGITS.test(whole))
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
  if (!rules.numerals.grouped.fullmatch(figures)) refuseNumeral(`${figures} is not one number`);
  return figures.replace(/[^0-9]/g, "");
}

function decimalDigits(whole, decimals) {
  const groups = decimals.split(rules.spelling.narrow);
  const wellGrouped = groups.slice(0, -1).every((group) => group.length === 3) && groups.at(-1).length <= 3;
  if (!groups.every((group) => DIGITS.test(group)) || (groups.length > 1 && !wellGrouped)) {
    refuseNumeral(`${decimals} is not one number`);
  }
  return `${whole}.${groups.join("")}`;
}
