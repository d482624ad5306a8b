"""CSV for spreadsheets: UTF-8 with mark, and no cell that a spreadsheet would take for a formula."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

__all__ = ["CsvLines", "guarded", "plain_lines"]

_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")


def guarded(text: str) -> str:
    """A cell's text with an apostrophe before what a spreadsheet would run as a formula.

    Plain numbers stay numbers: "-3.2" is left as it is.
    """
    if text.startswith(_FORMULA_STARTS) and not _is_number(text):
        return "'" + text
    return text


def _is_number(text: str) -> bool:
    digits = text[1:] if text[:1] in "+-" else text
    return digits.replace(".", "", 1).isdecimal() and digits.isascii()


class CsvLines:
    """Turns rows into the lines of a CSV file, guarded, one at a time."""

    def __init__(self) -> None:
        """Start a file."""
        self._buffer = io.StringIO()
        self._writer = csv.writer(self._buffer, lineterminator="\r\n")
        self._buffer.write("\ufeff")

    def line(self, cells: Iterable[str]) -> bytes:
        """One row as bytes; the first carries the mark of the encoding."""
        self._writer.writerow([guarded(cell) for cell in cells])
        text = self._buffer.getvalue()
        self._buffer.seek(0)
        self._buffer.truncate()
        return text.encode()


def plain_lines(rows: Iterable[Iterable[str]]) -> bytes:
    """Rows as CSV with every cell as it is: of a file that somebody else has written, and goes on writing."""
    buffer = io.StringIO()
    csv.writer(buffer, lineterminator="\r\n").writerows(rows)
    return buffer.getvalue().encode("utf-8-sig")
