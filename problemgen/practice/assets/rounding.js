// The one rounding rule: half away from zero, exact (ISO 80000-1:2009, annex B, rule B).
// A place is the decimal exponent of the last digit kept: -2 keeps hundredths.

import { Rational, ZERO, powerOfTen, tenTo } from "./rational.js";
import { rules } from "./rules.js";

const sizeOf = (whole) => (whole < 0n ? -whole : whole);

/** |value| / 10**place as numerator and denominator, not reduced. */
function scaledTo(value, place) {
  const n = sizeOf(value.n);
  return place < 0 ? [n * tenTo(-place), value.d] : [n, value.d * tenTo(place)];
}

function unitsOf(value, place) {
  const [n, d] = scaledTo(value, place);
  return (2n * n + d) / (2n * d);
}

/** The greatest e with 10**e <= |value|; 0 for 0. */
export function exponentOf(value) {
  const n = sizeOf(value.n);
  if (n === 0n) return 0;
  const power = n.toString().length - value.d.toString().length;
  const reached = power < 0 ? n * tenTo(-power) >= value.d : n >= value.d * tenTo(power);
  return reached ? power : power - 1;
}

export function roundToPlace(value, place) {
  const units = value.n < 0n ? -unitsOf(value, place) : unitsOf(value, place);
  return place < 0 ? new Rational(units, tenTo(-place)) : new Rational(units * tenTo(place));
}

/** Half a unit of the last of so many significant figures; 0 for 0. */
export function halfUnit(value, figures) {
  if (value.isZero) return ZERO;
  const power = exponentOf(value) - figures + 1;
  return power < 0 ? new Rational(1n, 2n * tenTo(-power)) : new Rational(tenTo(power), 2n);
}

/** The number rounded outwards to so many figures: never narrower. */
export function trimmedOut(value, figures, up) {
  if (value.isZero) return value;
  const place = exponentOf(value) - figures + 1;
  const [n, d] = scaledTo(value, place);
  const away = up === value.n > 0n;
  const units = away ? (n + d - 1n) / d : n / d;
  return new Rational(value.n < 0n ? -units : units).times(powerOfTen(place));
}

function decimalText(units, place) {
  if (place >= 0) return (units * tenTo(place)).toString();
  const digits = units.toString().padStart(1 - place, "0");
  return `${digits.slice(0, place)}.${digits.slice(place)}`;
}

function scientificText(units, place) {
  const digits = units.toString();
  const mantissa = digits.length > 1 ? `${digits[0]}.${digits.slice(1)}` : digits;
  return `${mantissa}e${place + digits.length - 1}`;
}

/** The number rounded to a place, in plain decimal notation. */
function plainText(value, place) {
  const units = unitsOf(value, place);
  return (units && value.n < 0n ? "-" : "") + decimalText(units, place);
}

/** The number with so many significant figures, all of which can be counted: "0.0500", "1.20e3". */
export function figuresText(value, figures) {
  if (value.isZero) return plainText(value, 1 - figures);
  let place = exponentOf(value) - figures + 1;
  let units = unitsOf(value, place);
  if (units === tenTo(figures)) [units, place] = [units / 10n, place + 1];
  const leading = place + figures - 1;
  const { plain_from, plain_below } = rules.rounding;
  const plain = place <= 0 && leading >= plain_from && leading < plain_below;
  return (value.n < 0n ? "-" : "") + (plain ? decimalText(units, place) : scientificText(units, place));
}
