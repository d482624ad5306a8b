"""How near a number is to the right one: by the last digit, by a figure fewer, and what may stand in its place."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from problemgen.chemistry.units import read_unit
from problemgen.exact.rounding import half_unit
from problemgen.grade.judging.findings import AnsweredNumber
from problemgen.grade.judging.right_digits import SURELY
from problemgen.model.truths import NumberTruth
from problemgen.plan.arithmetic import Window
from problemgen.plan.evaluate import LEAST_FIGURES
from problemgen.plan.exactly import value_as_float
from problemgen.plan.variations import as_float

__all__ = [
    "LAST_DIGIT",
    "NOT_ROUNDED",
    "ONE_FIGURE_FEWER",
    "RULES",
    "as_window",
    "farthest",
    "rounded_once_more",
    "rounded_too_far",
    "surely_farther",
    "within_last_digit",
]


_FARTHEST = Fraction(3, 100)
"""How far, relatively, rounding is believed to lead: six results with three figures, all to one side, lead as far."""

LAST_DIGIT = "last-digit"
"""The reason of what is right but for its last digit."""

ONE_FIGURE_FEWER = "one-figure-fewer"
"""The reason of what is right when it is rounded to one figure fewer than the data support."""

NOT_ROUNDED = "not-rounded"
"""The reason of a number that rounds to the whole number asked for: how many waters, how many times."""

RULES: Mapping[str, object] = {
    "farthest": _FARTHEST,
    "last_digit": LAST_DIGIT,
    "one_figure_fewer": ONE_FIGURE_FEWER,
    "not_rounded": NOT_ROUNDED,
}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


def farthest(value: Fraction) -> Fraction:
    """How far from a value rounding may lead at most, wherever it is done."""
    return _FARTHEST * abs(value)


def surely_farther(answer: AnsweredNumber, window: Window) -> bool:
    """Whether floats tell already that an answer is farther from a value (engine units) than rounding may lead.

    Where 0 lies elsewhere in engine units they tell nothing.
    """
    value = value_as_float(window)
    far = float(_FARTHEST) * abs(value) * (1 + SURELY)
    return not read_unit(answer.asked.unit).offset and abs(as_float(answer.engine) - value) > far


def within_last_digit(answer: AnsweredNumber, truth: NumberTruth) -> bool:
    """Whether an answer is within one unit of the last digit that the data support: cut, or rounded the other way.

    A count has no last digit.
    """
    return truth.low < truth.high and answer.telling and _within(answer, truth, truth.figures)


def rounded_once_more(answer: AnsweredNumber, truth: NumberTruth) -> bool:
    """Whether an answer is as near as one that is rounded to one figure fewer than the data support, three or more.

    How many figures are due is the policy's business: the method is right. "1.2" stands for "1.20" where it is as near.
    """
    if not LEAST_FIGURES < truth.figures > answer.written or not answer.value:
        return False
    half = half_unit(truth.value, truth.figures - 1)
    if answer.written < truth.figures - 1:
        return abs(answer.value - truth.value) <= half
    return truth.low - half <= answer.value <= truth.high + half


def rounded_too_far(answer: AnsweredNumber, truth: NumberTruth) -> bool:
    """Whether an answer is right but for being rounded to fewer figures than the data support, or cut and near."""
    if answer.written >= truth.figures or not _within(answer, truth, answer.written):
        return False
    rounded = half_unit(truth.value, answer.written) + (truth.high - truth.low) / 2
    return abs(answer.value - truth.value) <= max(rounded, farthest(truth.value))


def _within(answer: AnsweredNumber, truth: NumberTruth, figures: int) -> bool:
    """Whether an answer is within one unit of some figure of the right value, or of its window.

    Of the first figure one unit may be as much as the whole: less than half of a number is no way to round it.
    """
    if not truth.value or not answer.value or _surely_beyond(answer, truth, figures):
        return False
    if 2 * abs(answer.value) < abs(truth.value):
        return False
    unit = 2 * half_unit(truth.value, figures)
    return abs(answer.value - truth.value) <= max(unit, unit / 2 + (truth.high - truth.low) / 2)


def _surely_beyond(answer: AnsweredNumber, truth: NumberTruth, figures: int) -> bool:
    """Whether floats tell already that an answer is farther off than a unit of so many figures: most wrong ones are."""
    value, low, high = (as_float(one) for one in (truth.value, truth.low, truth.high))
    far = 10.0 ** (1 - figures) * abs(value) + (high - low) / 2
    return abs(as_float(answer.value) - value) > far * (1 + SURELY)


def as_window(answer: AnsweredNumber, truth: NumberTruth) -> Window:
    """A student's value in engine units, as a value that may have been rounded where it is written.

    Its figures are those of the data at most: what follows may be rounded to them, however many were written.
    """
    half = half_unit(answer.value, answer.written) * read_unit(answer.asked.unit).factor
    return Window(answer.engine, answer.engine - half, answer.engine + half, min(answer.written, truth.figures))
