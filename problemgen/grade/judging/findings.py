"""What an answer amounts to by itself: how it was read, how far it was rounded, and what is said about it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from problemgen.chemistry.units import Unit, read_unit
from problemgen.exact.digits import Written
from problemgen.grade.reading.cell import Reading, read_answer
from problemgen.grade.reading.habits import with_points
from problemgen.language.messages import N_, _, ngettext
from problemgen.model.answers import PartKey
from problemgen.model.problem import Asked
from problemgen.model.truths import NumberTruth
from problemgen.model.verdict import VERDICTS
from problemgen.plan.arithmetic import EXACT_FIGURES

__all__ = [
    "FOLLOWS",
    "RIGHT",
    "RULES",
    "AnsweredNumber",
    "Finding",
    "figures_remark",
    "readings_of",
    "said_in",
    "told",
    "unit_remark",
    "unread",
]

_TELLING = 2
"""Significant figures that an answer shows at least, to tell what led to it: with one, a tenth of all numbers fits."""

_SPARE = 1
"""So many figures more than the data support are no fault: who goes on calculating is told to keep one."""

_UNREAD: Mapping[str, str] = {"blank": "blank", "wrong_dimension": "unit"}
"""The verdict on what holds no number, by the status of its reading; "unread" for all others."""

RULES: Mapping[str, object] = {
    "telling": _TELLING,
    "spare": _SPARE,
    "unread": _UNREAD,
}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""

FOLLOWS = N_("This follows from your earlier answer, which was not right; the way from there is.")


@dataclass(frozen=True)
class Finding:
    """What an answer amounts to, before points: the fields of a PartResult.

    `share` is that of the points which the policy gives for it.
    """

    verdict: str
    reason: str
    sentence: str
    share: Fraction
    mistakes: tuple[str, ...] = ()
    titles: tuple[str, ...] = ()
    at: tuple[str, ...] = ()

    @classmethod
    def not_right(cls, what_to_do: str = "", at: tuple[str, ...] = ()) -> Finding:
        """An answer that nothing explains; `what_to_do` is a sentence for the student, `at` the steps to look at."""
        return cls("wrong", "no-match", f"{_(VERDICTS['wrong'].words)}. {what_to_do}".strip(), Fraction(0), at=at)


RIGHT = Finding("right", "in-window", N_("Right."), Fraction(1))


@dataclass(frozen=True)
class AnsweredNumber:
    """A number that was answered, in the unit asked for.

    `figures` are those that it may have been rounded to: no limit where it shows as many as the data support;
    `written` are those that it shows. `unit` is the one that was written with it, None where none was.
    """

    asked: Asked
    value: Fraction
    figures: int
    written: int
    unit: Unit | None = None

    @property
    def shows_all(self) -> bool:
        """Whether it shows as many figures as the right answer's data support."""
        return self.figures == EXACT_FIGURES

    @property
    def telling(self) -> bool:
        """Whether the number can tell what led to it: with one figure it fits too much; 0 was not rounded."""
        return self.written >= _TELLING or not self.value

    @cached_property
    def engine(self) -> Fraction:
        """The number in engine units."""
        return read_unit(self.asked.unit).to_engine(self.value)


def readings_of(wrote: str, part: PartKey, mark: str, *, commas: bool = False) -> list[Reading]:
    """The ways to read a number: one, or two where the other decimal mark makes another number ("6,136").

    `commas` says that whoever wrote it divides all their numbers by a comma.
    """
    unit = read_unit(part.asked.unit)
    if commas:
        return [read_answer(with_points(wrote), unit)]
    first = read_answer(wrote, unit, decimal_mark=mark)
    if first.status != "ambiguous":
        return [first]
    return [read_answer(wrote, unit, decimal_mark="," if mark == "." else "."), first]


def said_in(reading: Reading, part: PartKey, truth: NumberTruth) -> tuple[AnsweredNumber, ...]:
    """The number that was read; () where there is none.

    Zeros at the end of a bare whole number ("170") may be figures or none: such a number comes in both ways.
    """
    if reading.value_in_unit is None or reading.written is None or reading.status not in ("number", "ambiguous"):
        return ()
    value = reading.value_in_unit
    return tuple(
        AnsweredNumber(part.asked, value, shown if shown < truth.figures else EXACT_FIGURES, shown, reading.unit)
        for shown in _figures(reading.written, truth)
    )


def unread(reading: Reading) -> Finding:
    """A cell without a number that can be used: blank, of another kind of unit, or not readable."""
    verdict = _UNREAD.get(reading.status, "unread")
    return Finding(verdict, reading.status, reading.reason or _("No answer."), Fraction(0))


def told(reading: Reading, part: PartKey) -> str:
    """What was read, in the unit asked for: "39.5 g"."""
    if reading.written is None:
        return ""
    unit = reading.unit.text if reading.unit is not None else part.asked.unit
    return reading.written.text if unit == "1" else f"{reading.written.text} {unit}"


def _figures(written: Written, truth: NumberTruth) -> tuple[int, ...]:
    """The figures that a number may show: zeros at the end of "15000" may be figures, and may be none."""
    if not written.text.isdecimal():
        return (written.figures,)
    least = len(written.text.rstrip("0")) or written.figures
    return tuple(range(max(least, min(written.figures, truth.figures)), least - 1, -1))


def figures_remark(reading: Reading, answer: AnsweredNumber, truth: NumberTruth) -> str:
    """The remark on too few or too many figures; "" where there is nothing to say."""
    if reading.written is None or not reading.counts_figures or not reading.written.value:
        return ""
    written = answer.written
    if truth.low == truth.high:
        return ""  # a count has no figures
    if written < truth.figures:
        told = ngettext(
            "Written with {n} significant figure; the data support {figures}.",
            "Written with {n} significant figures; the data support {figures}.",
            written,
        )
        return told.format(n=written, figures=truth.figures)
    if written > truth.figures + _SPARE:
        told = _("Written with {n} significant figures, more than the data support ({figures}).")
        return told.format(n=written, figures=truth.figures)
    return ""


def unit_remark(reading: Reading, part: PartKey) -> str:
    """The remark on a unit that is missing; "" where there is nothing to say."""
    return _("No unit was written.") if reading.unit is None and part.asked.unit != "1" else ""
