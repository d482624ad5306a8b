"""Reading tables as a spreadsheet saves them: CSV text in whatever encoding and with whatever separator."""

from __future__ import annotations

import codecs
import csv
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from problemgen.errors import Fault, FaultsError

__all__ = ["Row", "Table"]

_MARKS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
_CHUNK = 1 << 20

csv.field_size_limit(1 << 27)


@dataclass(frozen=True)
class Row:
    """One row: the line of the file on which it begins, and its cells by column name; `surplus` has no column."""

    line: int
    cells: dict[str, str]
    surplus: tuple[str, ...] = ()


class Table:
    """A table in a CSV file, read row by row as often as it is iterated.

    Encodings: UTF-8 with or without mark, UTF-16 with mark, else Latin-1. Separators: comma, semicolon or tab,
    whichever the header row has most of. Column names are taken without blanks around them, in small letters.
    Rows without any text are left out.
    """

    def __init__(self, path: Path) -> None:
        """Read the header.

        Raises:
            FaultsError: for a file that cannot be read, is empty, or has a column name twice.
        """
        self.path = path
        try:
            self._encoding = _encoding(path)
        except OSError as error:
            reason = (error.strerror or "unreadable").lower()
            raise FaultsError([Fault(str(path), "", reason, "a readable CSV file")]) from None
        self._separator = self._found_separator()
        header = next(self._records(), None)
        if header is None:
            raise FaultsError([Fault(str(path), "", "an empty file", "a table with a header row")])
        self.columns = _columns(str(path), header[1])

    @property
    def file(self) -> str:
        """The file's name in messages."""
        return str(self.path)

    def __iter__(self) -> Iterator[Row]:
        """The rows below the header."""
        records = self._records()
        next(records)
        for line, cells in records:
            named = dict(zip(self.columns, cells, strict=False))
            yield Row(line, named, tuple(cells[len(self.columns) :]))

    def _found_separator(self) -> str:
        with self.path.open(encoding=self._encoding, errors="replace", newline="") as file:
            header = next((line for line in file if line.strip()), "")
        return max(",;\t", key=header.count)

    def _records(self) -> Iterator[tuple[int, list[str]]]:
        """The rows with any text, each with the line on which it begins."""
        with self.path.open(encoding=self._encoding, errors="replace", newline="") as file:
            reader = csv.reader((line.replace("\0", "") for line in file), delimiter=self._separator)
            begins = 1
            for cells in reader:
                line, begins = begins, reader.line_num + 1
                if any(cell.strip() for cell in cells):
                    yield line, cells


def _encoding(path: Path) -> str:
    """The encoding of a file, by its mark, else UTF-8 where all of it is valid, else Latin-1."""
    decoder = codecs.getincrementaldecoder("utf-8")()
    with path.open("rb") as file:
        chunk = file.read(_CHUNK)
        for mark, encoding in _MARKS:
            if chunk.startswith(mark):
                return encoding
        try:
            while chunk:
                decoder.decode(chunk)
                chunk = file.read(_CHUNK)
            decoder.decode(b"", final=True)
        except UnicodeDecodeError:
            return "latin-1"
    return "utf-8"


def _columns(file: str, cells: list[str]) -> tuple[str, ...]:
    names = tuple(cell.strip().lower() for cell in cells)
    twice = sorted({name for name in names if name and names.count(name) > 1})
    if twice:
        raise FaultsError([Fault(file, name, "a column twice", "each column name once") for name in twice])
    return names
