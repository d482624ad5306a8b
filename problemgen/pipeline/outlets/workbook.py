"""The gradebook as a workbook, for those who open it in a spreadsheet."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from functools import cache

from problemgen.model.total import StudentTotal
from problemgen.render.grades import gradebook_header, gradebook_row
from problemgen.write.files import Staging
from problemgen.write.workbook import Cell, SheetWriter

__all__ = ["WORKBOOK_FILE", "GradebookWorkbook"]

WORKBOOK_FILE = "gradebook.xlsx"
_TEXTS = ("id", "name", "section", "attempt")
_WIDTHS = {"id": 14, "name": 28, "section": 10, "attempt": 14}
_WIDTH = 9


class GradebookWorkbook:
    """gradebook.xlsx: the columns of gradebook.csv, points as numbers."""

    def __init__(self, staging: Staging, columns: Sequence[str]) -> None:
        """Start the sheet; `columns` are the parts'."""
        self._staging, self._columns = staging, columns
        self._header = gradebook_header(columns)
        self._sheet = SheetWriter("Gradebook", self._header, [_WIDTHS.get(name, _WIDTH) for name in self._header])

    def row(self, total: StudentTotal) -> None:
        """Add one student's row."""
        row = gradebook_row(total, self._columns)
        self._sheet.row([_cell(name, text) for name, text in zip(self._header, row, strict=True)])

    def close(self) -> None:
        """Write the file."""
        self._staging.write(WORKBOOK_FILE, self._sheet.content(), private=True)


def _cell(column: str, text: str) -> Cell:
    return text if column in _TEXTS else _number(text)


@cache
def _number(text: str) -> Decimal | None:
    """Points as a number. There are few different ones: each is kept once."""
    return Decimal(text) if text else None
