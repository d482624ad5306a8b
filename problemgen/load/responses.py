"""Reading responses: a table (CSV or .xlsx) with a row a student and a column a part, read row by row."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from problemgen.load.fault_log import FaultLog
from problemgen.load.tables import Row, Table

__all__ = ["ABOUT", "Responses", "about_columns"]

ABOUT = ("id", "name", "section")
"""The columns about the student."""

_WHICH = "attempt"
"""The column that tells the attempt, where there are several."""

_ATTEMPT = re.compile(r"0*([1-9][0-9]{0,3})")

Entry = tuple[str, int]
"""A student's id and the number of an attempt."""


def about_columns(attempts: int) -> tuple[str, ...]:
    """The columns that tell whose a row is, and where there are several attempts, of which it is."""
    return (*ABOUT, _WHICH) if attempts > 1 else ABOUT


class Responses:
    """The responses of a file. Where a student has several rows for an attempt, the last counts.

    A row that tells no attempt is of the first one.

    `remarks` lists every row and column that is not marked, with its line: nothing is dropped silently.
    """

    def __init__(
        self,
        path: Path,
        students: Iterable[str],
        columns: Iterable[str],
        names: Mapping[str, str] | None = None,
        attempts: int = 1,
    ) -> None:
        """Look the file through once.

        `names` gives our column names for those of a form's export; `attempts` is how many there are.

        Raises:
            FaultsError: for a file that cannot be read or has no id column, or none of the parts' columns.
        """
        self._table = Table(path, "id", names)
        self.columns = tuple(columns)
        self._check_columns()
        self.remarks: list[str] = list(self._table.notes)
        self._known = {student.casefold(): student for student in students}
        self._attempts = attempts
        self._counts: dict[Entry, int] = {}
        self._blank: set[Entry] = set()
        self._look_through()
        self._note_columns()

    def __iter__(self) -> Iterator[tuple[str, int, Mapping[str, str]]]:
        """Each row that counts: the student's id, the attempt, and the cells by column."""
        for row in self._table:
            student, attempt = self._student(row), self._attempt(row)
            if student is not None and attempt is not None and self._counts[student, attempt] == row.line:
                yield student, attempt, {column: row.cells.get(column, "") for column in self.columns}

    @property
    def students(self) -> frozenset[str]:
        """The students who have a row."""
        return frozenset(student for student, _ in self._counts)

    @property
    def handed_in(self) -> frozenset[Entry]:
        """The attempts that count as handed in: those with a row that holds anything.

        Where there is one attempt only, a row without any answer is handed in too.
        """
        return frozenset(self._counts.keys() - self._blank if self._attempts > 1 else self._counts)

    def _student(self, row: Row) -> str | None:
        return self._known.get(row.cells.get("id", "").strip().casefold())

    def _attempt(self, row: Row) -> int | None:
        """The attempt of a row; None for one that cannot be read, or that there is not."""
        text = row.cells.get(_WHICH, "").strip() if self._attempts > 1 else ""
        found = _ATTEMPT.fullmatch(text)
        number = int(found[1]) if found else 0
        if text and not 0 < number <= self._attempts:
            return None
        return number or 1

    def _check_columns(self) -> None:
        found, hint = self._table.columns, "Start from the responses.csv of the built set."
        faults = FaultLog(self._table.file).at(f"line {self._table.header_line}")
        shown = f"the columns {', '.join(repr(column) for column in found[:8])}"
        if "id" not in found:
            faults.refuse("", shown, "a column 'id'", hint)
        if not set(self.columns) & set(found):
            faults.refuse("", shown, f"columns named as the parts: {', '.join(self.columns[:4])}, …", hint)

    def _look_through(self) -> None:
        for row in self._table:
            written = row.cells.get("id", "").strip()
            student = self._student(row)
            if student is None:
                who = f"the id {written!r} is not in the set" if written else "no id"
                self.remarks.append(f"line {row.line}: {who}; the row is not marked")
                continue
            attempt = self._attempt(row)
            if attempt is None:
                self._note_attempt(row, student)
                continue
            self._note_cells(row, student)
            if any(cell.strip() for cell in row.surplus):
                self.remarks.append(f"line {row.line}: {student}: cells beyond the last column; they are not marked")
            self._count(row, (student, attempt))

    def _count(self, row: Row, entry: Entry) -> None:
        """Let a row count, and no earlier one of the same attempt."""
        if entry in self._counts:
            who = entry[0] if self._attempts == 1 else f"{entry[0]}, attempt {entry[1]},"
            before = self._counts[entry]
            self.remarks.append(f"line {row.line}: {who} again; this row counts, that of line {before} does not")
        self._counts[entry] = row.line
        if any(row.cells.get(column, "").strip() for column in self.columns):
            self._blank.discard(entry)
        else:
            self._blank.add(entry)

    def _note_attempt(self, row: Row, student: str) -> None:
        found = f"the attempt {row.cells[_WHICH].strip()!r}, not a number from 1 to {self._attempts}"
        self.remarks.append(f"line {row.line}: {student}: {found}; the row is not marked")

    def _note_cells(self, row: Row, student: str) -> None:
        """Remarks on a row, and on the cells of it that are marked, which may not be what was meant."""
        if row.remark:
            self.remarks.append(f"line {row.line}: {student}: {row.remark}")
        marked = (column for column in self.columns if column in row.notes)
        self.remarks.extend(f"line {row.line}: {student}: {column}: {row.notes[column]}" for column in marked)

    def _note_columns(self) -> None:
        line = f"line {self._table.header_line}"
        missing = [column for column in self.columns if column not in self._table.columns]
        if missing:
            self.remarks.append(f"{line}: no column for {', '.join(missing)}; these parts count as blank")
        if self._attempts > 1 and _WHICH not in self._table.columns:
            self.remarks.append(f"{line}: no column {_WHICH}; every row counts as attempt 1")
        known = {*about_columns(self._attempts), "", *self.columns}
        unknown = [column for column in self._table.columns if column not in known]
        if unknown:
            self.remarks.append(f"{line}: the columns {', '.join(map(repr, unknown))} are not marked")
