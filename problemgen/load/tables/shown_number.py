"""How a spreadsheet shows a number: the digits that a person saw when the cell was filled in.

A cell holds a binary number and a format (ECMA-376 part 1, 18.8.31). Without a format a number has 15 significant
figures at most, so that 0.1 + 0.2 shows as 0.3. A format with fixed decimals, a power of ten, a percent sign, a unit in
quotes is followed; any other shows the number as if there were none.
"""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction

from problemgen.exact.rounding import plain_text, round_to_figures

__all__ = ["shown_number"]

_FIGURES = 15  # of a number without a format, as spreadsheets show it
_PLAIN_EXPONENTS = range(-6, 15)  # down to 0.000001, and whole numbers of all figures; else a power of ten
_DECIMALS = r"(?:\.(0{1,30}))?"  # as many as spreadsheets take
_LITERAL = r'(?:"[^"]*"|\\.|[ ()+-])*'
_FORMAT = re.compile(rf"({_LITERAL})[#?,]*([0,]*0){_DECIMALS}(E\+0+)?\s*(%?)({_LITERAL})", re.IGNORECASE)
_INVISIBLE = re.compile(r"\[[^\]]*\]|_.|\*.")
"""Colours and conditions, a blank as wide as a character, a character that fills the cell."""


def shown_number(value: float, number_format: str = "General") -> str:
    """A cell's number as it is shown: (39.5, "0.00") is "39.50", (0.82, "0%") is "82 %".

    Thousands are not grouped: a group could be taken for a decimal mark.
    """
    exact = Decimal(repr(value))
    found = _FORMAT.fullmatch(_INVISIBLE.sub("", number_format.partition(";")[0]))
    if not exact.is_finite() or found is None:
        return _general(exact)
    before, whole, decimals, power, percent, behind = found.groups(default="")
    if percent:
        exact *= 100
    if power and exact:
        number = _scientific(exact, len(decimals))
    else:
        number = _fixed(exact, len(decimals), whole.count("0"))
    return f"{_literal(before)}{number}{' %' if percent else ''}{_literal(behind)}".strip()


def _general(value: Decimal) -> str:
    """Up to 15 significant figures, without zeros at the end."""
    if not value.is_finite() or not value:
        return str(value) if not value.is_finite() else "0"
    rounded = Decimal(f"{value:.{_FIGURES - 1}e}").normalize()
    return f"{rounded:f}" if rounded.adjusted() in _PLAIN_EXPONENTS else f"{rounded:e}"


def _fixed(value: Decimal, decimals: int, digits: int) -> str:
    """So many decimals, the half-way case away from zero, as spreadsheets round; so many digits before the point."""
    text = plain_text(Fraction(*value.as_integer_ratio()), -decimals)
    width = digits + (decimals + 1 if decimals else 0) + text.startswith("-")
    return text.zfill(width)


def _scientific(value: Decimal, decimals: int) -> str:
    """One digit, so many decimals, and a power of ten."""
    rounded = round_to_figures(Fraction(*value.as_integer_ratio()), decimals + 1)
    as_decimal = Decimal(rounded.numerator) / Decimal(rounded.denominator)
    return f"{as_decimal:.{decimals}e}"


def _literal(text: str) -> str:
    """The text of a format that stands beside the number."""
    return re.sub(r'"([^"]*)"|\\(.)', r"\1\2", text)
