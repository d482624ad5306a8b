"""Points as students and gradebooks are told them."""

from __future__ import annotations

from fractions import Fraction

from problemgen.exact.rounding import plain_text

__all__ = ["earned_of", "points_number", "told_more"]


def earned_of(points: Fraction, of: Fraction) -> str:
    """Points earned of those to be had: "1 of 2 points"."""
    return f"{points_number(points)} of {points_number(of)} {'point' if of == 1 else 'points'}"


def told_more(points: Fraction) -> str:
    """Points that are given beside the marking: "+1 point", "-2 points"."""
    sign = "" if points < 0 else "+"
    return f"{sign}{points_number(points)} {'point' if abs(points) == 1 else 'points'}"


def points_number(points: Fraction) -> str:
    """Points as a number: whole where they are, else with up to two decimals."""
    text = plain_text(points, -2)
    return text.rstrip("0").rstrip(".")
