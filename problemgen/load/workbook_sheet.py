"""The first sheet of an .xlsx workbook: what its cells show, never a formula."""

from __future__ import annotations

import codecs
import datetime
import warnings
import zipfile
import zlib
from collections.abc import Iterable, Iterator
from itertools import repeat
from pathlib import Path
from typing import Any, BinaryIO, NoReturn, TypeAlias
from xml.etree.ElementTree import ParseError

from openpyxl import load_workbook
from openpyxl.utils.exceptions import InvalidFileException

from problemgen.errors import FaultsError
from problemgen.load.fault_log import FaultLog
from problemgen.load.record import Record
from problemgen.load.shown_number import shown_number

__all__ = ["WorkbookSheet", "is_workbook"]

_Cell: TypeAlias = tuple[Any, str, str]
"""A cell's value, its number format, and the letter of its kind: "n", "s", "f", "e", …"""

_HEAD = 4096  # bytes in which text in UTF-16, but no archive, has shown what it is
_WIDE_TEXT = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
"""Text in UTF-16 has zero bytes as well."""
_ZIP, _COMPOUND = b"PK\x03\x04", bytes.fromhex("d0cf11e0a1b11ae1")
_LARGEST = 1 << 30
"""Bytes of an unpacked workbook: a class of thousands has a few megabytes, a bomb of zeros more than any memory."""
_BROKEN = (
    zipfile.BadZipFile, zlib.error, ParseError, InvalidFileException, KeyError, IndexError, ValueError, TypeError,
    AttributeError, EOFError, OSError, NotImplementedError, RuntimeError, OverflowError, MemoryError,
)  # fmt: skip
"""What a damaged archive, or one with a password, makes of the libraries that read it."""

_EXPECTED = "a workbook (.xlsx) as a spreadsheet saves it, or a CSV file"
_DATE = "a date: the spreadsheet may have turned what was typed into one"
_TIME = "a time of day: the spreadsheet may have turned a ratio into one"
_NO_VALUE = "a formula without a value; open the workbook in a spreadsheet and save it again"
_ERROR = "an error value of the spreadsheet"


def is_workbook(path: Path) -> bool:
    """Whether a file is a packed or a compound one, as workbooks are, whatever its name; or a damaged one, by its name.

    Raises:
        OSError: for a file that cannot be read.
    """
    with path.open("rb") as file:
        head = file.read(_HEAD)
    damaged = path.suffix.lower() == ".xlsx" and b"\0" in head and not head.startswith(_WIDE_TEXT)
    return damaged or head.startswith((_ZIP, _COMPOUND))


class WorkbookSheet:
    """The rows of the first sheet. Cells of other sheets are not read, which `notes` tells."""

    def __init__(self, path: Path) -> None:
        """Look at what is in the file.

        Raises:
            FaultsError: for a file that is no workbook, is damaged, protected by a password, or of an older format.
        """
        self._path = path
        with path.open("rb") as file:
            if file.read(8) == _COMPOUND:
                self._refuse("a workbook of an older format, or one with a password", "Save it again as .xlsx or CSV.")
        try:
            self._has_formulas = self._looked_into()
            with path.open("rb") as file:
                book = _opened(file, values=True)
                names = book.sheetnames
                self._sheet = next(sheet.title for sheet in book.worksheets)
        except FaultsError:
            raise
        except (*_BROKEN, StopIteration):
            self._refuse("a workbook that cannot be read", "Open it in a spreadsheet and save it again.")
        others = f"the workbook has {len(names)} sheets; only the first, {self._sheet!r}, is read"
        self.notes: tuple[str, ...] = (others,) if len(names) > 1 else ()

    def records(self) -> Iterator[Record]:
        """The rows with any text. Raises FaultsError where the file turns out to be damaged."""
        values = self._rows(values=True)
        written = self._rows(values=False) if self._has_formulas else repeat(())
        for line, (row, formulas) in enumerate(zip(values, written, strict=False), start=1):
            record = _record(line, row, formulas)
            if record.has_text:
                yield record

    def _looked_into(self) -> bool:
        """Whether any sheet has a formula; a file that unpacks to too much is refused before it is unpacked."""
        with zipfile.ZipFile(self._path) as archive:
            if sum(member.file_size for member in archive.infolist()) > _LARGEST:
                self._refuse("a workbook of more than a gigabyte", "Save the sheet with the answers alone.")
            sheets = [name for name in archive.namelist() if name.startswith("xl/worksheets/")]
            return any(_has_formula(archive, name) for name in sheets)

    def _rows(self, *, values: bool) -> Iterator[tuple[_Cell, ...]]:
        """The cells row by row: their values, or what was written into them."""
        try:
            with self._path.open("rb") as file:
                sheet = _opened(file, values=values)[self._sheet]
                sheet.reset_dimensions()
                rows = sheet.iter_rows()
                while (row := _next(rows)) is not None:
                    yield row
        except _BROKEN:
            self._refuse("a workbook that is damaged", "Open it in a spreadsheet and save it again.")

    def _refuse(self, found: str, hint: str) -> NoReturn:
        FaultLog(str(self._path)).refuse("", found, _EXPECTED, hint)


