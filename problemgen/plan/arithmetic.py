"""The arithmetics in which one plan is evaluated: exact fractions, and windows over an arithmetic.

An arithmetic is a set of operations on its own kind of value. `problemgen.plan.evaluate` runs an expression in
any of them, so the exact answer, a thousand candidates (`problemgen.plan.batch`) and the acceptance window (exact ones
in `problemgen.plan.exactly`) come from the same expression.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import reduce
from typing import TYPE_CHECKING, Any, Protocol

from problemgen.chemistry.units import Unit
from problemgen.exact.rounding import exponent as exact_exponent
from problemgen.exact.rounding import half_unit as exact_half_unit
from problemgen.exact.rounding import round_to_place, short

__all__ = [
    "EXACT_FIGURES",
    "LEAST_WHOLE",
    "MULTIPLES",
    "OF_ZERO",
    "Arithmetic",
    "Base",
    "Exact",
    "Window",
    "Windows",
    "in_unit",
]

EXACT_FIGURES = 99
"""The significant figures of a number that sets no limit: a count, a coefficient, a constant.

A number, not infinity: figures stand in arrays of whole numbers too. More than any written number can have by far.
"""

LEAST_WHOLE = Fraction(1, 10)
"""How far a ratio may lie from a whole number to count as one: common practice, no source."""

MULTIPLES = range(1, 9)
"""By what a ratio is multiplied to become whole; formulas of the laboratory need no more."""


def _near_whole(ratio: Fraction) -> bool:
    return abs(ratio - round_to_place(ratio, 0)) <= LEAST_WHOLE


OF_ZERO = -41
"""The decimal exponent of 0, below that of every number: a 0.00 on a burette limits no sum that it stands in.

