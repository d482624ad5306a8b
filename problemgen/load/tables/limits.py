"""How much of a file from outside is read, so that none stalls the program or fills the memory.

Each limit is far beyond a class: 20,000 students with 50 columns are a million cells. A workbook has narrower
ones (`workbook_sheet`): the library that reads it takes longer.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from problemgen.load.fault_log import FaultLog
from problemgen.load.tables.record import Record

__all__ = ["LARGEST_TABLE", "LAST_LINE", "LONGEST_ROW", "within_limits"]

LARGEST_TABLE = 1 << 27
"""Bytes of a CSV file, and characters of any table."""

LAST_LINE = 1 << 20
"""The last row that a sheet has in the spreadsheet programs in use: a file with more lines is no sheet's."""

_LAST_COLUMN = 1 << 14
"""The last column likewise: XFD."""

LONGEST_ROW = 1_000_000
"""Characters of a row, and so of a cell: spreadsheets hold 32,767 in a cell, an answer has some dozens."""

_MOST_CELLS = 2_000_000
"""Cells of a table, empty ones between others counted."""

_MOST_ROWS = 200_000
"""Rows with text: ten times the largest class that the program is measured with."""

_ALONE = "Save the table alone, without what else is in the file."
_PARTS = "Split the table: several files are read one after the other."


def within_limits(path: Path, records: Iterable[Record]) -> Iterator[Record]:
    """The rows of a table as they come; raises FaultsError where they grow beyond a limit."""
    rows = cells = characters = 0
    for record in records:
        length = sum(map(len, record.cells))
        rows, cells, characters = rows + 1, cells + len(record.cells), characters + length
        faults = FaultLog(str(path)).at(f"line {record.line}")
        if length > LONGEST_ROW:
            faults.refuse("", f"a row of {length:,} characters", f"at most {LONGEST_ROW:,}", _ALONE)
        if len(record.cells) > _LAST_COLUMN:
            faults.refuse("", f"a row of {len(record.cells):,} cells", f"at most {_LAST_COLUMN:,}", _ALONE)
        if rows > _MOST_ROWS:
            faults.refuse("", f"more than {_MOST_ROWS:,} rows", "a table of no more rows", _PARTS)
        if cells > _MOST_CELLS:
            faults.refuse("", f"more than {_MOST_CELLS:,} cells", "a table of no more cells", _ALONE)
        if characters > LARGEST_TABLE:
            faults.refuse("", f"more than {LARGEST_TABLE:,} characters", "a table of no more characters", _ALONE)
        yield record
