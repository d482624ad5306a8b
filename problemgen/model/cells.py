"""Text in the cells of a spreadsheet: what it would run as a formula stands behind an apostrophe."""

from __future__ import annotations

__all__ = ["guarded", "unguarded"]

_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")


def guarded(text: str) -> str:
    """A cell's text with an apostrophe before what a spreadsheet would run as a formula.

    Plain numbers stay numbers: "-3.2" is left as it is.
    """
    if text.startswith(_FORMULA_STARTS) and not _is_number(text):
        return "'" + text
    return text


def unguarded(text: str) -> str:
    """The text of a cell that may have been guarded: without the apostrophe, where it was put there for that.

    >>> unguarded("'=Adrel"), unguarded("'t Hooft")
    ('=Adrel', "'t Hooft")
    """
    return text[1:] if text.startswith("'") and guarded(text[1:]) == text else text


def _is_number(text: str) -> bool:
    digits = text[1:] if text[:1] in "+-" else text
    return digits.replace(".", "", 1).isdecimal() and digits.isascii()
