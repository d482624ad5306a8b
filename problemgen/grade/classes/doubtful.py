"""Cells that could not be read, or were read with a doubt: what was written alike is one, however often it comes."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field

from problemgen.model.answers import StudentKey
from problemgen.model.means import cell_key
from problemgen.model.own_data import OwnReading
from problemgen.model.verdict import OWN_DATA_REASONS, StudentResult

__all__ = ["DoubtfulCell", "DoubtfulCells"]

_NUMBER = re.compile(r"[0-9][0-9.,]*")


@dataclass(frozen=True)
class DoubtfulCell:
    """What was written in some cells alike: in which columns, how often in each, and by whom.

    `read` is what it was read as in each column, "" where it could not be read; `why` says why not, or why it may have
    been meant otherwise. `is_own` is a value that a student has measured: its meaning is said for its column.
    """

    written: str
    why: str
    columns: Mapping[str, int]
    read: Mapping[str, str]
    students: tuple[str, ...]
    is_own: bool = False

    @property
    def key(self) -> str:
        """What it is compared by."""
        return cell_key(self.written)

    @property
    def is_read(self) -> bool:
        """Whether it was read at all."""
        return any(self.read.values())

    @property
    def alike(self) -> str:
        """What is said of cells that are in doubt for the same reason, whatever numbers stand in them."""
        return _NUMBER.sub("#", self.why)

    @property
    def times(self) -> int:
        """How often it comes."""
        return sum(self.columns.values())


@dataclass(frozen=True)
class _Cell:
    """One cell in doubt; `read` is "" where it could not be read."""

    student: str
    column: str
    wrote: str
    why: str
    read: str = ""


@dataclass
class _Kept:
    written: str
    why: str
    columns: Counter[str] = field(default_factory=Counter)
    read: dict[str, str] = field(default_factory=dict)
    students: dict[str, None] = field(default_factory=dict)


class DoubtfulCells:
    """Takes the results of a class, and tells the cells in doubt that nobody has decided about."""

    def __init__(self) -> None:
        """Begin with none."""
        self._kept: dict[tuple[bool, str, str], _Kept] = {}

    def take(self, key: StudentKey, result: StudentResult) -> None:
        """Take one student's: the answers, and what they have measured themselves.

        An answer that waits for a value of the student's own is not in doubt: that value is.
        """
        for problem in key.problems:
            for own in problem.own:
                self._take_own(key.student, own)
        for part in result.parts:
            if part.decision or part.reason in OWN_DATA_REASONS:
                continue
            if part.verdict == "unread":
                self._take(_Cell(result.student, part.label, part.wrote, part.sentence))
            elif part.doubt:
                self._take(_Cell(result.student, part.label, part.wrote, part.doubt, part.read))

    def _take_own(self, student: str, own: OwnReading) -> None:
        column = own.key.column
        if own.datum is None and own.reason:
            self._take(_Cell(student, column, own.wrote, own.reason), column)
        elif own.datum is not None and own.flags:
            read = f"{own.datum.written.text} {own.datum.unit}"
            self._take(_Cell(student, column, own.wrote, own.flags[0].sentence, read), column)

    def _take(self, cell: _Cell, only: str = "") -> None:
        written = " ".join(cell.wrote.split())
        kept = self._kept.setdefault((not cell.read, only, cell_key(written)), _Kept(written, cell.why))
        kept.columns[cell.column] += 1
        kept.read.setdefault(cell.column, cell.read)
        kept.students[cell.student] = None

    @property
    def unread(self) -> tuple[DoubtfulCell, ...]:
        """Those that could not be read, the most frequent first."""
        return self._found(is_unread=True)

    @property
    def doubted(self) -> tuple[DoubtfulCell, ...]:
        """Those that were read, though they may have been meant otherwise, the most frequent first."""
        return self._found(is_unread=False)

    def _found(self, *, is_unread: bool) -> tuple[DoubtfulCell, ...]:
        mine = [(key, only, one) for (state, only, key), one in self._kept.items() if state == is_unread]
        ordered = sorted(mine, key=lambda found: (-found[2].columns.total(), *found[:2]))
        return tuple(
            DoubtfulCell(one.written, one.why, dict(one.columns), dict(one.read), tuple(one.students), bool(only))
            for _key, only, one in ordered
        )
