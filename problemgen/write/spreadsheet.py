"""CSV for spreadsheets: UTF-8 with mark, and no cell that a spreadsheet would take for a formula."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

from problemgen.model.cells import guarded

__all__ = ["CsvLines", "plain_lines"]


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
