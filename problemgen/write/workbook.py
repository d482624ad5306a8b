"""Workbooks (.xlsx) of one sheet: text stays text, numbers are numbers, and the same rows give the same bytes."""

from __future__ import annotations

import datetime
import io
import re
import zipfile
from collections.abc import Sequence
from decimal import Decimal
from typing import Any, TypeAlias

from problemgen.late import late

__all__ = ["Cell", "SheetWriter", "storable", "timeless"]

openpyxl, cells = late("openpyxl"), late("openpyxl.cell")
styles, utilities = late("openpyxl.styles"), late("openpyxl.utils")

Cell: TypeAlias = str | Decimal | None
"""Text, a number, or nothing."""

_MAKER = "problemgen"
_NO_TIME = datetime.datetime(1980, 1, 1)  # noqa: DTZ001 - the format has no zone; the earliest time of an archive
_ARCHIVE_TIME = (1980, 1, 1, 0, 0, 0)
_CORE = "docProps/core.xml"
_NOT_XML = re.compile("[^\t\n\u0020-\ufffd\U00010000-\U0010ffff]|_(?=x[0-9A-Fa-f]{4}_)")
"""What XML 1.0 cannot hold (its production 2, Char) or does not keep, and what would be taken for an escape of it."""
_LONE = re.compile("[\ud800-\udfff]")
_TIMES = re.compile(rb"(<dcterms:(?:created|modified)[^>]*>)[^<]*")


class SheetWriter:
    """Takes the rows of one sheet in turn, and gives the workbook's bytes at the end.

    No cell is a formula: text is stored as text, marked so that a spreadsheet leaves it text when it is edited.
    """

    def __init__(self, title: str, header: Sequence[str], widths: Sequence[int]) -> None:
        """Start a sheet with a header row that stays in view; widths are in characters."""
        self._title, self._header, self._widths = title, tuple(header), tuple(widths)
        self._rows: list[tuple[Cell, ...]] = []

    def row(self, cells: Sequence[Cell]) -> None:
        """Add a row."""
        self._rows.append(tuple(cells))

    def content(self) -> bytes:
        """The workbook."""
        book = openpyxl.Workbook(write_only=True)
        book.properties.creator = _MAKER
        sheet: Any = book.create_sheet(self._title)
        sheet.freeze_panes = "B2"
        dimensions = sheet.column_dimensions
        for number, width in enumerate(self._widths, start=1):
            dimensions[utilities.get_column_letter(number)].width = width
        sheet.append([_text(sheet, name, bold=True) for name in self._header])
        for row in self._rows:
            sheet.append([_text(sheet, cell) if isinstance(cell, str) else cell for cell in row])
        packed = io.BytesIO()
        book.save(packed)
        return timeless(packed.getvalue())


def _text(sheet: Any, text: str, *, bold: bool = False) -> Any:
    """A cell of text, also where the text begins with "=": the quote prefix keeps it so."""
    cell = cells.WriteOnlyCell(sheet, value=storable(text))
    cell.data_type = "s"
    cell.quotePrefix = True
    if bold:
        cell.font = styles.Font(bold=True)
    return cell


def storable(text: str) -> str:
    """A text as ECMA-376 part 1, 22.9.2.19 (ST_Xstring) writes what XML cannot hold; halves of a pair are no text."""
    return _NOT_XML.sub(lambda found: f"_x{ord(found[0]):04X}_", _LONE.sub("\ufffd", text))


def timeless(packed: bytes) -> bytes:
    """The same archive with one time for everything, so that it does not tell when it was written."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(packed)) as source, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as target:
        for name in source.namelist():
            content = source.read(name)
            if name == _CORE:
                content = _TIMES.sub(rb"\g<1>" + _NO_TIME.strftime("%Y-%m-%dT%H:%M:%SZ").encode(), content)
            member = zipfile.ZipInfo(name, _ARCHIVE_TIME)
            member.compress_type = zipfile.ZIP_DEFLATED
            target.writestr(member, content)
    return out.getvalue()
