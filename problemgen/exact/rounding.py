"""The one rounding rule of the project: half away from zero, exact, on fractions.

Rule: ISO 80000-1:2009, annex B, rule B (of two multiples equally near, the one of greater magnitude
is taken). Python's `round` and binary floats follow other rules and are not used.

A *place* is the decimal exponent of the last digit kept: -2 keeps hundredths, 0 units, 3 thousands. A
number of significant figures below 1 raises ValueError.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache

__all__ = [
    "POWERS",
    "RULES",
    "exponent",
    "figures_text",
    "half_unit",
    "lowest_exponent",
    "outward_text",
    "plain_text",
    "ratio_exponent",
    "round_to_figures",
    "round_to_place",
    "short",
    "trimmed",
]


class _Powers(dict[int, int]):
    """Powers of ten by their exponents from 0: those that most work asks for kept at hand, others worked.

    Beyond the 24 of a count of particles squared there are few; what a hostile number asks for is not kept.
    """

    def __missing__(self, exponent: int) -> int:
        power: int = 10**exponent
        return power


POWERS = _Powers((n, 10**n) for n in range(128))

# Numbers below 1e-4 or from 1e6 on are printed with a power of ten: long rows of zeros are misread.
_PLAIN_FROM, _PLAIN_BELOW = -4, 6

RULES: Mapping[str, object] = {"plain_from": _PLAIN_FROM, "plain_below": _PLAIN_BELOW}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


def _scaled(value: Fraction, place: int) -> tuple[int, int]:
    """|value| / 10**place as numerator and denominator, not reduced."""
    numerator, denominator = abs(value.numerator), value.denominator
    if place < 0:
        return numerator * POWERS[-place], denominator
    return numerator, denominator * POWERS[place]


def _units(value: Fraction, place: int) -> int:
    """|value| / 10**place, rounded half up: half away from zero for the signed value."""
    numerator, denominator = _scaled(value, place)
    return (2 * numerator + denominator) // (2 * denominator)


def exponent(value: Fraction) -> int:
    """The decimal exponent of a number: the greatest e with 10**e <= |value|.

    Raises ValueError for zero, which has none.

    >>> exponent(Fraction("0.05")), exponent(Fraction(999))
    (-2, 2)
    """
    return ratio_exponent(value.numerator, value.denominator)


def ratio_exponent(numerator: int, denominator: int) -> int:
    """The decimal exponent of a ratio that need not be reduced; the denominator is above 0.

    Raises ValueError for zero, which has none.

    >>> ratio_exponent(-5, 100), ratio_exponent(1998, 2)
    (-2, 2)
    """
    numerator = abs(numerator)
    if numerator == 0:
        raise ValueError("zero has no decimal exponent")
    estimate = lowest_exponent(numerator, denominator)
    above = estimate + 1
    if above < 0:
        reached = numerator * POWERS[-above] >= denominator
    else:
        reached = numerator >= denominator * POWERS[above]
    return above if reached else estimate


def _exponent_below(bits: int) -> int:
    """The decimal exponent of 2**bits.

    By the decimal logarithm of 2, cut off: worked for each, no power of two from 2**-400000 to 2**400000 lies so near
    to a power of ten that this would lead to another one.
    """
    return bits * 30102999566398 // 10**14


_BITS_AT_HAND = 1024
_BELOW = tuple(_exponent_below(bits - 1) for bits in (*range(_BITS_AT_HAND), *range(-_BITS_AT_HAND, 0)))
"""By the bits that a numerator has more than its denominator; those less stand at the end, for negative places."""


def lowest_exponent(numerator: int, denominator: int) -> int:
    """The decimal exponent of a ratio above 0, or one less: what the numbers of bits tell.

    The ratio is above 2**(bits - 1) and below 2**(bits + 1): its exponent is one of two.
    """
    bits = numerator.bit_length() - denominator.bit_length()
    return _BELOW[bits] if -_BITS_AT_HAND <= bits < _BITS_AT_HAND else _exponent_below(bits - 1)


def round_to_place(value: Fraction, place: int) -> Fraction:
    """The number rounded to a multiple of 10**place, half away from zero.

    >>> round_to_place(Fraction("0.125"), -2), round_to_place(Fraction("-2.5"), 0)
    (Fraction(13, 100), Fraction(-3, 1))
    """
    units = _units(value, place)
    if value.numerator < 0:
        units = -units
    return Fraction(units, POWERS[-place]) if place < 0 else Fraction(units * POWERS[place])


def round_to_figures(value: Fraction, figures: int) -> Fraction:
    """The number rounded to significant figures (1 or more), half away from zero; 0 stays 0."""
    return round_to_place(value, _place(value, figures)) if value else value


def half_unit(value: Fraction, figures: int) -> Fraction:
    """Half a unit of the last of a number's significant figures; 0 for 0.

    It is the greatest change that rounding to so many figures can make.

    >>> half_unit(Fraction("2.4681"), 3)
    Fraction(1, 200)
    """
    return _half(_place(value, figures)) if value else value


@lru_cache(maxsize=4096)
def _half(place: int) -> Fraction:
    """Half of 10**place."""
    return Fraction(10) ** place / 2


def _place(value: Fraction, figures: int) -> int:
    """The place of the last of the significant figures of a number that is not zero."""
    if figures < 1:
        raise ValueError(f"at least one significant figure is needed, not {figures}")
    return exponent(value) - figures + 1


def _decimal(units: int, place: int) -> str:
    """units × 10**place (units >= 0) in plain decimal notation."""
    if place >= 0:
        return str(units * POWERS[place])
    digits = str(units).rjust(1 - place, "0")
    return f"{digits[:place]}.{digits[place:]}"


def _scientific(units: int, place: int) -> str:
    """units × 10**place (units > 0) as a mantissa from 1 to 10 and a power of ten: "1.20e3"."""
    digits = str(units)
    mantissa = f"{digits[0]}.{digits[1:]}" if len(digits) > 1 else digits
    return f"{mantissa}e{place + len(digits) - 1}"


def plain_text(value: Fraction, place: int) -> str:
    """The number rounded to a place, in plain decimal notation; zero has no sign.

    >>> plain_text(Fraction("0.05"), -4), plain_text(Fraction("-3.2"), -2), plain_text(Fraction(1249), 2)
    ('0.0500', '-3.20', '1200')
    """
    units = _units(value, place)
    sign = "-" if units and value.numerator < 0 else ""
    return sign + _decimal(units, place)


def figures_text(value: Fraction, figures: int) -> str:
    """The number rounded to significant figures and written so that exactly these can be counted.

    Plain notation from 1e-4 to below 1e6 where the last figure is at or behind the decimal point (the
    zeros of a bare integer count, so 200 with three figures is "200"), a power of ten otherwise. Zero
    is written with figures - 1 decimals.

    >>> figures_text(Fraction("0.05"), 3), figures_text(Fraction(1203), 3), figures_text(Fraction(200), 3)
    ('0.0500', '1.20e3', '200')
    """
    if not value:
        return plain_text(value, 1 - figures)
    place = _place(value, figures)
    units = _units(value, place)
    if units == POWERS[figures]:  # 9.99 to two figures is 10, not 10.0
        units, place = units // 10, place + 1
    plain = place <= 0 and _PLAIN_FROM <= place + figures - 1 < _PLAIN_BELOW
    text = _decimal(units, place) if plain else _scientific(units, place)
    return f"-{text}" if value.numerator < 0 else text


def outward_text(value: Fraction, figures: int, *, up: bool) -> str:
    """The number written with so many significant figures, rounded up or down, not to the nearest.

    For the bounds of an interval: the text reads back as no less (up) or no more (down) than the value.
    Zeros at the end are left out, so a value that needs fewer figures is written exactly.

    >>> outward_text(Fraction(2, 3), 4, up=True), outward_text(Fraction(1, 4), 12, up=False)
    ('0.6667', '0.25')
    """
    if not value:
        return "0"
    place = _place(value, figures)
    numerator, denominator = _scaled(value, place)
    away = up == (value.numerator > 0)
    units = -(-numerator // denominator) if away else numerator // denominator
    while units % 10 == 0:
        units, place = units // 10, place + 1
    plain = _PLAIN_FROM <= place + len(str(units)) - 1 < _PLAIN_BELOW
    text = _decimal(units, place) if plain else _scientific(units, place)
    return f"-{text}" if value.numerator < 0 else text


def trimmed(value: Fraction, figures: int, *, up: bool) -> Fraction:
    """The number rounded outward to so many significant figures: no less (up) or no more (down).

    Keeps the fractions of a long interval calculation short without ever narrowing it.

    >>> trimmed(Fraction(2, 3), 4, up=True), trimmed(Fraction(1, 4), 4, up=False)
    (Fraction(6667, 10000), Fraction(1, 4))
    """
    if not value:
        return value
    place = _place(value, figures)
    numerator, denominator = _scaled(value, place)
    away = up == (value.numerator > 0)
    units = -(-numerator // denominator) if away else numerator // denominator
    signed = -units if value.numerator < 0 else units
    return Fraction(signed * POWERS[place]) if place >= 0 else Fraction(signed, POWERS[-place])


_MOST_BITS = 1 << 15
"""Of a numerator or a denominator, 10,000 digits: chains of the laboratory have some hundred."""


def short(value: Fraction) -> Fraction:
    """The number itself; OverflowError where it would only grow: a plan from a file may square and square again."""
    if value.numerator.bit_length() > _MOST_BITS or value.denominator.bit_length() > _MOST_BITS:
        raise OverflowError
    return value
