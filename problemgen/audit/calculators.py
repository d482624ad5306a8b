"""The calculators that simulated students work with: decimal digits for one student, float columns for many at once.

Both do what a pocket calculator does and round as a person does on paper: to a decimal place, half-way cases up or to
the even digit. Nothing here knows of windows or of the intervals that a key is made of.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_DOWN, ROUND_FLOOR, ROUND_HALF_EVEN, ROUND_HALF_UP, Context, Decimal
from fractions import Fraction
from typing import Any, Protocol

import numpy as np
import numpy.typing as npt

__all__ = ["Calculator", "Columns", "Digits", "as_decimal"]

Floats = npt.NDArray[np.float64]

_MOST_POWER = 60  # a count of particles squared, with room
_TENS: Floats = np.array([float(f"1e{power}") for power in range(-_MOST_POWER, _MOST_POWER + 1)])

_NOISE = 1e-12
"""How far, relatively, a float may lie from the decimal number that it stands for, after a few operations."""

_MOST_SLACK = 0.01
"""The most of it, in units of the last digit kept: twelve digits leave no room for more."""

_NEAR_WHOLE = Fraction(1, 10)
_MULTIPLES = range(1, 9)
"""A ratio within a tenth of a whole number counts as one, after multiplying by 1 to 8: common practice, no source."""

_WIDE = Context(prec=40)  # products of three numbers of twelve figures are exact


class Calculator(Protocol):
    """What working a plan needs of a kind of number."""

    def number(self, value: Fraction) -> Any:
        """An exact number, as it is keyed in."""

    def add(self, a: Any, b: Any) -> Any:
        """The sum."""

    def multiply(self, a: Any, b: Any) -> Any:
        """The product."""

    def divide(self, a: Any, b: Any) -> Any:
        """The quotient."""

    def lesser(self, a: Any, b: Any) -> Any:
        """The lesser of two."""

    def greater(self, a: Any, b: Any) -> Any:
        """The greater of two."""

    def beside_lesser(self, key_a: Any, a: Any, key_b: Any, b: Any) -> Any:
        """`a` where `key_a` is not above `key_b`, else `b`."""

    def leading(self, a: Any) -> Any:
        """The decimal place of the leading digit; 0 for 0."""

    def to_place(self, a: Any, place: Any, to_even: Any) -> Any:
        """Rounded to a decimal place; half-way cases to the even digit or away from zero."""

    def cut(self, a: Any, place: Any) -> Any:
        """Cut behind a decimal place."""

    def down(self, a: Any) -> Any:
        """The whole part, downwards."""

    def least_whole(self, index: int, amounts: Sequence[Any]) -> Any:
        """One of the least whole numbers in which the amounts stand to each other."""


def as_decimal(value: Fraction) -> Decimal:
    """A fraction in decimal digits, more than any calculator shows."""
    return _WIDE.divide(Decimal(value.numerator), Decimal(value.denominator))


class Digits:
    """Decimal digits, for one student; ZeroDivisionError where a calculator shows an error."""

    def number(self, value: Fraction) -> Decimal:
        """An exact number, as it is keyed in."""
        return as_decimal(value)

    def add(self, a: Decimal, b: Decimal) -> Decimal:
        """The sum."""
        return _WIDE.add(a, b)

    def multiply(self, a: Decimal, b: Decimal) -> Decimal:
        """The product."""
        return _WIDE.multiply(a, b)

    def divide(self, a: Decimal, b: Decimal) -> Decimal:
        """The quotient."""
        if not b:
            raise ZeroDivisionError
        return _WIDE.divide(a, b)

    def lesser(self, a: Any, b: Any) -> Any:
        """The lesser of two."""
        return min(a, b)

    def greater(self, a: Any, b: Any) -> Any:
        """The greater of two."""
        return max(a, b)

    def beside_lesser(self, key_a: Any, a: Any, key_b: Any, b: Any) -> Any:
        """`a` where `key_a` is not above `key_b`, else `b`."""
        return a if key_a <= key_b else b

    def leading(self, a: Decimal) -> int:
        """The decimal place of the leading digit; 0 for 0."""
        return a.adjusted() if a else 0

    def to_place(self, a: Decimal, place: int, to_even: bool) -> Decimal:
        """Rounded to a decimal place; half-way cases to the even digit or away from zero."""
        rounding = ROUND_HALF_EVEN if to_even else ROUND_HALF_UP
        return a.quantize(Decimal(1).scaleb(int(place)), rounding=rounding, context=_WIDE)

    def cut(self, a: Decimal, place: int) -> Decimal:
        """Cut behind a decimal place."""
        return a.quantize(Decimal(1).scaleb(int(place)), rounding=ROUND_DOWN, context=_WIDE)

    def down(self, a: Decimal) -> Decimal:
        """The whole part, downwards."""
        return a.to_integral_value(ROUND_FLOOR)

    def least_whole(self, index: int, amounts: Sequence[Decimal]) -> Decimal:
        """One of the least whole numbers in which the amounts stand to each other."""
        ratios = [self.divide(amount, min(amounts)) for amount in amounts]
        near = as_decimal(_NEAR_WHOLE)
        for times in _MULTIPLES:
            whole = [(times * ratio).to_integral_value(ROUND_HALF_UP) for ratio in ratios]
            if all(abs(times * ratio - one) <= near for ratio, one in zip(ratios, whole, strict=True)):
                return whole[index]
        return ratios[index].to_integral_value(ROUND_HALF_UP)


class Columns:
    """Float columns, a student a row; what a calculator cannot do is nan or infinite.

    A float within a relative 1e-12 of a half-way case or a power of ten is taken for it: in decimals it is one.
    """

    def number(self, value: Fraction) -> Any:
        """An exact number, as it is keyed in."""
        return np.float64(value)

    def add(self, a: Any, b: Any) -> Any:
        """The sums."""
        return a + b

    def multiply(self, a: Any, b: Any) -> Any:
        """The products."""
        return a * b

    def divide(self, a: Any, b: Any) -> Any:
        """The quotients."""
        return np.true_divide(a, b)

    def lesser(self, a: Any, b: Any) -> Any:
        """The lesser of each two."""
        return np.minimum(a, b)

    def greater(self, a: Any, b: Any) -> Any:
        """The greater of each two."""
        return np.maximum(a, b)

    def beside_lesser(self, key_a: Any, a: Any, key_b: Any, b: Any) -> Any:
        """`a` where `key_a` is not above `key_b`, else `b`."""
        return np.where(key_a <= key_b, a, b)

    def leading(self, a: Any) -> Any:
        """The decimal places of the leading digits; 0 for 0 and for what is no number."""
        size = np.abs(a)
        usable = (size > 0) & np.isfinite(size)
        return np.floor(np.log10(np.where(usable, size, 1.0) * (1 + _NOISE))).astype(np.int64)

    def to_place(self, a: Any, place: Any, to_even: Any) -> Any:
        """Rounded to a decimal place; half-way cases to the even digit or away from zero."""
        scaled = np.abs(a) * _TENS.take(_MOST_POWER - place, mode="clip")
        slack = np.minimum(scaled * _NOISE, _MOST_SLACK)
        whole = np.floor(scaled + 0.5 + slack)
        half_way = np.abs(whole - scaled - 0.5) <= slack
        whole = whole - (half_way & to_even & (whole % 2 == 1))
        return np.copysign(whole * _TENS.take(_MOST_POWER + place, mode="clip"), a)

    def cut(self, a: Any, place: Any) -> Any:
        """Cut behind a decimal place."""
        scaled = np.abs(a) * _TENS.take(_MOST_POWER - place, mode="clip")
        whole = np.floor(scaled + np.minimum(scaled * _NOISE, _MOST_SLACK))
        return np.copysign(whole * _TENS.take(_MOST_POWER + place, mode="clip"), a)

    def down(self, a: Any) -> Any:
        """The whole parts, downwards."""
        return np.floor(a)

    def least_whole(self, index: int, amounts: Sequence[Any]) -> Any:
        """One of the least whole numbers in which the amounts stand to each other."""
        columns = np.stack(np.broadcast_arrays(*amounts))
        ratios = columns / columns.min(axis=0)
        times = np.ones(ratios.shape[1:])
        for multiple in reversed(_MULTIPLES):
            scaled = multiple * ratios
            fits = (np.abs(scaled - np.floor(scaled + 0.5)) <= float(_NEAR_WHOLE)).all(axis=0)
            times = np.where(fits, multiple, times)
        return np.floor(times * ratios[index] + 0.5)
