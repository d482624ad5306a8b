"""CSV text in whatever encoding and with whatever separator a program saved it.

A quotation mark that is never closed would swallow the rows below it. So a cell may run over several lines only where
all of it is well-formed and no line inside looks like a row; else its first line is a row of its own, with a remark.
"""

from __future__ import annotations

import codecs
import csv
import re
from collections import deque
from collections.abc import Iterable, Iterator
from itertools import chain, islice
from pathlib import Path

from problemgen.load.record import HEAD_ROWS, Record, header_of

__all__ = ["CsvText", "encoding_of"]

_MARKS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
_CHUNK = 1 << 20  # bytes read at once: a mebibyte, so that memory stays flat
_SEPARATORS = (",", ";", "\t")
_NOTHING = ",;\t \r\n"
"""What a line without any text is made of."""
_SEPARATOR_LINE = re.compile(r'"?sep=(.)"?', re.IGNORECASE)
# A quotation mark that is never closed swallows no more lines than these: no answer is a page long.
_LINES_OF_A_ROW = 200
_TELLING_WIDTH = 4
"""Columns from which on a line with as many separators as the header is taken for a row, also inside of quotes.

An answer of several lines may well hold one comma or two, hardly three.
"""
_ODD_BYTES = "some bytes are not UTF-8; each shows as �"
_OPEN_QUOTE = "a quotation mark is not closed; look at this row"

# The library refuses a cell above 128 KiB, which an open quotation mark can pass: that is cut off by its lines.
csv.field_size_limit(1 << 27)


class CsvText:
    """The rows of a CSV file."""

    def __init__(self, path: Path, wanted: frozenset[str] = frozenset()) -> None:
        """Find the encoding and the separator; `wanted` are column names that tell the header row.

        Raises:
            OSError: for a file that cannot be read.
        """
        self._path = path
        self._encoding, self.notes = encoding_of(path)
        self._width = 0
        self._separator = self._announced()
        self._skipped = int(bool(self._separator))
        if not self._separator:
            self._separator = max(_SEPARATORS, key=lambda one: self._fit(one, wanted))
        self._width = self._fit(self._separator, wanted)[1]

    def records(self) -> Iterator[Record]:
        """The rows with any text."""
        return self._records(self._separator)

    def _announced(self) -> str:
        """The separator that the first line tells ("sep=;"), as some spreadsheets write it; "" for none."""
        with self._path.open(encoding=self._encoding, errors="replace", newline="") as file:
            found = _SEPARATOR_LINE.fullmatch(file.readline(20).rstrip("\r\n"))
        return found[1] if found else ""

    def _fit(self, separator: str, wanted: frozenset[str]) -> tuple[bool, int]:
        """How well a separator fits: whether a header with a wanted name is found, and how many cells it has."""
        header = header_of(list(islice(self._records(separator), HEAD_ROWS)), wanted)
        if header is None:
            return False, 0
        return header.has_name(wanted), len(header.cells)

    def _records(self, separator: str) -> Iterator[Record]:
        with self._path.open(encoding=self._encoding, errors="replace", newline="") as file:
            lines = _Lines(line.replace("\0", "") for line in file)
            for _ in range(self._skipped):
                lines.take()
            while (line := lines.take()) is not None:
                number = lines.number
                if not line.strip(_NOTHING):
                    continue
                cells, remark = _row(line, lines, separator, self._width)
                record = Record(number, cells, remark=remark)
                if record.has_text:
                    yield record


class _Lines:
    """The lines of a file, some of which may be given back; `number` is that of the line taken last."""

    def __init__(self, lines: Iterable[str]) -> None:
        self._lines = iter(lines)
        self._waiting: deque[str] = deque()
        self.number = 0

    def take(self) -> str | None:
        line = self._waiting.popleft() if self._waiting else next(self._lines, None)
        self.number += line is not None
        return line

    def give_back(self, lines: list[str]) -> None:
        self._waiting.extendleft(reversed(lines))
        self.number -= len(lines)


def _row(line: str, lines: _Lines, separator: str, width: int) -> tuple[list[str], str]:
    """The cells of the row that begins with a line, and what is wrong with it."""
    if '"' not in line:
        return line.rstrip("\r\n").split(separator), ""
    more: list[str] = []

    def of_row() -> Iterator[str]:
        yield line
        while len(more) < _LINES_OF_A_ROW and (following := lines.take()) is not None:
            more.append(following)
            yield following

    try:
        cells = next(csv.reader(of_row(), delimiter=separator, strict=True))
    except csv.Error:
        cells = []
    if cells and not (more and _holds_rows(more, separator, width)):
        return cells, ""
    lines.give_back(more)
    return _loosely(line, separator)


def _holds_rows(lines: list[str], separator: str, width: int) -> bool:
    """Whether a line inside a cell, or the one on which it ends, has the separators of a whole row."""
    return width >= _TELLING_WIDTH and any(line.count(separator) >= width - 1 for line in lines)


def _loosely(line: str, separator: str) -> tuple[list[str], str]:
    """The cells of one line with stray quotation marks, and a remark where one is not closed."""
    if not line.count('"') % 2:
        try:
            return next(csv.reader([line], delimiter=separator)), ""
        except csv.Error:
            pass
    return line.rstrip("\r\n").split(separator), _OPEN_QUOTE


def encoding_of(path: Path) -> tuple[str, tuple[str, ...]]:
    """The encoding of a text file, and what is to be said about it.

    By its mark; else UTF-16 where every other byte is zero; UTF-8 where all of it is valid, or the odd bytes are
    fewer than the characters beyond ASCII; else Windows-1252, which is Latin-1 for every character that prints.

    Raises:
        OSError: for a file that cannot be read.
    """
    with path.open("rb") as file:
        chunk = file.read(_CHUNK)
        for mark, encoding in _MARKS:
            if chunk.startswith(mark):
                return encoding, ()
        unmarked = _unmarked(chunk)
        if unmarked:
            return unmarked, ()
        odd, well = _odd_bytes(chain((chunk,), iter(lambda: file.read(_CHUNK), b"")))
    if odd and odd >= well:
        return "cp1252", ()
    return "utf-8", (_ODD_BYTES,) * bool(odd)


def _unmarked(chunk: bytes) -> str:
    """UTF-16 without a mark, told by its zeros; "" for anything else.

    Most letters of a table are Latin: more than half of the pairs have a zero on one side, fewer than one in twenty on
    the other.
    """
    pairs = len(chunk) // 2
    first, second = chunk[::2].count(0), chunk[1::2].count(0)
    if pairs and 2 * second > pairs and 20 * first < pairs:
        return "utf-16-le"
    return "utf-16-be" if pairs and 2 * first > pairs and 20 * second < pairs else ""


def _odd_bytes(chunks: Iterable[bytes]) -> tuple[int, int]:
    """How many replacements UTF-8 needs, and how many characters beyond ASCII it reads well."""
    decoder = codecs.getincrementaldecoder("utf-8")("replace")
    odd = well = 0
    for chunk in chain(chunks, (b"",)):
        text = decoder.decode(chunk, final=not chunk)
        replaced = text.count("\ufffd")
        odd, well = odd + replaced, well + len(text) - len(text.encode("ascii", "ignore")) - replaced
    return odd, well
