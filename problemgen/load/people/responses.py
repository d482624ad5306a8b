"""Reading responses: tables (CSV or .xlsx) with a row a student and a column a part, read row by row."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from types import MappingProxyType
from typing import NamedTuple

from problemgen.load.fault_log import FaultLog, nearest
from problemgen.load.people.known_columns import KnownColumns, known_columns
from problemgen.load.people.whose_rows import ATTEMPT, FILE, TYPED, Entry, WhoseRows, about_columns
from problemgen.load.tables.alike import RowRemarks
from problemgen.load.tables.columns import ColumnNames
from problemgen.load.tables.table import Row, Table, columns_told
from problemgen.model.cells import unguarded

__all__ = ["RESPONSES_FILE", "Responses", "check_columns"]

RESPONSES_FILE = "responses.csv"
"""What a build calls the table that is filled in."""

_PART = re.compile(r"[1-9][0-9]*[a-z]+")
"""A column that is named as a part is: of another set, or of this one before it was built anew."""

_ALL_ASKED: Mapping[Entry, Collection[str]] = MappingProxyType({})

_WHOSE = "whose row it is is in doubt; where no student is found, it is not marked"
_AGAIN = "handed in again; of each student the last row counts"
_NOT_THEIRS = "answers to problems that are not theirs are not marked"
_DOUBT = "the row is read with a doubt"
_CELL = "a cell may not be what was meant"
_SURPLUS = "cells beyond the last column are not marked"

_START = "Start from the responses.csv of the built set."


class _Place(NamedTuple):
    """A row: the number of its file, and its line."""

    file: int
    line: int


class Responses:
    """The responses of one file or several: two sections, two graders, or each grader some of the parts.

    A row without any answer is nothing handed in. Where a student's attempt has several rows with answers, the last
    counts, for the columns that its file has.

    `remarks` lists every row and column that is not marked, with its file and line, and `notes` what is left out
    without harm: nothing is dropped silently. `came_as` has the name of the file that an attempt's answers came in,
    where they were collected.
    """

    def __init__(
        self,
        paths: Sequence[Path],
        sheets: Mapping[Entry, str],
        columns: Iterable[str],
        names: ColumnNames | None = None,
        not_asked: Mapping[Entry, Collection[str]] = _ALL_ASKED,
    ) -> None:
        """Look the files through once.

        `sheets` has the code on each sheet of the set; `names` gives our column names for those of a form's export,
        others are known by their headings; `not_asked` has the columns of the problems that an attempt does not have.

        Raises:
            FaultsError: for a file that cannot be read, is given twice, has no id column or none of the parts'
                columns, or columns of which it cannot be told which is one of these; for a column of `names` that no
                file has.
        """
        self.columns = tuple(columns)
        self._whose, self._not_asked = WhoseRows(sheets), not_asked
        known = _opened(paths, names or ColumnNames(), self.columns, {student for student, _attempt in sheets})
        self._tables = [one.table for one in known]
        for one in known:
            check_columns(one, self.columns)
        self._marked = [tuple(one for one in self.columns if one in table.columns) for table in self._tables]
        self._called = _called(paths)
        self.remarks: list[str] = []
        self.notes: list[str] = []
        self.came_as: dict[Entry, str] = {}
        self._places: dict[Entry, tuple[_Place, ...]] = {}
        for number, table in enumerate(self._tables):
            self.remarks += (f"{self._file(number)}{note}" for note in table.notes)
            self.notes += (f"{self._called[number]}: {note}" for note in table.titles)
            self.notes += (f"{self._called[number]}, {note}" for note in known[number].notes(()))
            remarks = RowRemarks(self._file(number))
            self._look_through(number, table, remarks)
            self.remarks += (*remarks.told, *remarks.rest())
        self._note_columns()

    def __iter__(self) -> Iterator[tuple[str, int, Mapping[str, str]]]:
        """Each attempt that was handed in: the student's id, its number, and the cells by column."""
        waiting: dict[Entry, dict[str, str]] = {}
        for number, table in enumerate(self._tables):
            for row in table:
                entry = self._whose.entry(row)
                places = self._places.get(entry, ()) if entry else ()
                if entry is None or (number, row.line) not in places:
                    continue
                cells = waiting.pop(entry, None) or dict.fromkeys(self.columns, "")
                cells |= {column: row.cells.get(column, "") for column in self._marked[number]}
                if (number, row.line) == places[-1]:
                    yield *entry, cells
                else:
                    waiting[entry] = cells

    @property
    def handed_in(self) -> frozenset[Entry]:
        """The attempts that were handed in: those with an answer, or a value of the student's own."""
        return frozenset(self._places)

    def _file(self, number: int) -> str:
        """A file as a remark begins with it; "" where there is one only."""
        return f"{self._called[number]}, " if len(self._tables) > 1 else ""

    def _place(self, place: _Place) -> str:
        return f"{self._file(place.file)}line {place.line}"

    def _look_through(self, number: int, table: Table, remarks: RowRemarks) -> None:
        for row in table:
            whose = self._whose.whose(row)
            for remark in whose.remarks:
                remarks.add(_WHOSE, row.line, remark)
            if whose.entry is None:
                continue
            self._note_cells(number, row, whose.student, remarks)
            written = [column for column in self._marked[number] if row.cells.get(column, "").strip()]
            others = [column for column in written if column in self._not_asked.get(whose.entry, ())]
            if others:
                told = f"{whose.student}: answers to problems that are not theirs, in {', '.join(others)}"
                remarks.add(_NOT_THEIRS, row.line, f"{told}; they are not marked")
            if len(written) > len(others):
                self._count(_Place(number, row.line), whose.entry, remarks)
                if row.cells.get(FILE, "").strip():
                    self.came_as[whose.entry] = unguarded(row.cells[FILE].strip())

    def _count(self, place: _Place, entry: Entry, remarks: RowRemarks) -> None:
        """Let a row count, and no earlier one of the same attempt in the columns that its file has."""
        before = self._places.get(entry, ())
        mine = set(self._marked[place.file])
        for other in before:
            both = mine.intersection(self._marked[other.file])
            if both:
                who = entry[0] if self._whose.attempts == 1 else f"{entry[0]}, attempt {entry[1]},"
                shared = "" if both == set(self._marked[other.file]) else f" for {', '.join(sorted(both))}"
                told = f"{who} again; this row counts{shared}, that of {self._place(other)} does not"
                remarks.add(_AGAIN, place.line, told)
        kept = (other for other in before if not mine.issuperset(self._marked[other.file]))
        self._places[entry] = (*kept, place)

    def _note_cells(self, number: int, row: Row, student: str, remarks: RowRemarks) -> None:
        """Remarks on a row, and on the cells of it that are marked, which may not be what was meant."""
        if row.remark:
            remarks.add(_DOUBT, row.line, f"{student}: {row.remark}")
        for column in self._marked[number]:
            if column in row.notes:
                remarks.add(_CELL, row.line, f"{student}: {column}: {row.notes[column]}")
        if any(cell.strip() for cell in row.surplus):
            remarks.add(_SURPLUS, row.line, f"{student}: cells beyond the last column; they are not marked")

    def _note_columns(self) -> None:
        """What no file has is told once; what a file has too much, with its line."""
        headers = [_Place(number, table.header_line) for number, table in enumerate(self._tables)]
        found = {column for table in self._tables for column in table.columns}
        missing = [column for column in self.columns if column not in found]
        if missing:
            where = "" if len(headers) > 1 else f"{self._place(headers[0])}: "
            self.remarks.append(f"{where}no column for {', '.join(missing)}; these parts count as blank")
        about = (*about_columns(self._whose.attempts), FILE, TYPED)
        for header, table in zip(headers, self._tables, strict=True):
            if self._whose.attempts > 1 and not {ATTEMPT, "code"} & set(table.columns):
                self.remarks.append(f"{self._place(header)}: no column {ATTEMPT}; every row counts as attempt 1")
            unknown = [column for column in table.columns if column not in {*about, "", *self.columns}]
            parts = [column for column in unknown if _PART.match(column)]
            if parts:
                told = f"the columns {', '.join(map(repr, parts))} are not marked"
                self.remarks.append(f"{self._place(header)}: {told}")
            others = [column for column in unknown if column not in parts]
            if others:
                told = f"the columns {', '.join(map(repr, others))} are not marked"
                self.notes.append(f"{self._called[header.file]}, line {header.line}: {told}")


