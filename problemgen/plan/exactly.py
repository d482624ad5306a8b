"""Windows over exact fractions, worked in whole numbers: they come to the same as `Windows(Exact())`, sooner.

Between two steps a window is six whole numbers, numerators and denominators that nobody reduces; Fractions are made of
those that somebody asks for. A bound is lowered, or raised, by half a unit and cut to `TRIM` figures in one division.
"""

from __future__ import annotations

import math
from fractions import Fraction
from functools import lru_cache

from problemgen.chemistry.units import Unit
from problemgen.exact.rounding import POWERS, half_unit, lowest_exponent, ratio_exponent, trimmed
from problemgen.plan.arithmetic import EXACT_FIGURES, OF_ZERO, Base, Exact, Window, Windows

__all__ = ["TRIM", "includes", "value_as_float", "windows_over"]

TRIM = 15
"""Bounds of exact windows are rounded outwards to so many figures: shorter fractions, and never narrower.

Far more than any answer has, so that no verdict hangs on it; without it, the bounds' fractions grow with every step.
"""

_LEAST, _ABOVE = 10 ** (TRIM - 1), 10**TRIM
_HALVES = tuple(5 * 10 ** (TRIM - 1 - figures) for figures in range(TRIM))
"""Half a unit of the last of so many figures, in units of the last of TRIM figures."""

_MOST = 1 << (1 << 15)
"""Of a numerator or a denominator, as in `short`."""


def _window(n: int, d: int, ln: int, ld: int, hn: int, hd: int, figures: int) -> Window:
    """OverflowError for a number with more digits than any chain of the laboratory has; below 0, `short` sees to it."""
    if n > _MOST or d > _MOST or ln > _MOST or ld > _MOST or hn > _MOST or hd > _MOST:
        raise OverflowError
    window = object.__new__(Window)
    object.__setattr__(window, "whole", (n, d, ln, ld, hn, hd))
    object.__setattr__(window, "figures", figures)
    return window


class _ExactWindows(Windows):
    """Windows of Fractions; what is rare, or rests on a comparison of whole windows, is worked in Fractions."""

    def __init__(self) -> None:
        super().__init__(Exact())

    def number(self, value: Fraction) -> Window:
        n, d = value.numerator, value.denominator
        return _window(n, d, n, d, n, d, EXACT_FIGURES)

    def add(self, a: Window, b: Window) -> Window:
        an, ad, aln, ald, ahn, ahd = a.whole
        bn, bd, bln, bld, bhn, bhd = b.whole
        n, d = _sum(an, ad, bn, bd)
        place = max(_exponent(an, ad) - a.figures, _exponent(bn, bd) - b.figures)
        figures = min(max(_exponent(n, d) - place, 1), EXACT_FIGURES)
        if aln is an and bln is bn and _is_point(a) and _is_point(b):
            return _window(n, d, n, d, n, d, figures)
        return _window(n, d, *_sum(aln, ald, bln, bld), *_sum(ahn, ahd, bhn, bhd), figures)

    def multiply(self, a: Window, b: Window) -> Window:
        an, ad, aln, ald, ahn, ahd = a.whole
        bn, bd, bln, bld, bhn, bhd = b.whole
        figures = min(a.figures, b.figures)
        if aln is an and bln is bn and _is_point(a) and _is_point(b):
            n, d = an * bn, ad * bd
            return _window(n, d, n, d, n, d, figures)
        if aln > 0 and bln > 0:
            return _window(an * bn, ad * bd, aln * bln, ald * bld, ahn * bhn, ahd * bhd, figures)
        return super().multiply(a, b)

    def divide(self, a: Window, b: Window) -> Window:
        an, ad, aln, ald, ahn, ahd = a.whole
        bn, bd, bln, bld, bhn, bhd = b.whole
        if aln <= 0 or bln <= 0 or bn <= 0 or bhn <= 0:
            return super().divide(a, b)
        figures = min(a.figures, b.figures)
        if aln is an and bln is bn and _is_point(a) and _is_point(b):
            n, d = an * bd, ad * bn
            return _window(n, d, n, d, n, d, figures)
        return _window(an * bd, ad * bn, aln * bhd, ald * bhn, ahn * bld, ahd * bln, figures)

    def negate(self, a: Window) -> Window:
        n, d, ln, ld, hn, hd = a.whole
        return _window(-n, d, -hn, hd, -ln, ld, a.figures)

    def lesser(self, a: Window, b: Window) -> Window:
        return self._compared(a, b, 1)

    def greater(self, a: Window, b: Window) -> Window:
        return self._compared(a, b, -1)

    def _compared(self, a: Window, b: Window, sign: int) -> Window:
        """The lesser of two (sign 1), or the greater (−1)."""
        an, ad, aln, ald, ahn, ahd = a.whole
        bn, bd, bln, bld, bhn, bhd = b.whole
        first = sign * (an * bd - bn * ad) <= 0
        low = sign * (aln * bld - bln * ald) <= 0
        high = sign * (ahn * bhd - bhn * ahd) <= 0
        if first == low == high:
            return a if first else b
        return _window(
            *((an, ad) if first else (bn, bd)),
            *((aln, ald) if low else (bln, bld)),
            *((ahn, ahd) if high else (bhn, bhd)),
            a.figures if first else b.figures,
        )

    def rounded(self, a: Window, figures: int) -> Window:
        n, d, ln, ld, hn, hd = a.whole
        return _window(n, d, *_moved(ln, ld, figures, -1), *_moved(hn, hd, figures, 1), a.figures)

    def kept(self, a: Window, figures: int) -> Window:
        n, d, ln, ld, hn, hd = a.whole
        value = Fraction(n, d)
        n, d = value.numerator, value.denominator
        window = _window(n, d, *_lowered(ln, ld, figures), *_raised(hn, hd, figures), a.figures)
        object.__setattr__(window, "value", value)
        return window

    def shortened(self, a: Window) -> Window:
        return Window(a.value, trimmed(a.low, TRIM, up=False), trimmed(a.high, TRIM, up=True), a.figures)

    def answered(self, a: Window, unit: Unit, figures: int, last: int) -> Window:
        if unit.offset:
            return super().answered(a, unit, figures, last)
        over, under = unit.factor.denominator, unit.factor.numerator
        n, d, ln, ld, hn, hd = a.whole
        low, high = _moved(ln * over, ld * under, last, -1), _moved(hn * over, hd * under, last, 1)
        return _window(n * over, d * under, *low, *high, figures)


