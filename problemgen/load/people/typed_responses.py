"""A table of responses in which answers have been typed: what it lacks of a blank one is added, nothing is changed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import islice
from pathlib import Path

from problemgen.errors import FaultsError
from problemgen.load.tables.csv_text import CsvText
from problemgen.load.tables.record import HEAD_ROWS, Record, header_of, named_like

__all__ = ["Typed", "typed_responses", "typed_rows"]

_ID = "id"
_WHICH = "attempt"


class Typed:
    """A table of responses that holds answers.

    `rows` is the whole table with what it lacked, its header first; `is_changed` tells whether anything was added.
    """

    def __init__(self, above: Sequence[Record], header: Record, below: Sequence[Record]) -> None:
        """Keep the rows as they stand in the file."""
        self._names = [named_like(cell) for cell in header.cells]
        self._before = len(above) + 1
        self.rows: list[list[str]] = [list(one.cells) for one in (*above, header, *below)]
        self.is_changed = False

    def complete(self, blank: Sequence[Sequence[str]]) -> None:
        """Add the columns and the rows of a blank table, header first, that are not there."""
        wanted = [named_like(cell) for cell in blank[0]]
        missing = [place for place, name in enumerate(wanted) if name not in self._names]
        if missing:
            width = max(len(row) for row in self.rows)
            for row in self.rows[self._before - 1 :]:
                row.extend("" for _ in range(width - len(row) + len(missing)))
            self.rows[self._before - 1][width:] = [blank[0][place] for place in missing]
            self._names = [named_like(cell) for cell in self.rows[self._before - 1]]
        there = {self._whose(row, self._names) for row in self.rows[self._before :]}
        added = [row for row in blank[1:] if self._whose(row, wanted) not in there]
        places = {name: place for place, name in enumerate(wanted)}
        self.rows += [[row[places[name]] if name in places else "" for name in self._names] for row in added]
        self.is_changed = bool(missing or added)

    def row_cells(self) -> Iterator[tuple[int, Mapping[str, str]]]:
        """The rows below the header: the place of each in `rows`, and its cells by column."""
        for place, row in enumerate(self.rows[self._before :], self._before):
            yield place, dict(zip(self._names, row, strict=False))

    def put(self, place: int | None, cells: Mapping[str, str]) -> None:
        """Put cells, by column, into the row at a place in `rows`; None for a new row. The columns are there."""
        if place is None:
            self.rows.append([])
            place = len(self.rows) - 1
        row = self.rows[place]
        row.extend("" for _ in range(len(self._names) - len(row)))
        for column, cell in cells.items():
            row[self._names.index(column)] = cell
        self.is_changed = True

    def drop(self, place: int) -> None:
        """Take out the row at a place in `rows`."""
        del self.rows[place]
        self.is_changed = True

    @staticmethod
    def _whose(row: Sequence[str], names: Sequence[str]) -> tuple[str, str]:
        """The student and the attempt of a row; a row that tells no attempt is of the first."""
        cells = dict(zip(names, row, strict=False))
        return cells.get(_ID, "").strip().casefold(), cells.get(_WHICH, "").strip() or "1"


def typed_responses(path: Path, about: Sequence[str]) -> Typed | None:
    """The table of responses in a CSV file; None where nothing is typed beside the columns `about` the student.

    Raises:
        ValueError: for a file that is no table with a column "id", or that cannot be read without doubt: written
            again, it would not hold what it holds now.
        OSError: for a file that cannot be read.
    """
    records = _records(path)
    header = _header(records)
    if header is None:
        return None
    names, below = [named_like(cell) for cell in header.cells], records[records.index(header) + 1 :]
    typed = (
        cell.strip()
        for record in below
        for column, cell in enumerate(record.cells)
        if column >= len(names) or names[column] not in about
    )
    return _without_doubt(records, header) if any(typed) else None


def typed_rows(path: Path) -> Typed | None:
    """The table of responses in a CSV file, whatever is typed in it; None for an empty file, and for none.

    Raises what `typed_responses` does.
    """
    records = _records(path) if path.is_file() else []
    header = _header(records)
    if header is None:
        return None
    names = [named_like(cell) for cell in header.cells]
    twice = sorted({name for name in names if name and names.count(name) > 1})
    if twice:
        raise ValueError(f"a table with the column {twice[0]!r} twice")
    return _without_doubt(records, header)


def _records(path: Path) -> list[Record]:
    try:
        return list(CsvText(path, frozenset({_ID})).records())
    except FaultsError as error:
        raise ValueError(f"not read ({error.faults[0].found})") from None


def _header(records: Sequence[Record]) -> Record | None:
    header = header_of(list(islice(records, HEAD_ROWS)), frozenset({_ID}))
    if header is not None and not header.has_name(frozenset({_ID})):
        raise ValueError("no table with a column 'id'")
    return header


def _without_doubt(records: Sequence[Record], header: Record) -> Typed:
    doubts = [f"line {one.line}: {one.remark}" for one in records if one.remark]
    if doubts:
        raise ValueError(f"not read without doubt ({doubts[0]})")
    place = records.index(header)
    return Typed(records[:place], header, records[place + 1 :])
