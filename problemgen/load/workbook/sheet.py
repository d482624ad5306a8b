"""The first sheet of an .xlsx workbook (ECMA-376 part 1, 18.3): what its cells show, never a formula."""

from __future__ import annotations

import codecs
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import NoReturn

from problemgen.load.fault_log import FaultLog
from problemgen.load.limits import LAST_COLUMN, LAST_LINE, LONGEST_ROW, MOST_CELLS, within_limits
from problemgen.load.record import Record
from problemgen.load.workbook.archive import Archive, UnreadableWorkbookError
from problemgen.load.workbook.book import Book, TextParts, plain_number
from problemgen.load.workbook.cells import Written, shown_cell

__all__ = ["WorkbookSheet", "is_workbook"]

_HEAD = 4096  # bytes in which text in UTF-16, but no archive, has shown what it is
_WIDE_TEXT = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
"""Text in UTF-16 has zero bytes as well."""
_ZIP, _COMPOUND = b"PK\x03\x04", bytes.fromhex("d0cf11e0a1b11ae1")
_LETTERS = 26

_EXPECTED = "a workbook (.xlsx) as a spreadsheet saves it, or a CSV file"


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
            FaultsError: for a file that is no workbook, is damaged, too large, protected by a password, or of an older
                format.
            OSError: for a file that cannot be read.
        """
        self._path = path
        with path.open("rb") as file:
            if file.read(8) == _COMPOUND:
                old = "a workbook of an older format, or one with a password"
                self._refuse(UnreadableWorkbookError(old, "Save it again as .xlsx or CSV."))
        try:
            with Archive(path) as archive:
                self._book = Book(archive)
        except UnreadableWorkbookError as error:
            self._refuse(error)
        others = f"the workbook has {len(self._book.sheets)} sheets; only the first, {self._book.first!r}, is read"
        self.notes: tuple[str, ...] = (others,) if len(self._book.sheets) > 1 else ()

    def records(self) -> Iterator[Record]:
        """The rows with any text. Raises FaultsError where the file turns out to be damaged, or too large."""
        return within_limits(self._path, (record for record in self._rows() if record.has_text))

    def _rows(self) -> Iterator[Record]:
        rows = _Rows()
        try:
            with Archive(self._path) as archive:
                for _ in archive.parsed(self._book.part, rows):
                    for line, cells in rows.taken():
                        yield self._record(line, cells)
        except UnreadableWorkbookError as error:
            self._refuse(error)

    def _record(self, line: int, written: Mapping[int, Written]) -> Record:
        cells = [""] * (max(written, default=-1) + 1)
        notes: dict[int, str] = {}
        for column, cell in written.items():
            try:
                cells[column], note = shown_cell(cell, self._book)
            except UnreadableWorkbookError as error:
                raise UnreadableWorkbookError(error.found, error.hint, f"line {line}, column {column + 1}") from None
            if note:
                notes[column] = note
        return Record(line, cells, notes)

    def _refuse(self, error: UnreadableWorkbookError) -> NoReturn:
        FaultLog(str(self._path)).refuse(error.where, error.found, _EXPECTED, error.hint)


class _Rows:
    """Takes the part of a sheet: the cells of each row with anything in it, by their places."""

    def __init__(self) -> None:
        self._waiting: list[tuple[int, dict[int, Written]]] = []
        self._row: dict[int, Written] = {}
        self._line = self._column = self._cells = 0
        self._style = self._kind = ""
        self._is_cell = self._is_value = self._has_formula = False
        self._value: list[str] = []
        self._length = 0
        self._text = TextParts()

    def taken(self) -> Iterator[tuple[int, dict[int, Written]]]:
        """The rows that have come since the last call."""
        waiting, self._waiting = self._waiting, []
        return iter(waiting)

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        if name == "c":
            self._start_cell(attributes)
        elif name == "row":
            self._start_row(attributes.get("r"))
        elif self._is_cell:
            self._is_value = name == "v"
            self._has_formula = self._has_formula or name == "f"
            self._text.start(name)

    def end(self, name: str) -> None:
        if name == "c" and self._is_cell:
            self._end_cell()
        elif name == "row":
            if self._row:
                self._waiting.append((self._line, self._row))
            self._row = {}
        elif self._is_cell:
            self._is_value = False
            self._text.end(name)

    def text(self, text: str) -> None:
        if self._is_value:
            self._value.append(text)
            self._length += len(text)
            if self._length > LONGEST_ROW:
                raise self._refusal(f"a cell of more than {LONGEST_ROW:,} characters")
        elif self._is_cell:
            self._text.text(text)

    def _start_row(self, written: str | None) -> None:
        """A row has a number, or the one behind the row before."""
        line = self._line + 1 if written is None else plain_number(written) or 0
        if not self._line < line <= LAST_LINE:
            raise self._refusal(f"a row numbered {(written or str(line))[:20]} (rows rise to {LAST_LINE:,} at most)")
        self._line, self._column, self._row = line, 0, {}

    def _start_cell(self, attributes: Mapping[str, str]) -> None:
        """A cell has a place, or the one behind the cell before."""
        written = attributes.get("r")
        column = self._column + 1 if written is None else _column(written)
        if not self._column < column <= LAST_COLUMN or not self._line:
            raise self._refusal(f"a cell in no place: {(written or str(column))[:20]!r}")
        self._cells += 1
        if self._cells > MOST_CELLS:
            raise self._refusal(f"more than {MOST_CELLS:,} cells")
        self._column, self._is_cell, self._is_value, self._has_formula = column, True, False, False
        self._style, self._kind = attributes.get("s", ""), attributes.get("t", "n")
        self._length = 0

    def _end_cell(self) -> None:
        inline = self._text.taken()
        value, self._value = "".join(self._value), []
        if self._kind == "inlineStr":
            value = inline
        if value or self._has_formula:
            self._row[self._column - 1] = Written(self._kind, value, self._style, has_formula=self._has_formula)
        self._is_cell = self._is_value = False

    def _refusal(self, found: str) -> UnreadableWorkbookError:
        return UnreadableWorkbookError(found, where=f"line {self._line}")


def _column(place: str) -> int:
    """The number of the column in a cell's place ("C7" is in column 3); 0 for no such place."""
    letters = place.rstrip("0123456789")
    if not letters or len(letters) > 3 or not letters.isascii() or not letters.isalpha() or letters == place:
        return 0
    column = 0
    for letter in letters.upper():
        column = column * _LETTERS + ord(letter) - ord("A") + 1
    return column
