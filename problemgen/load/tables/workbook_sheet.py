"""The first sheet of an .xlsx workbook: what its cells show, never a formula."""

from __future__ import annotations

import codecs
import datetime
import warnings
import zipfile
from collections.abc import Iterable, Iterator
from itertools import islice, repeat
from pathlib import Path
from typing import Any, BinaryIO, NoReturn, TypeAlias

from problemgen.errors import FaultsError
from problemgen.late import late
from problemgen.load.fault_log import FaultLog
from problemgen.load.tables.limits import LAST_LINE, within_limits
from problemgen.load.tables.record import Record, typed
from problemgen.load.tables.shown_number import shown_number

__all__ = ["WorkbookSheet", "is_workbook"]

openpyxl, escape = late("openpyxl"), late("openpyxl.utils.escape")

_Cell: TypeAlias = tuple[Any, str, str]
"""A cell's value, its number format, and the letter of its kind: "n", "s", "f", "e", …"""

_HEAD = 4096  # bytes in which text in UTF-16, but no archive, has shown what it is
_WIDE_TEXT = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
"""Text in UTF-16 has zero bytes as well."""
_ZIP, _COMPOUND = b"PK\x03\x04", bytes.fromhex("d0cf11e0a1b11ae1")
_LARGEST = 1 << 26
"""Bytes of a workbook once it is unpacked: a class of thousands has a few megabytes, a bomb of zeros gigabytes."""
_MOST_PARTS = 10_000
"""Parts of a workbook: one a sheet or a picture, and a dozen besides."""

_LONGEST = 1 << 20
"""Bytes without a tag: a cell holds 32,767 characters, and the parser begins a long one again with each piece."""
_MOST_ROWS, _MOST_CELLS = 50_000, 500_000
"""Of all sheets: more than twice the largest class that is measured, and what the library reads in five seconds."""
_AT_ONCE = 1000  # rows
_FORMULAS = (b"<f>", b"<f ", b"<f/", b":f>", b":f ")
"""How the element of a formula begins."""

_SAVE_AGAIN = "Open it in a spreadsheet and save it again."
_AS_TEXT = "Save the sheet with the table alone, as CSV."
_ALONE = "Save the sheet with the table alone, as a workbook or as CSV."
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

    def __init__(self, path: Path, wanted: str = "") -> None:
        """Look at what is in the file; a sheet of the name that is `wanted` goes before the first one.

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
                titles = [sheet.title for sheet in book.worksheets]
                self._sheet = wanted if wanted in titles else titles[0]
        except FaultsError:
            raise
        except Exception:  # noqa: BLE001 - a damaged archive makes anything of the libraries that read it
            self._refuse("a workbook that cannot be read", _SAVE_AGAIN)
        which = "the first, " if self._sheet == titles[0] else ""
        others = f"the workbook has {len(names)} sheets; only {which}{self._sheet!r}, is read"
        self.notes: tuple[str, ...] = (others,) if len(names) > 1 else ()

    def records(self) -> Iterator[Record]:
        """The rows with any text. Raises FaultsError where the file turns out to be damaged, or too large."""
        return within_limits(self._path, self._records())

    def _records(self) -> Iterator[Record]:
        values = self._rows(values=True)
        written = self._rows(values=False) if self._has_formulas else repeat((0, ()))
        for (line, row), (_, formulas) in zip(values, written, strict=False):
            record = _record(line, row, formulas)
            if record.has_text:
                yield record

    def _looked_into(self) -> bool:
        """Whether any sheet has a formula; a file that unpacks to too much is refused before it is unpacked."""
        with zipfile.ZipFile(self._path) as archive:
            parts = archive.infolist()
            if len(parts) > _MOST_PARTS:
                self._refuse(f"a workbook of {len(parts):,} parts", _ALONE)
            size = sum(part.file_size for part in parts)
            if size > _LARGEST:
                self._refuse(f"a workbook of {size:,} bytes, unpacked; more than {_LARGEST:,} are not read", _ALONE)
            rows = cells = 0
            has_formula = False
            for part in parts:
                for piece in _pieces(archive, part):
                    if len(piece) > _LONGEST and b"<" not in piece:
                        self._refuse(f"a text of more than {_LONGEST:,} bytes in {part.filename}", _ALONE)
                    if _is_sheet(part):
                        rows, cells = rows + _count(piece, b"row"), cells + _count(piece, b"c")
                        has_formula = has_formula or any(start in piece for start in _FORMULAS)
                if rows > _MOST_ROWS or cells > _MOST_CELLS:
                    found = f"a workbook of {rows:,} rows and {cells:,} cells"
                    self._refuse(f"{found}; more than {_MOST_ROWS:,} and {_MOST_CELLS:,} are not read", _AS_TEXT)
            return has_formula

    def _rows(self, *, values: bool) -> Iterator[tuple[int, tuple[_Cell, ...]]]:
        """The rows that have cells, with their numbers: their values, or what was written into them."""
        try:
            with self._path.open("rb") as file:
                sheet = _opened(file, values=values)[self._sheet]
                sheet.reset_dimensions()
                numbered = enumerate(sheet.iter_rows(), start=1)
                while some := _next(numbered):
                    if some[-1][0] > LAST_LINE:
                        self._refuse(f"a row below {LAST_LINE:,}, the last one that a sheet has", _SAVE_AGAIN)
                    for line, row in some:
                        if row:
                            yield (
                                line,
                                tuple((cell.value, cell.number_format or "General", cell.data_type) for cell in row),
                            )
        except FaultsError:
            raise
        except Exception:  # noqa: BLE001 - as above
            self._refuse("a workbook that is damaged", _SAVE_AGAIN)

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
        return openpyxl.load_workbook(file, read_only=True, data_only=values)


def _next(rows: Iterator[tuple[int, Any]]) -> list[tuple[int, Any]]:
    """Some rows more; none behind the last. Most of a million empty ones cost no more than that."""
    with _quietly():
        return list(islice(rows, _AT_ONCE))


def _pieces(archive: zipfile.ZipFile, part: zipfile.ZipInfo) -> Iterator[bytes]:
    """A part in pieces that overlap."""
    held = b""
    with archive.open(part) as source:
        while piece := source.read(_LONGEST):
            yield held + piece
            held = piece[-max(map(len, _FORMULAS)) :]


def _count(piece: bytes, name: bytes) -> int:
    """How many elements of a name begin in a piece, with a prefix or without."""
    return sum(piece.count(before + name + behind) for before in (b"<", b":") for behind in (b" ", b">", b"/"))


def _is_sheet(part: zipfile.ZipInfo) -> bool:
    return part.filename.startswith("xl/worksheets/")


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
    return (str(value), _ERROR) if kind == "e" else typed(escape.unescape(str(value)))


def _clock(value: datetime.time | datetime.timedelta) -> str:
    """A time as a spreadsheet shows it when it was typed: hours that may go beyond a day, minutes, seconds."""
    if isinstance(value, datetime.time):
        return f"{value.hour}:{value.minute:02}:{value.second:02}"
    seconds = value.days * 86400 + value.seconds
    return f"{seconds // 3600}:{seconds // 60 % 60:02}:{seconds % 60:02}"
