"""Points as students and gradebooks are told them."""

from __future__ import annotations

from fractions import Fraction

from problemgen.exact.rounding import plain_text
from problemgen.language.messages import ngettext
from problemgen.language.numbers import in_digits

__all__ = ["earned_of", "points_number", "told_more"]


def earned_of(points: Fraction, of: Fraction) -> str:
    """Points earned of those to be had: "1 of 2 points"."""
    told = ngettext("{earned} of {n} point", "{earned} of {n} points", 1 if of == 1 else 2)
    return told.format(earned=points_number(points), n=points_number(of))


def told_more(points: Fraction) -> str:
    """Points that are given beside the marking: "+1 point", "-2 points"."""
    sign = "" if points < 0 else "+"
    told = ngettext("{n} point", "{n} points", 1 if abs(points) == 1 else 2)
    return told.format(n=f"{sign}{points_number(points)}")


def points_number(points: Fraction) -> str:
    """Points as a number: whole where they are, else with up to two decimals."""
    text = plain_text(points, -2)
    return in_digits(text.rstrip("0").rstrip("."))
