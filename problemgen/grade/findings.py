"""What an answer amounts to by itself: how it was read, how far it was rounded, and what is said about it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from problemgen.chemistry.units import Unit, read_unit
from problemgen.exact.digits import Written
from problemgen.exact.rounding import half_unit
from problemgen.grade.reading import Reading, read_answer
from problemgen.model.answers import PartKey
from problemgen.model.problem import Asked
from problemgen.model.truths import NumberTruth
from problemgen.model.verdict import VERDICTS
from problemgen.plan.arithmetic import EXACT_FIGURES, Window
from problemgen.plan.evaluate import LEAST_FIGURES

__all__ = [
    "FOLLOWS",
    "RIGHT",
    "RULES",
    "Finding",
    "Said",
    "as_window",
    "figures_remark",
    "readings_of",
    "rounded_once_more",
    "rounded_too_far",
    "said_in",
    "slip_of",
    "told",
    "unit_remark",
    "unread",
]

_SLIPS = (3, -3, 1, -1, 2, -2, 6, -6, 4, -4, 5, -5)
"""Powers of ten tried for a slip: a thousand first, since most slips are of litres or grams.

A factor of ten or a hundred is a decimal point gone astray or a percentage; beyond six no prefix of the laboratory
leads.
"""

_TELLING = 2
"""Significant figures that an answer shows at least, to tell what led to it: with one, a tenth of all numbers fits."""

_SPARE = 1
"""So many figures more than the data support are no fault: who goes on calculating is told to keep one."""

_UNREAD: Mapping[str, str] = {"blank": "blank", "wrong_dimension": "unit"}
"""The verdict on what holds no number, by the status of its reading; "unread" for all others."""

RULES: Mapping[str, object] = {"slips": _SLIPS, "telling": _TELLING, "spare": _SPARE, "unread": _UNREAD}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""

FOLLOWS = "This follows from your earlier answer, which was not right; the way from there is."


@dataclass(frozen=True)
class Finding:
    """What an answer amounts to, before points: the fields of a PartResult.

    `share` is that of the points which the policy gives for it, `lost` that of these which it deducts.
    """

    verdict: str
    reason: str
    sentence: str
    share: Fraction
    mistakes: tuple[str, ...] = ()
    at: tuple[str, ...] = ()
    lost: Fraction = Fraction(0)

    @classmethod
    def not_right(cls, what_to_do: str = "", at: tuple[str, ...] = ()) -> Finding:
        """An answer that nothing explains; `what_to_do` is a sentence for the student, `at` the steps to look at."""
        return cls("wrong", "no-match", f"{VERDICTS['wrong'].words}. {what_to_do}".strip(), Fraction(0), at=at)


RIGHT = Finding("right", "in-window", f"{VERDICTS['right'].words}.", Fraction(1))


@dataclass(frozen=True)
class Said:
    """A number that was answered, in the unit asked for.

    `figures` are those that it may have been rounded to: no limit where it shows as many as the data support;
    `written` are those that it shows.
    """

    asked: Asked
    value: Fraction
    figures: int
    written: int

    @property
    def telling(self) -> bool:
        """Whether the number can tell what led to it: with one figure it fits too much; 0 was not rounded."""
        return self.written >= _TELLING or not self.value

    @property
    def engine(self) -> Fraction:
        """The number in engine units."""
        return read_unit(self.asked.unit).to_engine(self.value)


def readings_of(wrote: str, part: PartKey, mark: str) -> list[Reading]:
    """The ways to read a number: one, or two where the other decimal mark makes another number ("6,136")."""
    unit = read_unit(part.asked.unit)
    first = read_answer(wrote, unit, decimal_mark=mark)
    if first.status != "ambiguous":
        return [first]
    return [read_answer(wrote, unit, decimal_mark="," if mark == "." else "."), first]


def said_in(reading: Reading, part: PartKey, truth: NumberTruth) -> Said | None:
    """The number that was read; None where there is none."""
    if reading.value_in_unit is None or reading.written is None or reading.status not in ("number", "ambiguous"):
        return None
    figures = _figures(reading.written, truth)
    limit = figures if figures < truth.figures else EXACT_FIGURES
    return Said(part.asked, reading.value_in_unit, limit, figures)


def slip_of(truth: NumberTruth, value: Fraction) -> tuple[str, str] | None:
    """The reason and the sentence for a slip of unit, power of ten or sign; None where there is none."""
    for power in _SLIPS:
        if truth.low <= value * Fraction(10) ** power <= truth.high:
            return f"power-of-ten:{-power}", _slip_sentence(power)
    if truth.low <= -value <= truth.high:
        return "sign", "The digits are right, but not the sign."
    return None


def rounded_once_more(reading: Reading, part: PartKey, truth: NumberTruth) -> bool:
    """Whether an answer is right but for one figure fewer than the data support, and has three or more.

    How many figures are due is the policy's business: the method is right.
    """
    window = as_window(reading, part, truth)
    if window is None or not LEAST_FIGURES <= window.figures == truth.figures - 1:
        return False
    return _meets(window, truth, read_unit(part.asked.unit))


def rounded_too_far(reading: Reading, part: PartKey, truth: NumberTruth) -> bool:
    """Whether an answer is right but for being rounded to fewer figures than the data support."""
    window = as_window(reading, part, truth)
    return window is not None and window.figures < truth.figures and _meets(window, truth, read_unit(part.asked.unit))


def _meets(window: Window, truth: NumberTruth, unit: Unit) -> bool:
    """Whether a student's window (engine units) has anything in common with the right one (in a unit)."""
    return bool(window.low <= unit.to_engine(truth.high) and unit.to_engine(truth.low) <= window.high)


