"""What an answer amounts to by itself: how it was read, how far it was rounded, and what is said about it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, cached_property

from problemgen.chemistry.units import Unit, read_unit, unit_text
from problemgen.exact.digits import Written
from problemgen.grade.reading.cell import Reading, read_answer
from problemgen.grade.reading.habits import with_points
from problemgen.language.messages import N_, _, ngettext
from problemgen.model.answers import PartKey
from problemgen.model.problem import Asked
from problemgen.model.truths import NumberTruth
from problemgen.model.verdict import VERDICTS
from problemgen.plan.arithmetic import EXACT_FIGURES, Window
from problemgen.plan.variations import as_float

__all__ = [
    "FOLLOWS",
    "RIGHT",
    "RULES",
    "SURELY",
    "UNIT_REASONS",
    "AnsweredNumber",
    "Finding",
    "Slip",
    "figures_remark",
    "readings_of",
    "said_in",
    "slip_of",
    "told",
    "unit_remark",
    "unit_title",
    "unread",
]

_SLIPS = (3, -3, 1, -1, 2, -2, 6, -6, 4, -4, 5, -5)
"""Powers of ten tried for a slip: a thousand first, since most slips are of litres or grams.

A factor of ten or a hundred is a decimal point gone wrong or a percentage; beyond six no prefix of the laboratory
leads.
"""

_TENS: Mapping[int, float] = {power: 10.0**power for power in _SLIPS}

SURELY = 1e-9
"""How far, relatively, a product of floats surely does not lie from the exact one: a million times its rounding."""

_TELLING = 2
"""Significant figures that an answer shows at least, to tell what led to it: with one, a tenth of all numbers fits."""

_SPARE = 1
"""So many figures more than the data support are no fault: who goes on calculating is told to keep one."""

_UNREAD: Mapping[str, str] = {"blank": "blank", "wrong_dimension": "unit"}
"""The verdict on what holds no number, by the status of its reading; "unread" for all others."""

_GIVEN_FOR = ("g", "mg", "kg", "mol", "mmol", "L", "mL", "mol/L", "mmol/L", "g/mL", "g/L", "kPa", "Pa", "hPa")
"""The units that are given in the place of another of their kind: common practice, no source."""

_NO_UNIT = "1"
UNIT_REASONS = _OTHER_UNIT, _WRITTEN_UNIT = "other-unit", "written-unit"
"""What stands before the units in the reason of a slip of unit: by itself in the blank, or with a unit written."""

_FRACTION = N_("This is the fraction: times 100 it is the percentage.")

RULES: Mapping[str, object] = {
    "slips": _SLIPS,
    "telling": _TELLING,
    "spare": _SPARE,
    "unread": _UNREAD,
    "given_for": _GIVEN_FOR,
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


@dataclass(frozen=True)
class Slip:
    """The right digits with something beside them wrong; `title` where it is a mistake that has a name."""

    reason: str
    sentence: str
    title: str = ""


def slip_of(unit: str, truth: NumberTruth | Window, value: Fraction, wrote: Unit | None = None) -> Slip | None:
    """The slip of unit, power of ten or sign that makes a value of one in the window; None for none.

    Window and value are in `unit`, that of the blank; `wrote` is the unit that stood behind the number, if one did.
    """
    near, low, high = (as_float(one) for one in (value, truth.low, truth.high))
    margin = SURELY * max(abs(low), abs(high))
    low, high = low - margin, high + margin
    for power in _SLIPS:
        if not low <= near * _TENS[power] <= high:
            continue  # hardly any is one: it is worked exactly where it may be
        if truth.low <= value * _ten_to(power) <= truth.high:
            return _other_unit(unit, power, wrote) or Slip(f"power-of-ten:{-power}", _slip_sentence(power))
    if not (-near < low or -near > high) and truth.low <= -value <= truth.high:  # infinite bounds exclude nothing
        return Slip("sign", _("The digits are right, but not the sign."))
    return None


@cache
def _ten_to(power: int) -> Fraction:
    return Fraction(10) ** power


def _other_unit(unit: str, power: int, wrote: Unit | None) -> Slip | None:
    """The unit that a value may have been given in, where its digits are right and 10**power converts it."""
    if wrote is not None and wrote.text != unit:
        return _written_for(wrote, power, (unit, *_GIVEN_FOR))
    if unit == "%" and power == 2:
        return Slip("fraction-for-percent", _(_FRACTION), N_("a fraction given for a percentage"))
    asked = read_unit(unit)
    given = _larger(asked, power, _GIVEN_FOR)
    if given is None:
        return None
    sentence = _("Did you give {given}? The blank asks for {asked}.").format(given=given.text, asked=asked.text)
    return Slip(f"{_OTHER_UNIT}:{given.text}", sentence, unit_title(_OTHER_UNIT, given.text, asked.text))


def _written_for(wrote: Unit, power: int, units: Sequence[str]) -> Slip | None:
    """The unit that would have been right behind a number, in the place of the one that was written there."""
    meant = _larger(wrote, power, units)
    if meant is None:
        return None
    told = (
        _("You wrote {wrote}; the number is right in {meant}.")
        if meant.text != _NO_UNIT
        else _("You wrote {wrote}; the number is right without a unit.")
    )
    told = told.format(wrote=unit_text(wrote.text), meant=unit_text(meant.text))
    return Slip(f"{_WRITTEN_UNIT}:{wrote.text}:{meant.text}", told, unit_title(_WRITTEN_UNIT, wrote.text, meant.text))


def _larger(unit: Unit, power: int, units: Sequence[str]) -> Unit | None:
    """Among units, the one that is 10**power times another; None for none."""
    factor = unit.factor * Fraction(10) ** power
    known = map(read_unit, units)
    fits = (one for one in known if one.dimension == unit.dimension and not one.offset and one.factor == factor)
    return next(fits, None)


def unit_title(reason: str, *units: str) -> str:
    """What an answer in another unit than the blank's is called, by its reason: "other-unit:mg" in a blank for g.

    Where the student wrote a unit, the reason has both: "written-unit:kg:g".
    """
    wrong, right = map(unit_text, units[:2])
    if reason == _WRITTEN_UNIT and not right:
        # Translators: the name of a mistake: "% written for a plain number".
        return _("{given} written for a plain number").format(given=wrong)
    if reason == _WRITTEN_UNIT:
        # Translators: the name of a mistake: "kg written for g".
        return _("{given} written for {asked}").format(given=wrong, asked=right)
    # Translators: the name of a mistake: "g in a blank for kg".
    return _("{given} in a blank for {asked}").format(given=wrong, asked=right)


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


def _slip_sentence(power: int) -> str:
    factor = f"10^{abs(power)}" if abs(power) > 4 else str(10 ** abs(power))
    if power > 0:
        told = _(
            "The digits are right, but the value is too small by a factor of {n}: look at units and powers of ten."
        )
    else:
        told = _(
            "The digits are right, but the value is too large by a factor of {n}: look at units and powers of ten."
        )
    return told.format(n=factor)


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
