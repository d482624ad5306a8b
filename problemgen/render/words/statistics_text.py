"""Statistics in print: few decimals, a dash where there is no figure, never NaN."""

from __future__ import annotations

from fractions import Fraction

from problemgen.exact.digits import number_text
from problemgen.exact.rounding import plain_text
from problemgen.language.numbers import in_digits

__all__ = ["DASH", "decimals", "percent", "probability", "sentence_case"]

DASH = "–"
"""Stands where there is no figure."""
_LEAST = 0.001  # the least that three decimals tell


def decimals(value: float | None, places: int = 2) -> str:
    """A number with so many decimals: "−0.25"; a dash for None."""
    return DASH if value is None else number_text(plain_text(Fraction(value), -places))


def percent(share: float) -> str:
    """A share from 0 to 1 in percent: "71 %"."""
    return f"{decimals(100 * share, 0)}\u00a0%"


def probability(value: float | None) -> str:
    """A probability with three decimals, "< 0.001" below."""
    return f"<\u00a0{in_digits('0.001')}" if value is not None and value < _LEAST else decimals(value, 3)


def sentence_case(text: str) -> str:
    """The text with a capital letter in front."""
    return text[:1].upper() + text[1:]
