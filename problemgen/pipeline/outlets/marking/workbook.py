"""The gradebook as a workbook, for those who open it in a spreadsheet."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from functools import cache

from problemgen.model.total import StudentTotal
from problemgen.render.classes.grades import GradebookColumn, GradebookValue, gradebook_text
from problemgen.write.files import Staging
from problemgen.write.workbook import Cell, SheetWriter

__all__ = ["WORKBOOK_FILE", "GradebookWorkbook"]

WORKBOOK_FILE = "gradebook.xlsx"


class GradebookWorkbook:
    """gradebook.xlsx: the columns of gradebook.csv, numbers as numbers."""

    name = WORKBOOK_FILE

    def __init__(self, staging: Staging, columns: Sequence[GradebookColumn]) -> None:
        """Start the sheet."""
        self._staging, self._columns = staging, columns
        self._sheet = SheetWriter("Gradebook", [one.name for one in columns], [one.width for one in columns])

    def row(self, total: StudentTotal) -> None:
        """Add one student's row."""
        self._sheet.row([_cell(column.value(total)) for column in self._columns])

    def close(self) -> None:
        """Write the file."""
        self._staging.write(WORKBOOK_FILE, self._sheet.content(), private=True)


def _cell(value: GradebookValue) -> Cell:
    return _number(gradebook_text(value)) if isinstance(value, Fraction) else value


@cache
def _number(text: str) -> Decimal:
    """A number as the table has it. There are few different ones: each is kept once."""
    return Decimal(text)
