"""Reading responses: a CSV table with a row a student and a column a part, read row by row."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from problemgen.errors import Fault, FaultsError
from problemgen.load.tables import Row, Table

__all__ = ["Responses"]


class Responses:
    """The responses of a file. Where a student has several rows, the last counts.

    `remarks` lists every row and column that is not marked, with its line: nothing is dropped silently.
    """

    def __init__(self, path: Path, students: Iterable[str], columns: Iterable[str]) -> None:
        """Look the file through once.

        Raises:
            FaultsError: for a file that cannot be read or has no id column, or none of the parts' columns.
        """
        self._table = Table(path)
        self.columns = tuple(columns)
        faults = self._column_faults()
        if faults:
            raise FaultsError(faults)
        self.remarks: list[str] = []
        self._known = {student.casefold(): student for student in students}
        self._counts = self._looked_through()
        self._note_columns()

    def __iter__(self) -> Iterator[tuple[str, Mapping[str, str]]]:
        """Each student's row that counts: the id, and the cells by column."""
        for row in self._table:
            student = self._student(row)
            if student is not None and self._counts[student] == row.line:
                yield student, {column: row.cells.get(column, "") for column in self.columns}

    @property
    def students(self) -> frozenset[str]:
        """The students who have a row."""
        return frozenset(self._counts)

    def _student(self, row: Row) -> str | None:
        return self._known.get(row.cells.get("id", "").strip().casefold())

    def _column_faults(self) -> list[Fault]:
        file, found = self._table.file, self._table.columns
        shown = f"the columns {', '.join(repr(column) for column in found[:8])}"
        if "id" not in found:
            return [Fault(file, "line 1", shown, "a column 'id'", "Start from the responses.csv of the built set.")]
        if not set(self.columns) & set(found):
            expected = f"columns named as the parts: {', '.join(self.columns[:4])}, …"
            return [Fault(file, "line 1", shown, expected, "Start from the responses.csv of the built set.")]
        return []

    def _looked_through(self) -> dict[str, int]:
        counts: dict[str, int] = {}
        for row in self._table:
            written = row.cells.get("id", "").strip()
            student = self._student(row)
            if student is None:
                who = f"the id {written!r} is not in the set" if written else "no id"
                self.remarks.append(f"line {row.line}: {who}; the row is not marked")
                continue
            if any(cell.strip() for cell in row.surplus):
                self.remarks.append(f"line {row.line}: {student}: cells beyond the last column; they are not marked")
            if student in counts:
                before = counts[student]
                self.remarks.append(
                    f"line {row.line}: {student} again; this row counts, that of line {before} does not"
                )
            counts[student] = row.line
        return counts

    def _note_columns(self) -> None:
        missing = [column for column in self.columns if column not in self._table.columns]
        if missing:
            self.remarks.append(f"line 1: no column for {', '.join(missing)}; these parts count as blank")
        known = {"id", "name", "section", "", *self.columns}
        unknown = [column for column in self._table.columns if column not in known]
        if unknown:
            self.remarks.append(f"line 1: the columns {', '.join(map(repr, unknown))} are not marked")
