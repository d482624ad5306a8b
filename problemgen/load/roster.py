"""Reading a roster: a CSV table with the columns id, name, and perhaps section."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from problemgen.load.fault_log import FaultLog, nearest
from problemgen.load.tables import Row, Table
from problemgen.model.problem_set import Student

__all__ = ["anonymous_students", "load_roster"]

# With the ending and the attempt a file's name stays far below 255 bytes, and an id fits on a sheet's line.
_LONGEST_ID = 40


def load_roster(path: Path) -> tuple[Student, ...]:
    """The students of a roster, in its order. Columns beside id, name and section are left alone.

    Raises:
        FaultsError: all faults at once: no id column, no rows, ids that are missing, stand twice, or could not
            name a file.
    """
    table = Table(path)
    faults = FaultLog(table.file)
    if "id" not in table.columns:
        found = f"the columns {', '.join(repr(c) for c in table.columns)}"
        hint = nearest("id", table.columns) or "Name the column with the students' ids: id."
        faults.refuse("line 1", found, "a column 'id'", hint)
    rows = tuple(table)
    if not rows:
        faults.refuse("", "no students", "a row for each student")
    _check_ids(faults, rows)
    faults.stop()
    return tuple(_student(row) for row in rows)


def _student(row: Row) -> Student:
    name = row.cells.get("name", "").strip()
    return Student(row.cells["id"].strip(), name or row.cells["id"].strip(), row.cells.get("section", "").strip())


def _check_ids(faults: FaultLog, rows: Iterable[Row]) -> None:
    first: dict[str, int] = {}
    for row in rows:
        name = row.cells["id"].strip()
        key = f"line {row.line}"
        if not name:
            faults.add(key, "no id", "an id for each student")
        elif not _usable(name):
            expected = f"letters, digits, '-', '_' or '.', at most {_LONGEST_ID}, not beginning with '-' or '.'"
            faults.add(key, f"the id {name!r}", expected, "It names the student's files.")
        elif name.casefold() in first:
            found = f"the id {name!r} again, first on line {first[name.casefold()]}"
            faults.add(key, found, "each id once")
        else:
            first[name.casefold()] = row.line


def _usable(name: str) -> bool:
    """Whether an id can name a file on every system, and stands in a spreadsheet as it is."""
    plain = name.replace("-", "").replace("_", "").replace(".", "")
    return plain.isalnum() and plain.isascii() and not name.startswith(("-", ".")) and len(name) <= _LONGEST_ID


def anonymous_students(count: int) -> tuple[Student, ...]:
    """So many students without names: v001, v002, …"""
    width = max(3, len(str(count)))
    return tuple(Student(f"v{n:0{width}d}", f"Variant {n}", "", anonymous=True) for n in range(1, count + 1))
