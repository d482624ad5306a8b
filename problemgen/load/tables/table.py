"""Reading tables as spreadsheets and forms save them: CSV text or an .xlsx workbook."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import islice
from pathlib import Path

from problemgen.load.fault_log import FaultLog, nearest
from problemgen.load.tables.csv_text import CsvText
from problemgen.load.tables.record import HEAD_ROWS, Record, Source, header_of, named_like
from problemgen.load.tables.workbook_sheet import WorkbookSheet, is_workbook

__all__ = ["LEFT_OUT", "Row", "Table", "columns_told", "sure_rows"]

LEFT_OUT = "leave out"
"""In the place of our name for a column: it is not read."""

_MOST_TOLD = 24
"""Columns that a message lists, three lines of it: more are counted."""


@dataclass(frozen=True)
class Row:
    """One row: the line of the file on which it begins, and its cells by column name; `surplus` has no column.

    `notes` says by column why a cell may not be what was meant ("a date: …"); `remark` what is wrong with the row.
    """

    line: int
    cells: dict[str, str]
    surplus: tuple[str, ...] = ()
    notes: Mapping[str, str] = field(default_factory=dict)
    remark: str = ""


class Table:
    """A table in a CSV file or in the first sheet of a workbook, read row by row as often as it is iterated.

    Encodings: UTF-8 and UTF-16 with or without mark, else Windows-1252 (with it Latin-1). Separators: comma, semicolon
    or tab, as a first line "sep=;" says or the header row has most of. The header is the first row that has the column
    `key`, else the first with a usual heading, or else the first row. Column names are taken in small letters, runs of
    blanks as one. Rows without any text are left out. `notes` tells what may be wrong with the whole file, `titles`
    what stands above the header in rows of one cell, as a form's title does.

    `names` gives our names for theirs (both as `named_like` has them); where several of theirs are one of ours, the
    first that is filled in counts, and one that is LEFT_OUT has no name. A column of theirs that is not named keeps its
    name unless it is one of ours.
    `found` are the names as they stand in the header.
    """

    def __init__(
        self,
        path: Path,
        key: str = "",
        names: Mapping[str, str] | None = None,
        *,
        needs_all: bool = True,
        usual: Container[str] = frozenset(),
    ) -> None:
        """Read the header; with `needs_all`, every column of `names` has to be there. `usual` are usual headings.

        Raises:
            FaultsError: for a file that cannot be read, is empty, has a column name twice, or lacks a column of
                `names`.
        """
        self.path = path
        names = names or {}
        faults = FaultLog(str(path))
        mapped = {theirs for theirs, ours in names.items() if ours == key}
        wanted = frozenset((mapped if needs_all else {*mapped, key}) or {key}) - {""}
        try:
            self._source: Source = WorkbookSheet(path) if is_workbook(path) else CsvText(path, wanted, usual)
        except OSError as error:
            faults.refuse("", (error.strerror or "unreadable").lower(), "a readable CSV file")
        first = list(islice(self._source.records(), HEAD_ROWS))
        header = header_of(first, wanted, usual)
        if header is None:
            faults.refuse("", "an empty file", "a table with a header row")
        self.header_line = header.line
        above = [record for record in first if record.line < header.line]
        told = f"{len(above)} row{'s' * (len(above) > 1)} above the header, which is on line {header.line}: not read"
        told_by_title = bool(above) and all(sum(map(bool, map(str.strip, one.cells))) == 1 for one in above)
        self.titles = (told,) if told_by_title else ()
        odd = (f"line {header.line}: {header.remark}",) if header.remark else ()
        self.notes = (*self._source.notes, *odd, *((told,) if above and not told_by_title else ()))
        self.found = tuple(named_like(cell) for cell in header.cells)
        kept = names if needs_all else {theirs: ours for theirs, ours in names.items() if theirs in self.found}
        self._by_place = _columns(faults, header.line, self.found, kept)

    @property
    def columns(self) -> tuple[str, ...]:
        """The columns' names, ours where they have one, each once."""
        return tuple(dict.fromkeys(self._by_place))

    @property
    def file(self) -> str:
        """The file's name in messages."""
        return str(self.path)

    @property
    def by_heading(self) -> Mapping[str, str]:
        """What each heading that is no blank is called, in their order; of headings that stand twice the first."""
        pairs = zip(reversed(self.found), reversed(self._by_place), strict=True)
        called = {name: ours for name, ours in pairs if name}
        return {name: called[name] for name in self.found if name}

    def call(self, names: Mapping[str, str]) -> None:
        """Have some columns called by our names from now on, by the names that they have until now."""
        self._by_place = _renamed(self._by_place, names)

    def __iter__(self) -> Iterator[Row]:
        """The rows below the header."""
        for record in self._source.records():
            if record.line > self.header_line:
                yield self._row(record)

    def _row(self, record: Record) -> Row:
        cells: dict[str, str] = {}
        notes: dict[str, str] = {}
        for place, (column, cell) in enumerate(zip(self._by_place, record.cells, strict=False)):
            before = cells.get(column, "").strip()
            if not before:
                cells[column] = cell
                if place in record.notes:
                    notes[column] = record.notes[place]
            elif cell.strip() and cell.strip() != before and column:
                notes[column] = f"filled in twice; {before[:40]!r} counts, {cell.strip()[:40]!r} does not"
        return Row(record.line, cells, tuple(record.cells[len(self._by_place) :]), notes, record.remark)


def sure_rows(table: Table, faults: FaultLog) -> Iterator[Row]:
    """The rows of a table that was written for this program: what is read with a doubt is a fault."""
    for row in table:
        if row.remark:
            faults.add(f"line {row.line}", row.remark, "a row that is read without a doubt")
        yield row


def _columns(faults: FaultLog, line: int, found: Sequence[str], names: Mapping[str, str]) -> tuple[str, ...]:
    """Our name for each column, by its place; with a mapping, only twins of names that it uses are faults."""
    for name, ours in names.items():
        if name not in found:
            expected = f"the column that is mapped to {ours!r}"
            faults.add(f"line {line}", f"no column {name!r}", expected, nearest(name, found))
    for name in dict.fromkeys(found):
        if name and found.count(name) > 1 and (not names or names.get(name, LEFT_OUT) != LEFT_OUT):
            faults.add(name, "a column twice", "each column name once")
    faults.stop()
    return _renamed(found, names)


def _renamed(found: Sequence[str], names: Mapping[str, str]) -> tuple[str, ...]:
    mapped = set(names.values())
    told = (names.get(name, f"{name} (not mapped)" if name in mapped else name) for name in found)
    return tuple("" if name == LEFT_OUT else name for name in told)


def columns_told(columns: Sequence[str]) -> str:
    """The columns of a table as a message says what was found; of very many the first, and how many more there are."""
    told = ", ".join(map(repr, columns[:_MOST_TOLD]))
    more = len(columns) - _MOST_TOLD
    return f"the columns {told}" + (f", … and {more} more" if more > 0 else "")
