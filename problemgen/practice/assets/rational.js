// Exact numbers: quotients of whole numbers of any length. No floating point decides about an answer.

const gcd = (a, b) => {
  while (b) [a, b] = [b, a % b];
  return a;
};

/** An exact number n/d in lowest terms, d > 0. */
export class Rational {
  constructor(n, d = 1n) {
    if (d === 0n) throw new RangeError("division by zero");
    if (d < 0n) [n, d] = [-n, -d];
    const common = d === 1n ? 1n : gcd(n < 0n ? -n : n, d);
    this.n = common > 1n ? n / common : n;
    this.d = common > 1n ? d / common : d;
  }

  /** "3/4", "-1.25" or "9.2e-4": the spellings of the problems' data, nothing else. */
  static of(text) {
    const match = text.match(/^([+-]?)(\d+)(?:\.(\d+))?(?:[eE]([+-]?\d+))?(?:\/(\d+))?$/);
    if (!match) throw new SyntaxError(`not a number: ${text}`);
    const [, sign, whole, decimals = "", shift = "0", divisor = "1"] = match;
    const digits = BigInt(sign === "-" ? `-${whole}${decimals}` : whole + decimals);
    const power = Number(shift) - decimals.length;
    const scaled = power < 0 ? new Rational(digits, tenTo(-power)) : new Rational(digits * tenTo(power));
    return divisor === "1" ? scaled : scaled.over(new Rational(BigInt(divisor)));
  }

  plus(other) {
    if (this.d === other.d) return new Rational(this.n + other.n, this.d);
    return new Rational(this.n * other.d + other.n * this.d, this.d * other.d);
  }

  minus(other) {
    return this.plus(other.negative());
  }

  times(other) {
    return new Rational(this.n * other.n, this.d * other.d);
  }

  /** The quotient; a RangeError for a divisor of 0. */
  over(other) {
    return new Rational(this.n * other.d, this.d * other.n);
  }

  negative() {
    return new Rational(-this.n, this.d);
  }

  size() {
    return this.n < 0n ? this.negative() : this;
  }

  /** Below 0, 0 or above 0, as this number is less than, equal to or greater than the other. */
  compare(other) {
    const difference = this.n * other.d - other.n * this.d;
    return difference < 0n ? -1 : difference > 0n ? 1 : 0;
  }

  equals(other) {
    return this.n === other.n && this.d === other.d;
  }

  isWithin(low, high) {
    return low.compare(this) <= 0 && this.compare(high) <= 0;
  }

  get isZero() {
    return this.n === 0n;
  }

  get isPositive() {
    return this.n > 0n;
  }

  get isNegative() {
    return this.n < 0n;
  }
}

export const ZERO = new Rational(0n);
export const ONE = new Rational(1n);

/** Powers of ten that were needed once; greater ones than a written number has are not kept. */
const TENS = [1n];
const MOST_TENS = 400;

/** 10 to a power of 0 or more, as a whole number. */
export function tenTo(power) {
  while (TENS.length <= power && TENS.length < MOST_TENS) TENS.push(TENS[TENS.length - 1] * 10n);
  return power < TENS.length ? TENS[power] : 10n ** BigInt(power);
}

/** 10 to any power. */
export function powerOfTen(power) {
  return power < 0 ? new Rational(1n, tenTo(-power)) : new Rational(tenTo(power));
}

export const lesserOf = (a, b) => (a.compare(b) <= 0 ? a : b);
export const greaterOf = (a, b) => (a.compare(b) >= 0 ? a : b);
