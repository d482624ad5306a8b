"""Cells in doubt as they are shown: alike ones together; and what a meaning would make of them, before it is kept."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from problemgen.grade.classes.doubtful import DoubtfulCell
from problemgen.model.means import cell_key
from problemgen.model.verdict import PartResult
from problemgen.pipeline.overview import Overview

__all__ = ["CellsAlike", "Effect", "alike", "effects"]


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


def effects(now: Overview, then: Overview, written: str) -> Iterator[Effect]:
    """What becomes of the cells with a text that are marked otherwise, or read otherwise, with other meanings."""
    key = cell_key(written)
    for entry, result in now.by_entry.items():
        for before, behind in zip(result.parts, then.by_entry[entry].parts, strict=True):
            if cell_key(before.wrote) == key and (before.read, before.verdict) != (behind.read, behind.verdict):
                yield Effect(entry[0], before, behind)