class _quietly(warnings.catch_warnings):  # noqa: N801 - used as a function
    """Without the library's warnings about styles and extensions, which say nothing about values."""

    def __enter__(self) -> None:
        super().__enter__()
        warnings.simplefilter("ignore")


def _opened(file: BinaryIO, *, values: bool) -> Any:
    """The workbook in a file, whatever the file's name, with formulas or their values."""
    with _quietly():
        return load_workbook(file, read_only=True, data_only=values)


def _next(rows: Iterator[Any]) -> tuple[_Cell, ...] | None:
    """The cells of the next row; None behind the last."""
    with _quietly():
        row = next(rows, None)
        if row is None:
            return None
        return tuple((cell.value, cell.number_format or "General", cell.data_type) for cell in row)


def _has_formula(archive: zipfile.ZipFile, name: str) -> bool:
    """Whether a sheet's text has a formula element; read in pieces that overlap."""
    held = b""
    with archive.open(name) as sheet:
        while piece := sheet.read(1 << 20):
            held = held[-4:] + piece
            if any(start in held for start in (b"<f>", b"<f ", b"<f/", b":f>", b":f ")):
                return True
    return False


def _record(line: int, row: Iterable[_Cell], formulas: tuple[_Cell, ...]) -> Record:
    cells: list[str] = []
    notes: dict[int, str] = {}
    for index, (value, number_format, kind) in enumerate(row):
        is_formula = index < len(formulas) and formulas[index][2] == "f"
        text, note = ("(formula)", _NO_VALUE) if value is None and is_formula else _shown(value, number_format, kind)
        cells.append(text)
        if note:
            notes[index] = note
    return Record(line, cells, notes)


def _shown(value: Any, number_format: str, kind: str) -> tuple[str, str]:
    """What a cell shows, and why that may not be what was meant."""
    if value is None:
        return "", ""
    if isinstance(value, bool):
        return str(value).upper(), ""
    if isinstance(value, int | float):
        return shown_number(value, number_format), ""
    if isinstance(value, datetime.time | datetime.timedelta):
        return _clock(value), _TIME
    if isinstance(value, datetime.date):
        return f"(date {str(value).removesuffix(' 00:00:00')})", _DATE
    return str(value), _ERROR if kind == "e" else ""


def _clock(value: datetime.time | datetime.timedelta) -> str:
    """A time as a spreadsheet shows it when it was typed: hours that may go beyond a day, minutes, seconds."""
    if isinstance(value, datetime.time):
        return f"{value.hour}:{value.minute:02}:{value.second:02}"
    seconds = value.days * 86400 + value.seconds
    return f"{seconds // 3600}:{seconds // 60 % 60:02}:{seconds % 60:02}"