From 1e-40 to 1e40, the square of a count of particles would still be in it.
"""


class Arithmetic(Protocol):
    """What an evaluation needs of a kind of number."""

    def number(self, value: Fraction) -> Any:
        """An exact number in this arithmetic."""

    def add(self, a: Any, b: Any) -> Any:
        """The sum."""

    def multiply(self, a: Any, b: Any) -> Any:
        """The product."""

    def divide(self, a: Any, b: Any) -> Any:
        """The quotient; ZeroDivisionError in exact arithmetics."""

    def negate(self, a: Any) -> Any:
        """The negative."""

    def lesser(self, a: Any, b: Any) -> Any:
        """The lesser of two."""

    def greater(self, a: Any, b: Any) -> Any:
        """The greater of two."""

    def floor(self, a: Any) -> Any:
        """The greatest whole number that is not above."""

    def nearest(self, a: Any) -> Any:
        """The nearest whole number."""

    def whole(self, index: int, amounts: Sequence[Any]) -> Any:
        """One of the least whole numbers whose ratio is that of the amounts, as near as LEAST_WHOLE tells."""

    def beside_lesser(self, key_a: Any, a: Any, key_b: Any, b: Any) -> Any:
        """`a` where `key_a` is not above `key_b`, else `b`."""


class Base(Arithmetic, Protocol):
    """An arithmetic over which windows can be built; one is as good as another of its class."""

    def __hash__(self) -> int:
        """What follows from a plan alone is kept by plan and arithmetic."""

    def exponent(self, a: Any) -> Any:
        """The decimal exponent of the leading figure."""

    def half_unit(self, a: Any, figures: Any) -> Any:
        """Half a unit of the last of so many significant figures."""

    def positive(self, a: Any) -> bool:
        """Whether every number is above 0."""

    def divides(self, low: Any, high: Any) -> bool:
        """Whether a number that lies between these can be divided by: none of them is 0."""


@dataclass(frozen=True)
class Exact:
    """Fractions; OverflowError for one with more digits than any chain of the laboratory has."""

    def number(self, value: Fraction) -> Fraction:
        """The number itself."""
        return value

    def add(self, a: Fraction, b: Fraction) -> Fraction:
        """The sum."""
        return short(a + b)

    def multiply(self, a: Fraction, b: Fraction) -> Fraction:
        """The product."""
        return short(a * b)

    def divide(self, a: Fraction, b: Fraction) -> Fraction:
        """The quotient."""
        return short(a / b)

    def negate(self, a: Fraction) -> Fraction:
        """The negative."""
        return -a

    def lesser(self, a: Any, b: Any) -> Any:
        """The lesser of two."""
        return a if a <= b else b

    def greater(self, a: Any, b: Any) -> Any:
        """The greater of two."""
        return a if a >= b else b

    def floor(self, a: Fraction) -> Fraction:
        """The whole part, downwards."""
        return Fraction(a.numerator // a.denominator)

    def nearest(self, a: Fraction) -> Fraction:
        """The nearest whole number."""
        return round_to_place(a, 0)

    def whole(self, index: int, amounts: Sequence[Fraction]) -> Fraction:
        """One of the least whole numbers in the ratio of the amounts; the ratio is taken to the least of them."""
        ratios = [amount / min(amounts) for amount in amounts]
        times = next((n for n in MULTIPLES if all(_near_whole(n * ratio) for ratio in ratios)), 1)
        return round_to_place(times * ratios[index], 0)

    def beside_lesser(self, key_a: Any, a: Any, key_b: Any, b: Any) -> Any:
        """`a` where `key_a` is not above `key_b`, else `b`."""
        return a if key_a <= key_b else b

    def exponent(self, a: Fraction) -> int:
        """The decimal exponent of the leading figure."""
        return exact_exponent(a) if a else OF_ZERO

    def half_unit(self, a: Fraction, figures: int) -> Fraction:
        """Half a unit of the last of so many significant figures."""
        return exact_half_unit(a, figures)

    def positive(self, a: Fraction) -> bool:
        """Whether the number is above 0."""
        return a.numerator > 0

    def divides(self, low: Fraction, high: Fraction) -> bool:
        """Whether both bounds are on one side of 0."""
        return low.numerator > 0 or high.numerator < 0


class _Unopened:
    """What a window of Fractions may hold in the place of some of them, or beside them.

    `whole` are numerator and denominator of value, low and high: not reduced, the denominators above 0. Fractions are
    made of them when somebody asks, and the other way round.
    """

    __slots__ = ("whole",)
    whole: tuple[int, int, int, int, int, int]

    if not TYPE_CHECKING:  # called for what is not set; a checker would take any name for one that is

        def __getattr__(self, name: str) -> Any:
            if name not in ("whole", "value", "low", "high"):
                raise AttributeError(name)
            if name == "whole":
                object.__setattr__(self, name, _ratios(self))
            else:
                self._open()
            return getattr(self, name)

        def _open(self) -> None:
            n, d, ln, ld, hn, hd = self.whole
            value = Fraction(n, d)
            is_point = ln is n and ld is d and hn is n and hd is d
            object.__setattr__(self, "value", value)
            object.__setattr__(self, "low", value if is_point else Fraction(ln, ld))
            object.__setattr__(self, "high", value if is_point else Fraction(hn, hd))


def _ratios(window: Window) -> tuple[int, int, int, int, int, int]:
    n, d = window.value.numerator, window.value.denominator
    if window.is_point:
        return (n, d, n, d, n, d)
    low, high = window.low, window.high
    return (n, d, low.numerator, low.denominator, high.numerator, high.denominator)


@dataclass(frozen=True, slots=True)
class Window(_Unopened):
    """A value, the bounds of what an honest worker may hold in its place, and the figures that its data support.

    Fields are Fractions, or float arrays of one shape; `figures` is an int or an array of ints. A point (a number
    as given, nobody's rounding in it) has one object as value and bounds, and is worked once instead of three times.
    """

    value: Any
    low: Any
    high: Any
    figures: Any = EXACT_FIGURES

    @property
    def is_point(self) -> bool:
        """Whether value and bounds are one object."""
        return self.low is self.value is self.high


def in_unit(value: Any, unit: Unit, base: Base) -> Any:
    """A value in engine units, turned into a unit."""
    shifted = base.add(value, base.negate(base.number(unit.offset))) if unit.offset else value
    return shifted if unit.factor == 1 else base.divide(shifted, base.number(unit.factor))


class Windows:
    """Interval arithmetic over a base arithmetic, carrying significant figures along.

    Products and quotients keep the fewest figures, sums and differences the last common decimal place
    (the rule of NIST SP 811 (2008), appendix B.7, and of general-chemistry courses).
    """

    def __init__(self, base: Base) -> None:
        """Windows of Fractions, or of float arrays."""
        self.base = base

    def number(self, value: Fraction) -> Window:
        """An exact number."""
        plain = self.base.number(value)
        return Window(plain, plain, plain)

    def add(self, a: Window, b: Window) -> Window:
        """The sum; it keeps the decimal place of the term that is known less far."""
        base = self.base
        value = base.add(a.value, b.value)
        place = base.greater(self._place(a), self._place(b))
        figures = base.greater(base.exponent(value) - place + 1, 1)
        return Window(value, base.add(a.low, b.low), base.add(a.high, b.high), base.lesser(figures, EXACT_FIGURES))

    def multiply(self, a: Window, b: Window) -> Window:
        """The product; it keeps the fewer figures."""
        return self._monotonic(self.base.multiply, a, b, b.low, b.high)

    def divide(self, a: Window, b: Window) -> Window:
        """The quotient; it keeps the fewer figures.

        ZeroDivisionError in exact arithmetic where the divisor may be 0, whatever its value: no bounds hold then.
        """
        if not self.base.divides(b.low, b.high):
            raise ZeroDivisionError
        return self._monotonic(self.base.divide, a, b, b.high, b.low)

    def negate(self, a: Window) -> Window:
        """The negative."""
        negate = self.base.negate
        return Window(negate(a.value), negate(a.high), negate(a.low), a.figures)

    def lesser(self, a: Window, b: Window) -> Window:
        """The lesser of two."""
        return self._picked(a, b, self.base.lesser, a.value, b.value)

    def greater(self, a: Window, b: Window) -> Window:
        """The greater of two."""
        return self._picked(a, b, self.base.greater, b.value, a.value)

    def floor(self, a: Window) -> Window:
        """The whole part, downwards: a count, with no limit of figures."""
        floor = self.base.floor
        return Window(floor(a.value), floor(a.low), floor(a.high))

    def nearest(self, a: Window) -> Window:
        """The nearest whole number of the value: who rounds honestly comes to the same."""
        count = self.base.nearest(a.value)
        return Window(count, count, count)

    def whole(self, index: int, amounts: Sequence[Window]) -> Window:
        """One of the least whole numbers in the ratio of the values: who rounds honestly comes to the same."""
        count = self.base.whole(index, [amount.value for amount in amounts])
        return Window(count, count, count)

    def beside_lesser(self, key_a: Window, a: Window, key_b: Window, b: Window) -> Window:
        """`a` where `key_a` is not above `key_b`, else `b`; where a worker may find either, the bounds hold both."""
        base, pick = self.base, self.base.beside_lesser
        keys = (key_a.value, key_b.value)

        def bound(one: Any, other: Any, both: Any) -> Any:
            either = pick(key_a.low, both, key_b.high, other)
            return pick(key_b.low, either, key_a.high, one)

        return Window(
            pick(keys[0], a.value, keys[1], b.value),
            bound(a.low, b.low, base.lesser(a.low, b.low)),
            bound(a.high, b.high, base.greater(a.high, b.high)),
            pick(keys[0], a.figures, keys[1], b.figures),
        )

    def widened(self, a: Window, half: Any) -> Window:
        """The window with `half` added on either side."""
        base = self.base
        return Window(a.value, base.add(a.low, base.negate(half)), base.add(a.high, half), a.figures)

    def rounded(self, a: Window, figures: Any) -> Window:
        """The window after a worker rounded to `figures` significant figures or more.

        Half a unit of the last figure is added on either side, whatever the exact value's own rounding:
        another worker reaches the step by another way.
        """
        base = self.base
        low = base.add(a.low, base.negate(base.half_unit(a.low, figures)))
        return Window(a.value, low, base.add(a.high, base.half_unit(a.high, figures)), a.figures)

    def kept(self, a: Window, figures: Any) -> Window:
        """The window of a result that others build on: rounded."""
        return self.rounded(a, figures)

    def shortened(self, a: Window) -> Window:
        """The window with bounds that are no longer than they have to be: floats are not."""
        return a

    def answered(self, a: Window, unit: Unit, figures: Any, last: Any) -> Window:
        """The window of an answer in a unit: with so many figures, and rounded to `last` or more."""
        value, low, high = (a.value, a.low, a.high)
        if unit.offset or unit.factor != 1:
            value, low, high = (in_unit(one, unit, self.base) for one in (value, low, high))
        return self.rounded(Window(value, low, high, figures), last)

    def _place(self, a: Window) -> Any:
        return self.base.exponent(a.value) - a.figures + 1

    def _monotonic(self, operation: Any, a: Window, b: Window, first: Any, second: Any) -> Window:
        """A product or quotient. Where nothing is negative, the bounds `first` and `second` of b give its own."""
        base = self.base
        figures = base.lesser(a.figures, b.figures)
        value = operation(a.value, b.value)
        if a.is_point and b.is_point:
            return Window(value, value, value, figures)
        if base.positive(a.low) and base.positive(b.low):
            return Window(value, operation(a.low, first), operation(a.high, second), figures)
        corners = [operation(x, y) for x in (a.low, a.high) for y in (b.low, b.high)]
        return Window(value, reduce(base.lesser, corners), reduce(base.greater, corners), figures)

    def _picked(self, a: Window, b: Window, pick: Any, first: Any, second: Any) -> Window:
        figures = self.base.beside_lesser(first, a.figures, second, b.figures)
        return Window(pick(a.value, b.value), pick(a.low, b.low), pick(a.high, b.high), figures)
