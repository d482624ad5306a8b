"""Cells that could not be read, or were read with a doubt: what was written alike is one, however often it comes."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field

from problemgen.model.means import cell_key
from problemgen.model.verdict import PartResult, StudentResult

__all__ = ["DoubtfulCell", "DoubtfulCells"]

_NUMBER = re.compile(r"[0-9][0-9.,]*")


@dataclass(frozen=True)
class DoubtfulCell:
    """What was written in some cells alike: in which columns, how often in each, and by whom.

    `read` is what it was read as in each column, "" where it could not be read; `why` says why not, or why it may have
    been meant otherwise.
    """

    written: str
    why: str
    columns: Mapping[str, int]
    read: Mapping[str, str]
    students: tuple[str, ...]

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
        self._kept: dict[tuple[bool, str], _Kept] = {}

    def take(self, result: StudentResult) -> None:
        """Take one student's."""
        for part in result.parts:
            is_unread = part.verdict == "unread"
            if (is_unread or part.doubt) and not part.decision:
                self._take(result.student, part, is_unread=is_unread)

    def _take(self, student: str, part: PartResult, *, is_unread: bool) -> None:
        written = " ".join(part.wrote.split())
        why = part.sentence if is_unread else part.doubt
        kept = self._kept.setdefault((is_unread, cell_key(written)), _Kept(written, why))
        kept.columns[part.label] += 1
        kept.read.setdefault(part.label, "" if is_unread else part.read)
        kept.students[student] = None

    @property
    def unread(self) -> tuple[DoubtfulCell, ...]:
        """Those that could not be read, the most frequent first."""
        return self._found(is_unread=True)

    @property
    def doubted(self) -> tuple[DoubtfulCell, ...]:
        """Those that were read, though they may have been meant otherwise, the most frequent first."""
        return self._found(is_unread=False)

    def _found(self, *, is_unread: bool) -> tuple[DoubtfulCell, ...]:
        mine = [(key, one) for (state, key), one in self._kept.items() if state == is_unread]
        ordered = sorted(mine, key=lambda pair: (-pair[1].columns.total(), pair[0]))
        return tuple(
            DoubtfulCell(one.written, one.why, dict(one.columns), dict(one.read), tuple(one.students))
            for _, one in ordered
        )
