"""The acceptance window of an answer: every value that an honest worker can arrive at, in the unit asked for.

What an honest worker may do, and so what the window holds:

- take atomic weights with two or more decimals, from this edition's table or one that is still in use;
- take the usual values of a constant;
- round a molar mass to two decimals or more, or to the figures of the data, but to no fewer than three;
- round every other intermediate result to three figures or more, or to those that the data support where that is
  more;
- round the answer to the figures that the data support, or more.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from problemgen.chemistry.units import Unit, read_unit
from problemgen.model.plan import Plan
from problemgen.model.problem import Asked
from problemgen.model.quantity import KINDS, Kind
from problemgen.plan.arithmetic import EXACT_FIGURES, Base, Window, in_unit
from problemgen.plan.evaluate import LEAST_FIGURES
from problemgen.plan.exactly import windows_over

__all__ = ["RULES", "UNLIMITED_FIGURES", "answer_window", "given_window", "whole_window"]

UNLIMITED_FIGURES = 4
"""Figures of an answer that no measured value limits (a molar mass): as atomic weights are tabled for courses."""

RULES: Mapping[str, object] = {"unlimited_figures": UNLIMITED_FIGURES}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""

_FREEZING, _SHORT_FREEZING = Fraction("273.15"), Fraction(273)
"""0 °C in kelvin, exact, and as courses shorten it: common practice, no source."""


def _moves_point(unit: Unit) -> bool:
    """Whether converting a unit only moves the decimal point."""
    factor = unit.factor
    digits = str(factor.numerator).rstrip("0") + str(factor.denominator).rstrip("0")
    return digits == "11" and not unit.offset


def given_window(value: Any, place: Any, unit: Unit, base: Base, kind: str = "") -> Window:
    """The window of a given value of a kind, in engine units.

    `value` is in `unit`, `place` the decimal exponent of its last written digit. What is counted limits no figures, and
    some readings support fewer than they show. Where converting does more than move the decimal point, the converted
    value may have been rounded, as any intermediate result; a temperature may have been converted with 273 as
    well as with 273.15.
    """
    windows = windows_over(base)
    converted = base.multiply(value, base.number(unit.factor)) if unit.factor != 1 else value
    if unit.offset:
        converted = base.add(converted, base.number(unit.offset))
    counted = base.exponent(converted if unit.offset else value) - place + 1
    figures = _supported(KINDS.get(kind), base.greater(counted, 1), base)
    window = Window(converted, converted, converted, figures)
    if _moves_point(unit):
        return window
    if unit.offset == _FREEZING:
        low = base.add(converted, base.number(_SHORT_FREEZING - _FREEZING))
        window = Window(converted, low, converted, figures)
    return windows.rounded(window, base.greater(figures, LEAST_FIGURES))


def _supported(kind: Kind | None, shown: Any, base: Base) -> Any:
    """The figures that a given value supports, by those that it shows."""
    if kind is None or not (kind.is_counted or kind.most_figures):
        return shown
    return EXACT_FIGURES if kind.is_counted else base.lesser(shown, kind.most_figures)


def whole_window(inner: Window, unit: Unit, base: Base) -> Window:
    """The window of an answer that rests on whole numbers: no wider than the number itself, in its unit."""
    value = in_unit(inner.value, unit, base)
    return Window(value, value, value, base.greater(base.exponent(value) + 1, 1))


def answer_window(plan: Plan, asked: Asked, values: Mapping[str, Window], base: Base) -> Window:
    """The acceptance window of an asked quantity, in its unit; `figures` are those of the answer.

    A step's window already holds its own rounding to three figures or more. A worker may have kept one figure more
    than the data support, and round that again: at most half a unit of that further figure is added. An answer whose
    data support fewer figures than three or limit nothing, or one that no rounded step yields, is widened by half a
    unit of its last figure.
    """
    unit = read_unit(asked.unit)
    inner = values[asked.quantity.id]
    step = plan.step(asked.quantity)
    if step is not None and step.rounding == "whole":
        return whole_window(inner, unit, base)
    figures = base.beside_lesser(EXACT_FIGURES, UNLIMITED_FIGURES, inner.figures, inner.figures)
    last = figures
    if step is not None and step.rounding != "molar mass":
        again = base.beside_lesser(LEAST_FIGURES, figures + 1, figures, figures)
        last = base.beside_lesser(EXACT_FIGURES, figures, inner.figures, again)
    return windows_over(base).answered(inner, unit, figures, last)
