"""The tables of a marking: grades.csv with a row a part, gradebook.csv with a row a student."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import ExitStack
from typing import BinaryIO

from problemgen.model.answers import StudentKey
from problemgen.model.total import StudentTotal
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.outlets.marking.outlet import MarkingOutlet
from problemgen.render.classes.grades import GRADE_COLUMNS, GradebookColumn, grade_rows, gradebook_text
from problemgen.write.files import Staging
from problemgen.write.spreadsheet import CsvLines

__all__ = ["GRADEBOOK_FILE", "GRADES_FILE", "GradebookTable", "GradesTable"]

GRADES_FILE = "grades.csv"
GRADEBOOK_FILE = "gradebook.csv"


class _CsvFile:
    """A private CSV file that is written row by row."""

    def __init__(self, stack: ExitStack, staging: Staging, name: str, header: Sequence[str]) -> None:
        self._lines = CsvLines()
        self._file: BinaryIO = stack.enter_context(staging.stream(name, private=True))
        self.rows([header])

    def rows(self, rows: Iterable[Sequence[str]]) -> None:
        for row in rows:
            self._file.write(self._lines.line(row))


class GradesTable(MarkingOutlet):
    """grades.csv."""

    files = early = (GRADES_FILE,)

    def __init__(self, stack: ExitStack, staging: Staging) -> None:
        """Open the file and write its header."""
        self._file = _CsvFile(stack, staging, GRADES_FILE, GRADE_COLUMNS)

    def take(self, _key: StudentKey, result: StudentResult) -> None:
        """Write one student's rows."""
        self._file.rows(grade_rows(result))


class GradebookTable:
    """gradebook.csv."""

    name = GRADEBOOK_FILE

    def __init__(self, stack: ExitStack, staging: Staging, columns: Sequence[GradebookColumn]) -> None:
        """Open the file and write its header."""
        self._columns = columns
        self._file = _CsvFile(stack, staging, GRADEBOOK_FILE, [column.name for column in columns])

    def row(self, total: StudentTotal) -> None:
        """Write one student's row."""
        self._file.rows([[gradebook_text(column.value(total)) for column in self._columns]])

    def close(self) -> None:
        """Nothing is left to write."""