def unread(reading: Reading) -> Finding:
    """A cell without a number that can be used: blank, of another kind of unit, or not readable."""
    verdict = _UNREAD.get(reading.status, "unread")
    return Finding(verdict, reading.status, reading.reason or "No answer.", Fraction(0))


def told(reading: Reading, part: PartKey) -> str:
    """What was read, in the unit asked for: "39.5 g"."""
    if reading.written is None:
        return ""
    unit = reading.unit.text if reading.unit is not None else part.asked.unit
    return reading.written.text if unit == "1" else f"{reading.written.text} {unit}"


def as_window(reading: Reading, part: PartKey, truth: NumberTruth) -> Window | None:
    """A student's value in engine units, as a value that may have been rounded where it is written.

    Its figures are those of the data at most: what follows may be rounded to them, however many were written.
    """
    if reading.written is None or reading.value_in_unit is None:
        return None
    unit = read_unit(part.asked.unit)
    value, figures = reading.value_in_unit, _figures(reading.written, truth)
    half = half_unit(value, figures)
    bounds = sorted((unit.to_engine(value - half), unit.to_engine(value + half)))
    return Window(unit.to_engine(value), bounds[0], bounds[1], min(figures, truth.figures))


def _figures(written: Written, truth: NumberTruth) -> int:
    """The figures that a number shows: zeros at the end of "15000" count no further than the data support."""
    if not written.text.isdecimal():
        return written.figures
    return min(written.figures, max(len(written.text.rstrip("0")), truth.figures))


def _slip_sentence(power: int) -> str:
    factor = f"10^{abs(power)}" if abs(power) > 4 else str(10 ** abs(power))
    size = "small" if power > 0 else "large"
    return (
        f"The digits are right, but the value is too {size} by a factor of {factor}: look at units and powers of ten."
    )


def figures_remark(reading: Reading, truth: NumberTruth) -> str:
    """The remark on too few or too many figures; "" where there is nothing to say."""
    if reading.written is None or not reading.counts_figures or not reading.written.value:
        return ""
    written = _figures(reading.written, truth)
    if written < truth.figures:
        return f"Written with {written} significant figures; the data support {truth.figures}."
    if written > truth.figures + _SPARE:
        return f"Written with {written} significant figures, more than the data support ({truth.figures})."
    return ""


def unit_remark(reading: Reading, part: PartKey) -> str:
    """The remark on a unit that is missing; "" where there is nothing to say."""
    return "No unit was written." if reading.unit is None and part.asked.unit != "1" else ""
