"""What an instructor says that cells mean which could not be read, or were read otherwise."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from problemgen.model.cells import without_guards

__all__ = ["Means", "cell_key"]


def cell_key(written: str) -> str:
    """What was written as cells are compared: in small letters, each run of blanks one.

    Apostrophes before a sign are left out: they keep a spreadsheet from taking the cell for a formula.

    >>> cell_key("  Styrol "), cell_key("'=C8H8")
    ('styrol', '=c8h8')
    """
    return " ".join(without_guards(written).split()).casefold()


@dataclass(frozen=True)
class Means:
    """What cells mean, by `cell_key`: `anywhere` for those that cannot be read, `by_part` whatever a cell says.

    `by_part` has the column before the key: ("2e", "styrol").
    """

    anywhere: Mapping[str, str] = field(default_factory=dict)
    by_part: Mapping[tuple[str, str], str] = field(default_factory=dict)

    def in_parts(self, cells: Mapping[str, str]) -> Mapping[str, str]:
        """A student's cells with those that have a meaning in their part."""
        if not self.by_part:
            return cells
        return {column: self.by_part.get((column, cell_key(cell)), cell) for column, cell in cells.items()}

    def of(self, written: str) -> str | None:
        """What a cell that cannot be read means; None where nobody says."""
        return self.anywhere.get(cell_key(written))
