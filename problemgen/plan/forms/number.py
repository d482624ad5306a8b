"""A number in a unit: the usual form of a part."""

from __future__ import annotations

import re
from array import array
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from statistics import median
from typing import Any

from problemgen.chemistry.units import unit_text
from problemgen.exact.digits import number_text
from problemgen.exact.rounding import figures_text, plain_text
from problemgen.language.messages import N_, _
from problemgen.language.numbers import in_digits
from problemgen.model.blocks import Line, Prose, Strong
from problemgen.model.plan import Plan
from problemgen.model.policy import Tolerance
from problemgen.model.problem import Asked, Scene
from problemgen.model.truths import NumberTruth
from problemgen.plan.arithmetic import Base, Exact, Window
from problemgen.plan.forms.form import Blank, Cells, Ending, Form, Spread, SpreadRow, Values, ValueWindows
from problemgen.plan.windows import answer_window

__all__ = ["NUMBER", "WIDEST", "WIDEST_COARSE", "NumberForm", "is_wide"]

WIDEST = Fraction(3, 100)
"""The widest half-width of a window, relative to the value, where the data have three figures or more.

Rounding to three figures moves a number by 0.5 % at most: six such roundings, all to one side. Beyond it, a small
difference of large numbers is at work. Of the shipped templates two lose candidates by it, as they would with 5 %; with
2 % a third one does.
"""

WIDEST_COARSE = Fraction(8, 100)
"""The same where they have fewer: two figures move a number by 5 % at most, so one and a half of such roundings."""

_KEY_FIGURES = 2
"""Figures of a bound in the key's table beyond those of the answer: that one sees where the window ends."""

_EXPLAINED_FIGURES = 6
"""Figures of a bound in an explanation, as of the other values in it."""

_NUMBER = re.compile(r"[+-]?[0-9]+(?:\.[0-9]+)?(?:e[+-]?[0-9]+)?")
_EXACT = Exact()


def is_wide(truth: NumberTruth) -> bool:
    """Whether a number's window is wider than one wants to mark by: a small difference of large numbers."""
    widest = WIDEST if truth.figures >= 3 else WIDEST_COARSE
    return (truth.high - truth.low) / 2 > widest * abs(truth.value)


def _numbers() -> array[float]:
    return array("d")


@dataclass
class _NumberSpread:
    """The right numbers of a class and the relative half-widths of their windows; packed, for classes of thousands."""

    unit: str
    values: array[float] = field(default_factory=_numbers)
    halves: array[float] = field(default_factory=_numbers)

    def add(self, truth: NumberTruth) -> None:
        self.values.append(float(truth.value))
        self.halves.append(float((truth.high - truth.low) / 2 / abs(truth.value)))

    def row(self) -> SpreadRow:
        picked = (min(self.values), median(self.values), max(self.values))
        texts = (number_text(figures_text(Fraction(value), 3)) for value in picked)
        widths = (in_digits(plain_text(Fraction(100 * half), -2)) for half in (median(self.halves), max(self.halves)))
        return SpreadRow("", (*texts, unit_text(self.unit), *widths))


