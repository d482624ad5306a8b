"""Cells in doubt as they are shown: alike ones together; and what a meaning would make of them, before it is kept."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from problemgen.grade.classes.doubtful import DoubtfulCell
from problemgen.model.means import cell_key
from problemgen.model.verdict import PartResult
from problemgen.pipeline.overview import Overview

__all__ = ["CellsAlike", "Effect", "alike", "effects", "with_mark"]


@dataclass(frozen=True)
class CellsAlike:
    """Cells that are in doubt for the same reason, told by that of the first."""

    cells: Sequence[DoubtfulCell]

    @property
    def times(self) -> int:
        """How many cells of responses these are."""
        return sum(one.times for one in self.cells)

    @property
    def why(self) -> str:
        """Why the first is in doubt."""
        return self.cells[0].why

    @property
    def is_of_marks(self) -> bool:
        """Whether all are numbers with one mark of which nobody knows what it is: "1,234"."""
        return all(_MARK.search(one.written) for one in self.cells)


_MARK = re.compile(r"(?<![0-9.,])([0-9]{1,3})[.,]([0-9]{3})(?![0-9.,])")


def with_mark(written: str, mark: str) -> str:
    """A text in which the mark before three figures is another one, or none.

    >>> with_mark("1,234 mg", "."), with_mark("1,234 mg", "")
    ('1.234 mg', '1234 mg')
    """
    return _MARK.sub(rf"\1{mark}\2", written)


@dataclass(frozen=True)
class Effect:
    """What a meaning makes of a cell: whose, and the part as it is marked now and as it would be."""

    student: str
    before: PartResult
    behind: PartResult


def alike(cells: Sequence[DoubtfulCell]) -> Sequence[CellsAlike]:
    """Cells by their reasons, the most frequent first."""
    found: dict[str, list[DoubtfulCell]] = {}
    for one in cells:
        found.setdefault(one.alike, []).append(one)
    return sorted(map(CellsAlike, found.values()), key=lambda one: (-one.times, one.why))


def effects(now: Overview, then: Overview, written: Collection[str]) -> Sequence[Effect]:
    """What is read or marked otherwise with other meanings of some texts: these first, then what follows from them."""
    keys = set(map(cell_key, written))
    pairs = (
        Effect(entry[0], before, behind)
        for entry, result in now.by_entry.items()
        for before, behind in zip(result.parts, then.by_entry[entry].parts, strict=True)
    )
    changed = (one for one in pairs if _told(one.before) != _told(one.behind))
    return sorted(changed, key=lambda one: cell_key(one.before.wrote) not in keys)


def _told(part: PartResult) -> tuple[object, ...]:
    return part.read, part.verdict, part.points, part.sentence
