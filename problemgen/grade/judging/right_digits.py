"""Slips that leave the digits right: another unit, a power of ten, the sign."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from problemgen.chemistry.units import Unit, read_unit, unit_text
from problemgen.language.messages import N_, _
from problemgen.model.truths import NumberTruth
from problemgen.plan.arithmetic import Window
from problemgen.plan.variations import as_float

__all__ = ["RULES", "SURELY", "UNIT_REASONS", "Slip", "slip_of", "unit_title"]

_SLIPS = (3, -3, 1, -1, 2, -2, 6, -6, 4, -4, 5, -5)
"""Powers of ten tried for a slip: a thousand first, since most slips are of litres or grams.

A factor of ten or a hundred is a decimal point gone wrong or a percentage; beyond six no prefix of the laboratory
leads.
"""

_TENS: Mapping[int, float] = {power: 10.0**power for power in _SLIPS}

SURELY = 1e-9
"""How far, relatively, a product of floats surely does not lie from the exact one: a million times its rounding."""

_GIVEN_FOR = ("g", "mg", "kg", "mol", "mmol", "L", "mL", "mol/L", "mmol/L", "g/mL", "g/L", "kPa", "Pa", "hPa")
"""The units that are given in the place of another of their kind: common practice, no source."""

_NO_UNIT = "1"
UNIT_REASONS = _OTHER_UNIT, _WRITTEN_UNIT = "other-unit", "written-unit"
"""What stands before the units in the reason of a slip of unit: by itself in the blank, or with a unit written."""

RULES: Mapping[str, object] = {"slips": _SLIPS, "given_for": _GIVEN_FOR}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""

_FRACTION = N_("This is the fraction: times 100 it is the percentage.")


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
