"""The columns of a table that was dropped, as a page asks about them: "Is this right?"."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice

from problemgen.errors import Fault, FaultsError
from problemgen.language.messages import _
from problemgen.load.tables.table import Table

__all__ = ["ColumnShown", "check_told", "columns_shown"]

_SHOWN = 3  # cells of a column, to know it by
_LOOKED_AT = 200  # rows that cells are taken from: a column may be blank for a while


@dataclass(frozen=True)
class ColumnShown:
    """A column of a table: its name there, what it is taken for, and some of its cells."""

    name: str
    taken_for: str
    cells: Sequence[str]


def columns_shown(table: Table, known: Collection[str]) -> list[ColumnShown]:
    """The columns of a table, each taken for one of ours that are `known`, or for none: ""."""
    rows = list(islice(table, _LOOKED_AT))
    return [
        ColumnShown(theirs, ours if ours in known else "", _some(row.cells.get(ours, "") for row in rows))
        for theirs, ours in table.by_heading.items()
    ]


def _some(cells: Iterable[str]) -> list[str]:
    return list(islice((cell.strip() for cell in cells if cell.strip()), _SHOWN))


def check_told(
    file: str, told: Iterable[tuple[str, str]], called: Mapping[str, str], *, needs_more: bool = False
) -> None:
    """Raise FaultsError where of ours no column is the id, or several are one; `called` says what ours are called.

    With `needs_more`, one has to be none of those that are called something: a part.
    """
    times = Counter(ours for _theirs, ours in told if ours)
    faults = []
    if not times["id"]:
        hint = _("Say which column it is, or drop another table.")
        faults.append(Fault(file, "", _("no column that is the student's id"), _("one column"), hint))
    if needs_more and not set(times) - set(called):
        faults.append(Fault(file, "", _("no column that is a part"), _("one column or several")))
    twice = ", ".join(called.get(one, one) for one, number in times.items() if number > 1)
    if twice:
        faults.append(Fault(file, "", _("several columns taken for {columns}").format(columns=twice), _("each once")))
    if faults:
        raise FaultsError(faults)