def check_columns(known: KnownColumns, parts: Sequence[str]) -> None:
    """Raise FaultsError where it cannot be told who the rows of a table are of, or which columns are the parts."""
    table = known.table
    faults = FaultLog(table.file)
    here = faults.at(f"line {table.header_line}")
    if not known.has_ids:
        known.fault_ids(here, _START)
    known.fault_parts(here, parts)
    if not faults and not set(parts) & set(table.columns):
        expected = f"columns named as the parts: {', '.join(parts[:4])}, …"
        here.add("", columns_told(table.columns), expected, _START)
    faults.stop()


def _opened(
    paths: Sequence[Path], names: ColumnNames, parts: Collection[str], ids: Collection[str]
) -> tuple[KnownColumns, ...]:
    """The tables; of several, each may lack columns of the mapping that another one has."""
    if len(paths) == 1:
        return (known_columns(paths[0], names.of(paths[0]), parts, ids),)
    for number, path in enumerate(paths):
        if path.resolve() in {other.resolve() for other in paths[:number]}:
            FaultLog(str(path)).refuse("", "the file twice", "each file of responses once")
    tables = tuple(known_columns(path, names.of(path), parts, ids, needs_all=False) for path in paths)
    _check_names(paths, tables, names)
    return tables


def _check_names(paths: Sequence[Path], tables: Sequence[KnownColumns], names: ColumnNames) -> None:
    """Raise FaultsError for columns that are told of a file which has them not, or that are in none of several."""
    faults = FaultLog(", ".join(map(str, paths)))
    for path, one in zip(paths, tables, strict=True):
        for name, ours in names.by_file.get(path.name, {}).items():
            if name not in one.table.found:
                expected = f"the column that is mapped to {ours!r}"
                faults.of(str(path)).add("", f"no column {name!r}", expected, nearest(name, one.table.found))
    found = {name for one in tables for name in one.table.found}
    for name, ours in names.anywhere.items():
        if name not in found:
            expected = f"the column that is mapped to {ours!r} in one of the files"
            faults.add("", f"no column {name!r}", expected, nearest(name, sorted(found)))
    faults.stop()


def _called(paths: Sequence[Path]) -> list[str]:
    """What the files are called in remarks: by their names alone where these differ."""
    names = [path.name for path in paths]
    return names if len(set(names)) == len(names) else [str(path) for path in paths]
