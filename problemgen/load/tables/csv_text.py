"""CSV text in whatever encoding and with whatever separator a program saved it.

A quotation mark that is never closed would swallow the rows below it. So a cell may run over several lines only where
all of it is well-formed and no line inside looks like a row; else its first line is a row of its own, with a remark.
"""

from __future__ import annotations

import codecs
import csv
import re
from collections import deque
from collections.abc import Container, Iterable, Iterator, Sequence
from itertools import chain, islice
from pathlib import Path
from typing import NoReturn, TextIO

from problemgen.load.fault_log import FaultLog
from problemgen.load.tables.limits import LARGEST_TABLE, LAST_LINE, LONGEST_ROW, within_limits
from problemgen.load.tables.record import HEAD_ROWS, Record, header_of, typed

__all__ = ["CsvText", "encoding_of"]

_MARKS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
_CHUNK = 1 << 20  # bytes read at once: a mebibyte, so that memory stays flat
_SEPARATORS = (",", ";", "\t")
_NOTHING = ",;\t \r\n\0"
"""What a line without any text is made of."""
_SEPARATOR_LINE = re.compile(r'"?sep=(.)"?', re.IGNORECASE)
# A quotation mark that is never closed swallows no more lines than these: no answer is a page long.
_LINES_OF_A_ROW = 200
_TELLING_WIDTH = 4
"""Columns from which on a line with as many separators as the header is taken for a row, also inside of quotes.

An answer of several lines may well hold one comma or two, hardly three.
"""
_OPEN_QUOTE = "a quotation mark is not closed; look at this row"
_MOST_OPEN_QUOTES = 2000
"""Rows with one: each costs the look at many lines, and a file with more is no table with quotation marks."""
_OTHER_BYTES = re.compile("[\udc80-\udcff]+")
"""Bytes that are not UTF-8, as Python's "surrogateescape" keeps them until a line is mended."""
_OTHER_ENCODING = "other bytes than UTF-8, read as Windows-1252; look at this row"

csv.field_size_limit(LONGEST_ROW)


class CsvText:
    """The rows of a CSV file."""

    def __init__(self, path: Path, *wanted: Container[str]) -> None:
        """Find the encoding and the separator; `wanted` are column names that tell the header row, the best first.

        Raises:
            OSError: for a file that cannot be read.
            FaultsError: for a file, a line or a table that is too long.
        """
        self._path = path
        size = path.stat().st_size
        if size > LARGEST_TABLE:
            hint = "Save the table alone, without what else is in the file."
            FaultLog(str(path)).refuse("", f"a file of {size:,} bytes", f"a table of at most {LARGEST_TABLE:,}", hint)
        self._encoding = encoding_of(path)
        self.notes: tuple[str, ...] = ()
        self._width = 0
        self._separator = self._announced()
        self._skipped = int(bool(self._separator))
        if not self._separator:
            self._separator = max(_SEPARATORS, key=lambda one: self._fit(one, wanted))
        self._width = self._fit(self._separator, wanted)[1]

    def records(self) -> Iterator[Record]:
        """The rows with any text."""
        return within_limits(self._path, self._records(self._separator))

    def _announced(self) -> str:
        """The separator that the first line tells ("sep=;"), as some spreadsheets write it; "" for none."""
        with self._opened() as file:
            found = _SEPARATOR_LINE.fullmatch(file.readline(20).lstrip("\ufeff").rstrip("\r\n"))
        return found[1] if found else ""

    def _fit(self, separator: str, wanted: Sequence[Container[str]]) -> tuple[tuple[bool, ...], int]:
        """How well a separator fits: whether a header with a wanted name is found, and how many cells it has."""
        header = header_of(list(islice(self._records(separator), HEAD_ROWS)), *wanted)
        if header is None:
            return (), 0
        return tuple(header.has_name(names) for names in wanted), len(header.cells)

    def _opened(self) -> TextIO:
        errors = "surrogateescape" if self._encoding.startswith("utf-8") else "replace"
        return self._path.open(encoding=self._encoding, errors=errors, newline="")

    def _records(self, separator: str) -> Iterator[Record]:
        open_quotes = 0
        with self._opened() as file:
            lines = _Lines(file, FaultLog(str(self._path)))
            for _ in range(self._skipped):
                lines.take()
            while (line := lines.take()) is not None:
                number = lines.number
                if not line.strip(_NOTHING):
                    continue
                cells, remark = _row(line, lines, separator, self._width)
                open_quotes += remark == _OPEN_QUOTE
                if open_quotes > _MOST_OPEN_QUOTES:
                    lines.refuse(f"more than {_MOST_OPEN_QUOTES:,} rows with an open quotation mark", "a table as CSV")
                record = Record(number, cells, remark="; ".join(filter(None, (remark, *lines.doubts(number)))))
                if record.has_text:
                    yield record