def includes(window: Window, value: Fraction) -> bool:
    """Whether a value lies in a window of Fractions."""
    _, _, ln, ld, hn, hd = window.whole
    n, d = value.numerator, value.denominator
    return ln * d <= n * ld and n * hd <= hn * d


def value_as_float(window: Window) -> float:
    """The float nearest to the value of a window; infinite where none is near.

    A quotient of whole numbers is rounded once, whether they are reduced or not.
    """
    n, d = window.whole[:2]
    try:
        return n / d
    except OverflowError:
        return math.inf if n > 0 else -math.inf


def _is_point(window: Window) -> bool:
    n, d, ln, ld, hn, hd = window.whole
    return ln is n and ld is d and hn is n and hd is d


def _sum(an: int, ad: int, bn: int, bd: int) -> tuple[int, int]:
    return (an + bn, ad) if ad == bd else (an * bd + bn * ad, ad * bd)


def _exponent(n: int, d: int) -> int:
    return ratio_exponent(n, d) if n else OF_ZERO


def _moved(n: int, d: int, figures: int, sign: int) -> tuple[int, int]:
    """A bound with half a unit of the last of its figures added (sign 1) or taken away (−1); 0 as it is."""
    if not n:
        return n, d
    place = ratio_exponent(n, d) - figures
    if place < 0:
        unit = POWERS[-place]
        return n * unit + sign * 5 * d, d * unit
    return n + sign * 5 * POWERS[place] * d, d


def _lowered(n: int, d: int, figures: int) -> tuple[int, int]:
    """A bound less half a unit of the last of its figures, rounded down to TRIM figures."""
    if n > 0 and figures < TRIM:
        units, _, place = _in_units(n, d)
        units -= _HALVES[figures]
        if units >= _LEAST:
            return _decimal(units, place)
    bound = Fraction(n, d)
    return trimmed(bound - half_unit(bound, figures), TRIM, up=False).as_integer_ratio()


def _raised(n: int, d: int, figures: int) -> tuple[int, int]:
    """A bound and half a unit of the last of its figures, rounded up to TRIM figures."""
    if n > 0 and figures < TRIM:
        units, is_cut, place = _in_units(n, d)
        units += _HALVES[figures] + is_cut
        if units < _ABOVE:
            return _decimal(units, place)
    bound = Fraction(n, d)
    return trimmed(bound + half_unit(bound, figures), TRIM, up=True).as_integer_ratio()


def _in_units(n: int, d: int) -> tuple[int, bool, int]:
    """A ratio above 0 in units of the last of its TRIM figures, rounded down; whether it was cut; the unit's place."""
    place = lowest_exponent(n, d) - TRIM + 1
    units, rest = divmod(n * POWERS[-place], d) if place < 0 else divmod(n, d * POWERS[place])
    if units < _ABOVE:
        return units, rest > 0, place
    units, last = divmod(units, 10)
    return units, rest > 0 or last > 0, place + 1


def _decimal(units: int, place: int) -> tuple[int, int]:
    return (units, POWERS[-place]) if place < 0 else (units * POWERS[place], 1)


_EXACTLY = _ExactWindows()


@lru_cache(maxsize=8)
def windows_over(base: Base) -> Windows:
    """Windows over an arithmetic: the same ones each time."""
    return _EXACTLY if isinstance(base, Exact) else Windows(base)
