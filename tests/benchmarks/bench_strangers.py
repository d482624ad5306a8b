"""Tables that are made to stall a reader: how soon they are read or refused.

Bare: the workbook of a class of 120 with 25 columns, read as it is.
"""

from __future__ import annotations

import tempfile
from contextlib import suppress
from pathlib import Path

from bench_table import best_of, print_table, times
from openpyxl import Workbook

from problemgen.errors import FaultsError
from problemgen.load.tables.table import Table
from tests.load.tables.test_limits import SHEET, with_stretch

__all__ = ["strangers"]

_LINE = "a CSV line of 100 MB"
_STRETCHES = {
    "row 999999999": ('<row r="999999999"/>', 1),
    "15 million empty rows": ("<row/>", 15_000_000),
    "a million rows of two empty cells": ("<row><c/><c/></row>", 1_000_000),
    "1.9 GB of blanks": (" " * 1000, 1_900_000),
    "a stray cell in the last row": ('<row r="1048576"><c r="A1048576"><v>1</v></c></row>', 1),
    "40,000 rows of three cells": ("<row><c><v>1</v></c><c><v>2</v></c><c><v>3</v></c></row>", 40_000),
}


def strangers() -> None:
    """Print the figures."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        bare, _ = best_of(lambda: _read(_class(folder / "class.xlsx")), 3)
        lines = [("bare: a class of 120", f"{bare:.2f}", "")]
        for what, (piece, count) in _STRETCHES.items():
            path = with_stretch(folder / "t.xlsx", SHEET, "</sheetData>", piece, count)
            taken, _ = best_of(lambda path=path: _read(path), 1)  # type: ignore[misc]
            lines.append((what, f"{taken:.2f}", times(taken / bare)))
        (folder / "t.csv").write_bytes(b"id,1a\n" + b"x" * 100_000_000)
        taken, _ = best_of(lambda: _read(folder / "t.csv"), 1)
        lines.append((_LINE, f"{taken:.2f}", times(taken / bare)))
    print_table("Tables from strangers", ("", "s", "ratio"), lines)


def _class(path: Path) -> Path:
    if not path.is_file():
        book = Workbook()
        book.worksheets[0].append(["id", *(f"{column}a" for column in range(1, 25))])
        for student in range(120):
            book.worksheets[0].append([f"s{student}", *("39.5 mmol" for _ in range(24))])
        book.save(path)
    return path


def _read(path: Path) -> None:
    with suppress(FaultsError):
        for _ in Table(path, "id"):
            pass
