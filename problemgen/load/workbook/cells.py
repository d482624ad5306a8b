"""What the cell of a workbook shows."""

from __future__ import annotations

import datetime
import math
import re
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeAlias

from openpyxl.styles.numbers import is_date_format, is_timedelta_format
from openpyxl.utils.datetime import from_excel, from_ISO8601

from problemgen.load.record import typed
from problemgen.load.workbook.archive import UnreadableWorkbookError
from problemgen.load.workbook.book import Book, plain_number, unescaped
from problemgen.load.workbook.shown_number import shown_number

__all__ = ["Written", "shown_cell"]

_NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]{1,4})?", re.ASCII)
_LONGEST_NUMBER = 400
"""Characters: the greatest number of 64 bits has 309 digits before its point."""
_TRUTHS = {"1": "TRUE", "true": "TRUE", "0": "FALSE", "false": "FALSE"}

_DATE = "a date: the spreadsheet may have turned what was typed into one"
_TIME = "a time of day: the spreadsheet may have turned a ratio into one"
_NO_VALUE = "a formula without a value; open the workbook in a spreadsheet and save it again"
_ERROR = "an error value of the spreadsheet"
_Moment: TypeAlias = datetime.date | datetime.time | datetime.timedelta
_NO_DATE = "#VALUE!"
"""What spreadsheets call a value that its format cannot show."""


@dataclass(frozen=True)
class Written:
    """A cell as it stands in its sheet: the letters of its kind ("n", "s", "b", …), its value, the style's number."""

    kind: str
    value: str
    style: str = ""
    has_formula: bool = False


def shown_cell(cell: Written, book: Book) -> tuple[str, str]:
    """What a cell shows, and why that may not be what was meant; "" for nothing to say.

    Raises UnreadableWorkbookError for a cell that refers to what is not there, or whose value is not of its kind.
    """
    if not cell.value:
        return ("(formula)", _NO_VALUE) if cell.has_formula else ("", "")
    if cell.kind in ("inlineStr", "str", "s"):
        text = _shared_text(cell.value, book) if cell.kind == "s" else unescaped(cell.value)
        return (text, "") if text.isascii() and "\0" not in text else typed(text)
    if cell.kind == "e":
        return cell.value, _ERROR
    if cell.kind == "b" and cell.value in _TRUTHS:
        return _TRUTHS[cell.value], ""
    if cell.kind == "d":
        return _date_shown(_written_date(cell.value))
    if cell.kind == "n" and len(cell.value) <= _LONGEST_NUMBER and _NUMBER.fullmatch(cell.value.strip()):
        return _number_shown(float(cell.value), cell.style, book)
    raise UnreadableWorkbookError(f"the value {cell.value[:40]!r} in a cell of the kind {cell.kind[:20]!r}")


def _shared_text(value: str, book: Book) -> str:
    number = plain_number(value)
    if number is None or number >= len(book.texts):
        raise UnreadableWorkbookError(f"a cell with text {value[:20]!r} of a list of {len(book.texts)}")
    return book.texts[number]


def _number_shown(value: float, style: str, book: Book) -> tuple[str, str]:
    number = plain_number(style) if style else 0
    if style and (number is None or number >= max(len(book.formats), 1)):
        raise UnreadableWorkbookError(f"a cell of the style {style[:20]!r} of a list of {len(book.formats)}")
    number_format = book.formats[number or 0] if book.formats else "General"
    if not math.isfinite(value):
        return _NO_DATE, _ERROR
    is_date, is_span = _kind_of(number_format)
    if not is_date:
        return shown_number(value, number_format), ""
    try:
        return _date_shown(from_excel(value, book.first_day, timedelta=is_span))
    except (OverflowError, ValueError):
        return _NO_DATE, _ERROR


@lru_cache(maxsize=256)
def _kind_of(number_format: str) -> tuple[bool, bool]:
    """Whether a format shows dates or times, and whether it shows spans of time."""
    return is_date_format(number_format), is_timedelta_format(number_format)


def _written_date(text: str) -> _Moment:
    try:
        found: _Moment = from_ISO8601(text)  # type: ignore[no-untyped-call]  # the stubs leave it out
    except (ValueError, TypeError, OverflowError):
        raise UnreadableWorkbookError(f"the date {text[:40]!r}") from None
    return found


def _date_shown(value: _Moment) -> tuple[str, str]:
    if isinstance(value, datetime.time | datetime.timedelta):
        return _clock(value), _TIME
    return f"(date {str(value).removesuffix(' 00:00:00')})", _DATE


def _clock(value: datetime.time | datetime.timedelta) -> str:
    """A time as a spreadsheet shows it when it was typed: hours that may go beyond a day, minutes, seconds."""
    if isinstance(value, datetime.time):
        return f"{value.hour}:{value.minute:02}:{value.second:02}"
    seconds = value.days * 86400 + value.seconds
    return f"{seconds // 3600}:{seconds // 60 % 60:02}:{seconds % 60:02}"