class NumberForm(Form[NumberTruth]):
    """A number in a unit, with an acceptance window."""

    name = "number"
    to_write = N_("Write a number in each blank; the unit stands beside it.")
    how_to_round = N_(
        "Take molar masses to two decimals or better, keep on the way at least as many figures as your data have "
        "(never fewer than three), and round the answer to the figures that the data support."
    )
    """Whoever keeps to it arrives inside every window."""

    rests_on_plan = True
    has_window = True

    def answer(self, plan: Plan, _scene: Scene, asked: Asked, windows: ValueWindows) -> NumberTruth:
        """The number, in the unit asked for, with its window."""
        window = answer_window(plan, asked, windows, _EXACT)
        printed = figures_text(window.value, window.figures)
        return NumberTruth(window.value, window.low, window.high, window.figures, printed)

    def window(self, plan: Plan, asked: Asked, windows: ValueWindows, base: Base) -> Window:
        """The acceptance window."""
        return answer_window(plan, asked, windows, base)

    def is_counted(self, plan: Plan, asked: Asked) -> bool:
        """Whether it is a count, such as of portions."""
        step = plan.step(asked.quantity)
        return step is not None and step.rounding == "whole"

    def tolerated(self, truth: NumberTruth, tolerance: Tolerance) -> NumberTruth:
        """The number with a window that is widened or replaced."""
        if tolerance.window == "derived":
            return truth
        low, high = tolerance.bounds(truth.value, truth.low, truth.high)
        return replace(truth, low=low, high=high)

    def accepts(self, _plan: Plan, _asked: Asked, _written: Values, _right: Values, inside: Callable[[], Any]) -> Any:
        """Whether the number lies in the window."""
        return inside()

    def shows(self, plan: Plan, asked: Asked, truth: NumberTruth, _right: ValueWindows, wrong: ValueWindows) -> bool:
        """Whether the windows have nothing in common."""
        window = answer_window(plan, asked, wrong, _EXACT)
        return bool(window.high < truth.low or truth.high < window.low)

    def handed_in(self, _scene: Scene, _plan: Plan, asked: Asked, _written: Values, number: Callable[[], str]) -> str:
        """The number with its unit."""
        return f"{number()}{'' if asked.unit == '1' else f' {asked.unit}'}"

    def blank(self, _scene: Scene, _plan: Plan, asked: Asked, lines: int) -> Blank:
        """A blank with the unit behind it."""
        return Blank(lines, unit=unit_text(asked.unit))

    def text(self, _scene: Scene, asked: Asked, truth: NumberTruth) -> str:
        """The number with the figures that the data support, and its unit."""
        return f"{in_digits(truth.printed)} {unit_text(asked.unit)}".strip()

    def cells(self, _scene: Scene, asked: Asked, truth: NumberTruth) -> Cells:
        """The number, the bounds with some figures more, and the unit."""
        figures = truth.figures + _KEY_FIGURES
        low, high = (number_text(figures_text(bound, figures)) for bound in (truth.low, truth.high))
        return Cells((Strong(number_text(truth.printed)),), low, high, unit_text(asked.unit))

    def explained(self, _scene: Scene, asked: Asked, truth: NumberTruth) -> str:
        """The number with its window: "0.0459, accepted from 0.0458000 to 0.0461000 mol"."""
        low, high = (number_text(figures_text(bound, _EXPLAINED_FIGURES)) for bound in (truth.low, truth.high))
        told = _("{number}, accepted from {low} to {high} {unit}")
        unit = unit_text(asked.unit)
        return told.format(number=number_text(truth.printed), low=low, high=high, unit=unit).strip()

    def read_as(self, read: str) -> Line:
        """The number and the unit that were read, as the sheets print them."""
        number, _, unit = read.partition(" ")
        if not _NUMBER.fullmatch(number):
            return (Prose(read),)
        return (Prose(f"{number_text(number)}\u00a0{unit}" if unit else number_text(number)),)

    def notes(self, _scene: Scene, truth: NumberTruth) -> Iterator[str]:
        """That the window is wide, where it is."""
        if is_wide(truth):
            yield _("These data leave a wide window: a small difference of large numbers.")

    def told_in(self, asked: Asked) -> Mapping[str, str]:
        """The unit that is asked for."""
        return {asked.quantity.id: asked.unit}

    def ending(self, asked: Asked, truth: NumberTruth) -> Ending:
        """The last line has the number as the key prints it."""
        return Ending(number=(truth.printed, asked.unit))

    def spread(self, _scene: Scene, asked: Asked) -> Spread:
        """Least, median and greatest number, and the widths of the windows."""
        return _NumberSpread(asked.unit)

    def size(self, truth: NumberTruth) -> Fraction:
        """The number itself."""
        return truth.value


NUMBER = NumberForm()
