"""Reading a roster: a CSV table with the columns id, name, and perhaps section."""

from __future__ import annotations

from pathlib import Path

from problemgen.errors import Fault, FaultsError
from problemgen.load.documents import nearest
from problemgen.load.tables import Row, Table
from problemgen.model.problem_set import Student

__all__ = ["anonymous_students", "load_roster"]

_LONGEST_ID = 40


def load_roster(path: Path) -> tuple[Student, ...]:
    """The students of a roster, in its order. Columns beside id, name and section are left alone.

    Raises:
        FaultsError: all faults at once: no id column, no rows, ids that are missing, stand twice, or could not
            name a file.
    """
    table = Table(path)
    if "id" not in table.columns:
        found = f"the columns {', '.join(repr(c) for c in table.columns)}"
        hint = nearest("id", table.columns) or "Name the column with the students' ids: id."
        raise FaultsError([Fault(table.file, "line 1", found, "a column 'id'", hint)])
    rows = tuple(table)
    if not rows:
        raise FaultsError([Fault(table.file, "", "no students", "a row for each student")])
    faults = _faults(table, rows)
    if faults:
        raise FaultsError(faults)
    return tuple(_student(row) for row in rows)


def _student(row: Row) -> Student:
    name = row.cells.get("name", "").strip()
    return Student(row.cells["id"].strip(), name or row.cells["id"].strip(), row.cells.get("section", "").strip())


def _faults(table: Table, rows: tuple[Row, ...]) -> list[Fault]:
    faults = []
    first: dict[str, int] = {}
    for row in rows:
        name = row.cells["id"].strip()
        key = f"line {row.line}"
        if not name:
            faults.append(Fault(table.file, key, "no id", "an id for each student"))
        elif not _usable(name):
            expected = f"letters, digits, '-', '_' or '.', at most {_LONGEST_ID}, not beginning with '-' or '.'"
            faults.append(Fault(table.file, key, f"the id {name!r}", expected, "It names the student's files."))
        elif name.casefold() in first:
            found = f"the id {name!r} again, first on line {first[name.casefold()]}"
            faults.append(Fault(table.file, key, found, "each id once"))
        else:
            first[name.casefold()] = row.line
    return faults


def _usable(name: str) -> bool:
    """Whether an id can name a file on every system, and stands in a spreadsheet as it is."""
    plain = name.replace("-", "").replace("_", "").replace(".", "")
    return plain.isalnum() and plain.isascii() and not name.startswith(("-", ".")) and len(name) <= _LONGEST_ID


def anonymous_students(count: int) -> tuple[Student, ...]:
    """So many students without names: v001, v002, …"""
    width = max(3, len(str(count)))
    return tuple(Student(f"v{n:0{width}d}", f"Variant {n}", "", anonymous=True) for n in range(1, count + 1))
