"""Text in the cells of a spreadsheet: what it would run as a formula stands behind an apostrophe.

A table of ours has commas between its cells. A spreadsheet whose language writes the comma as decimal mark parts it at
semicolons, or somebody chooses tabs, and then a cell may begin in the midst of one of ours: behind each separator and
each line break stands what is behind the beginning of a cell.
"""

from __future__ import annotations

import re
from collections.abc import Callable

__all__ = ["guarded", "unguarded", "without_guards"]

_PARTS = ";\t\r\n"
_STARTS = "=+\\-@＝＋－＠﹦﹢﹣﹫"
"""What a formula begins with, full-width and small signs too, which spreadsheets of East Asia take for the others."""
_BLANKS = '"\\s\0-\x1f\x7f-\x9f\u00ad\u180e\u200b-\u200f\u2060-\u2064\ufeff'
"""What a spreadsheet may strip before it looks: blanks, characters that do not show, a quotation mark of its own."""

_LEAD = re.compile(rf"(?<![{_PARTS}{_BLANKS}'])[{_PARTS}{_BLANKS}']*+(?=[{_STARTS}])")
"""All that stands between two words, where a sign stands behind it: each place is looked at once."""
_PLACE = re.compile(rf"(\A|[{_PARTS}])('*)")
_PART_END = re.compile(f"[{_PARTS}]")


def guarded(text: str) -> str:
    """A cell's text with an apostrophe before each piece that a spreadsheet would run as a formula.

    Plain numbers stay numbers: "-3.2" is left as it is. Of a piece that has an apostrophe one more tells that it is
    the text's own.

    >>> guarded("=Adrel"), guarded("2 g;=1+1"), guarded("'=Adrel")
    ("'=Adrel", "2 g;'=1+1", "''=Adrel")
    """
    return _changed(text, lambda own, is_number: own if is_number and not own else f"{own}'")


def unguarded(text: str) -> str:
    """The text of a cell that may have been guarded: without the apostrophes that were put there for that.

    >>> unguarded("'=Adrel"), unguarded("''=Adrel"), unguarded("'t Hooft")
    ('=Adrel', "'=Adrel", "'t Hooft")
    """
    return _changed(text, lambda own, is_number: own if is_number and own == "'" else own[1:])


def without_guards(text: str) -> str:
    """A text as texts are compared, with and without the apostrophes before signs."""
    return _changed(text, lambda *_: "")


def _changed(text: str, change: Callable[[str, bool], str]) -> str:
    """With other apostrophes before signs; `change` has those that are there, and whether a plain number follows."""

    def lead(found: re.Match[str]) -> str:
        places = [one for one in _PLACE.finditer(found[0]) if one[1] or not found.start()]
        kept: list[str] = []
        end = 0
        for one in places:
            is_last = one is places[-1]
            kept += (found[0][end : one.start(2)], change(one[2], is_last and _leads_number(text, found, one.end())))
            end = one.end()
        return "".join(kept) + found[0][end:]

    return _LEAD.sub(lead, text)


def _leads_number(text: str, lead: re.Match[str], end: int) -> bool:
    """Whether the piece behind a place of a lead is a plain number."""
    part_end = _PART_END.search(text, lead.end())
    piece = lead[0][end:] + text[lead.end() : part_end.start() if part_end else None]
    digits = piece.strip(" ")
    digits = digits[1:] if digits[:1] in ("+", "-") else digits
    return digits.replace(".", "", 1).isdecimal() and digits.isascii()