class _Lines:
    """The lines of a file, mended, some of which may be given back; `number` is that of the line taken last."""

    def __init__(self, file: TextIO, faults: FaultLog) -> None:
        self._file, self._faults = file, faults
        self._waiting: deque[str] = deque()
        self._doubts: dict[int, str] = {}
        self._read = self.number = 0

    def take(self) -> str | None:
        """The next line, None behind the last. Raises FaultsError for one that is too long, or one too many."""
        line = self._waiting.popleft() if self._waiting else self._next()
        self.number += line is not None
        return line

    def give_back(self, lines: list[str]) -> None:
        self._waiting.extendleft(reversed(lines))
        self.number -= len(lines)

    def doubts(self, first: int) -> list[str]:
        """What is odd about the lines from one on to the one taken last."""
        found = (self._doubts.pop(number, "") for number in range(first, self.number + 1)) if self._doubts else ()
        return list(dict.fromkeys(filter(None, found)))

    def refuse(self, found: str, expected: str) -> NoReturn:
        """Raise FaultsError for the line taken last."""
        self._faults.refuse(f"line {self.number}", found, expected, "Save it again as CSV, the table alone.")

    def _next(self) -> str | None:
        line = self._file.readline(LONGEST_ROW + 1)
        if not line:
            return None
        self._read += 1
        if len(line) > LONGEST_ROW or self._read > LAST_LINE:
            self.number = self._read
            found = f"more than {LAST_LINE:,} lines" if self._read > LAST_LINE else "a very long line"
            self.refuse(found, f"at most {LAST_LINE:,} lines of {LONGEST_ROW:,} characters")
        if line.isascii() and "\0" not in line:
            return line
        mended, doubt = _mended(line)
        if doubt:
            self._doubts[self._read] = doubt
        return mended


def _mended(line: str) -> tuple[str, str]:
    """A line without what nobody typed, bytes of another encoding read as such; and what is odd about it."""
    text, other = _OTHER_BYTES.subn(lambda found: _windows(found[0]), line)
    text, doubt = typed(text)
    return text, "; ".join(filter(None, (_OTHER_ENCODING * bool(other), doubt)))


def _windows(kept: str) -> str:
    return kept.encode("utf-8", "surrogateescape").decode("cp1252", "replace")


def _row(line: str, lines: _Lines, separator: str, width: int) -> tuple[list[str], str]:
    """The cells of the row that begins with a line, and what is wrong with it."""
    if '"' not in line:
        return line.rstrip("\r\n").split(separator), ""
    more: list[str] = []

    def of_row() -> Iterator[str]:
        yield line
        length = len(line)
        while len(more) < _LINES_OF_A_ROW and (following := lines.take()) is not None:
            more.append(following)
            length += len(following)
            if length > LONGEST_ROW:
                return
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


def encoding_of(path: Path) -> str:
    """The encoding of a text file.

    By its mark; else UTF-16 where every other byte is zero; Windows-1252, which is Latin-1 for every character that
    prints, where some bytes are not UTF-8 and no character beyond ASCII is; else UTF-8.

    Raises:
        OSError: for a file that cannot be read.
    """
    with path.open("rb") as file:
        chunk = file.read(_CHUNK)
        for mark, encoding in _MARKS:
            if chunk.startswith(mark):
                return encoding
        unmarked = _unmarked(chunk)
        if unmarked:
            return unmarked
        odd, well = _odd_bytes(chain((chunk,), iter(lambda: file.read(_CHUNK), b"")))
    return "cp1252" if odd and not well else "utf-8"


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
