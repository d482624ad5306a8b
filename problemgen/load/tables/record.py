"""One row of a table as it stands in its file, before it has column names."""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Protocol

__all__ = ["HEAD_ROWS", "Record", "Source", "header_of", "named_like", "typed"]

_UNSEEN = re.compile("[\0\ufeff]+")
"""Zero bytes, and marks of an encoding: in the middle of a text they are of a damaged file, or of two files joined."""
_UNSEEN_LEFT_OUT = "zero bytes or marks of the encoding, left out; look at this row"
_UNREADABLE = "bytes that are no text, each shown as \ufffd; look at this row"

HEAD_ROWS = 20
"""The rows with text among which the header is looked for: exports put a title and some lines of notes above it."""


@dataclass(frozen=True)
class Record:
    """The line on which a row begins, and its cells.

    `notes` says by position why a cell may not be what was meant; `remark` what is wrong with the row as such.
    """

    line: int
    cells: Sequence[str]
    notes: Mapping[int, str] = field(default_factory=dict)
    remark: str = ""

    @property
    def has_text(self) -> bool:
        """Whether any cell holds more than blanks."""
        return any(cell.strip() for cell in self.cells)

    def has_name(self, wanted: Container[str]) -> bool:
        """Whether a cell is one of these column names."""
        return any(named_like(cell) in wanted for cell in self.cells)


class Source(Protocol):
    """A file that gives its rows as often as it is asked; `notes` tells what holds for the whole file."""

    notes: tuple[str, ...]

    def records(self) -> Iterable[Record]:
        """The rows that have any text, in order."""


def typed(text: str) -> tuple[str, str]:
    """A text without characters that nobody typed, and what is odd about it; "" for nothing."""
    kept, unseen = _UNSEEN.subn("", text)
    doubts = (_UNSEEN_LEFT_OUT * bool(unseen), _UNREADABLE * ("\ufffd" in kept))
    return kept, "; ".join(filter(None, doubts))


def named_like(cell: str) -> str:
    """A column's name as names are compared: in small letters, each run of blanks one."""
    return " ".join(cell.split()).lower()


def header_of(records: Sequence[Record], *wanted: Container[str]) -> Record | None:
    """The header among the first rows: the first with a name of the first that are wanted, else with one of the next.

    The first row where no row has any; None for no rows.
    """
    found = (record for names in wanted for record in records if record.has_name(names))
    return next(found, records[0] if records else None)
