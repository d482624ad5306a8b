"""Reading a roster: a table with the columns id, name (or first name and last name), perhaps section and language."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from problemgen.language.names import language_called, languages_told
from problemgen.load.fault_log import FaultLog, nearest
from problemgen.load.people.known_columns import known_columns
from problemgen.load.tables.alike import RowRemarks
from problemgen.load.tables.table import Row
from problemgen.model.cells import unguarded
from problemgen.model.problem_set import Student

__all__ = ["ROSTER_COLUMNS", "Roster", "anonymous_students", "load_roster"]

ROSTER_COLUMNS = ("id", "name", "first name", "last name", "section", "language")
"""The columns that are read; all others are carried into the gradebook."""

_SUFFIXES = frozenset({"jr", "sr", "ii", "iii", "iv", "phd", "md", "msc", "bsc"})
"""What stands behind a comma without being a first name."""

# With the ending and the attempt a file's name stays far below 255 bytes, and an id fits on a sheet's line.
_LONGEST_ID = 40


@dataclass(frozen=True)
class Roster:
    """The students of a roster, in its order; `notes` say what of the file was not read."""

    students: tuple[Student, ...]
    notes: tuple[str, ...] = ()


def load_roster(path: Path, names: Mapping[str, str] | None = None) -> Roster:
    """The roster of a file; `names` gives our column names for those of a registrar's export.

    Without it, columns are known by their usual headings (load/people/headings.py). Names stand in one column, as "Ada
    Lovel" or "Lovel, Ada", or in two. Further columns are kept as they are.

    Raises:
        FaultsError: all faults at once: no id column, no rows, ids that are missing, stand twice, or could not
            name a file; a column of `names` that is not there.
    """
    known = known_columns(path, names)
    table = known.table
    faults = FaultLog(table.file)
    if not known.has_ids:
        near = nearest("id", table.columns) or "Name the column with the students' ids: id."
        known.fault_ids(faults.at(f"line {table.header_line}"), near)
        faults.stop()
    rows = tuple(table)
    if not rows:
        faults.refuse("", "no students", "a row for each student")
    _check_ids(faults, rows)
    _check_languages(faults, rows)
    faults.stop()
    more = [name for name in table.columns if name and name not in ROSTER_COLUMNS]
    told = (*table.titles, *table.notes, *known.notes(ROSTER_COLUMNS), *_doubts(rows))
    notes = tuple(f"{path.name}: {note}" for note in told)
    return Roster(tuple(_student(row, more) for row in rows), notes)


def _doubts(rows: Iterable[Row]) -> Iterator[str]:
    """What may not be what was meant."""
    remarks = RowRemarks("")
    for row in rows:
        if row.remark:
            remarks.add("the row is read with a doubt", row.line, row.remark)
        for column, note in row.notes.items():
            remarks.add("a cell may not be what was meant", row.line, f"{column}: {note}")
    yield from remarks.told
    yield from remarks.rest()


def _student(row: Row, more: Iterable[str]) -> Student:
    written = row.cells["id"].strip()
    others = tuple((unguarded(name), unguarded(cell)) for name in more if (cell := row.cells.get(name, "").strip()))
    return Student(
        written,
        unguarded(_name(row)) or written,
        unguarded(row.cells.get("section", "").strip()),
        more=others,
        language=language_called(row.cells.get("language", "")),
    )


def _name(row: Row) -> str:
    """The name as a sheet prints it, first name first; "" for none."""
    name = row.cells.get("name", "").strip()
    if not name:
        return " ".join(filter(None, (row.cells.get(one, "").strip() for one in ("first name", "last name"))))
    last, comma, first = (part.strip() for part in name.partition(","))
    turned = comma and last and first and "," not in first and first.lower().replace(".", "") not in _SUFFIXES
    return f"{first} {last}" if turned else name


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


def _check_languages(faults: FaultLog, rows: Iterable[Row]) -> None:
    for row in rows:
        wanted = row.cells.get("language", "").strip()
        if wanted and not language_called(wanted):
            expected = f"a language that sheets can be in, {languages_told()}, or an empty cell for the set's"
            hint = "A column that tells something else about the students is kept as it is under another name."
            faults.add(f"line {row.line}", f"the language {unguarded(wanted)!r}", expected, hint)


def _usable(name: str) -> bool:
    """Whether an id can name a file on every system, and stands in a spreadsheet as it is."""
    plain = name.replace("-", "").replace("_", "").replace(".", "")
    return plain.isalnum() and plain.isascii() and not name.startswith(("-", ".")) and len(name) <= _LONGEST_ID


def anonymous_students(count: int) -> tuple[Student, ...]:
    """So many students without names: v001, v002, …"""
    width = max(3, len(str(count)))
    return tuple(Student(f"v{n:0{width}d}", f"Variant {n}", "", anonymous=True) for n in range(1, count + 1))
