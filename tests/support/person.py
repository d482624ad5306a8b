"""Where the program reads a cell otherwise than a careful person does: all such cells at once, by family.

python tests/support/person.py          a summary, three examples of each kind
python tests/support/person.py --all    every cell
"""

from __future__ import annotations

import sys
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.support.person_cells import Cell, fault_of
from tests.support.person_parts import drawn_cells
from tests.support.person_table import FAMILIES

__all__ = ["COMPOSED", "SEEDED", "Disagreement", "compared", "rows"]

SEEDED = 4000
"""Composed cells that are drawn: each part comes up ten times or more, and it takes two seconds."""

COMPOSED = "composed"
"""The family of those cells."""

_SEED = 395

_EXAMPLES = 3


@dataclass(frozen=True)
class Disagreement:
    """A cell that the program reads otherwise; `kind` is a word of `person_cells.fault_of`, `read` what it read."""

    family: str
    cell: Cell
    kind: str
    read: str

    def __str__(self) -> str:
        return f"{self.cell.text!r}: {self.kind}; a person takes {self.cell.wanted}, the program {self.read}"


def rows() -> Iterator[tuple[str, Cell]]:
    """The fixed cells, each once, with their family, and behind them those that are drawn."""
    seen = set()
    for family in FAMILIES:
        for cell in family.all_cells:
            if (cell.text, cell.asked) not in seen:
                seen.add((cell.text, cell.asked))
                yield family.name, cell
    for cell in drawn_cells(_SEED, SEEDED):
        if (cell.text, cell.asked) not in seen:
            seen.add((cell.text, cell.asked))
            yield COMPOSED, cell


def compared(family: str, cell: Cell) -> Disagreement | None:
    """What the program reads otherwise than a person, None where they agree or the difference is tolerated."""
    fault = fault_of(cell)
    return Disagreement(family, cell, *fault) if fault else None


def _summary(found: Iterable[tuple[str, Disagreement | None]], limit: int | None) -> Iterator[str]:
    counts: dict[str, int] = defaultdict(int)
    kinds: dict[str, dict[str, list[Disagreement]]] = defaultdict(lambda: defaultdict(list))
    for family, fault in found:
        counts[family] += 1
        if fault is not None:
            kinds[family][fault.kind].append(fault)
    for family, count in counts.items():
        wrong = sum(len(faults) for faults in kinds[family].values())
        yield f"{family}: {wrong} of {count}"
        for kind, faults in sorted(kinds[family].items()):
            yield f"  {kind}: {len(faults)}"
            yield from (f"    {fault}" for fault in faults[:limit])
    total = sum(len(faults) for by_kind in kinds.values() for faults in by_kind.values())
    yield f"all: {total} of {sum(counts.values())}"


if __name__ == "__main__":
    limit = None if "--all" in sys.argv[1:] else _EXAMPLES
    for line in _summary(((family, compared(family, cell)) for family, cell in rows()), limit):
        sys.stdout.write(line + "\n")
