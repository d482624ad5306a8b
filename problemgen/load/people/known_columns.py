"""What the columns of a table are: by what was told of them, by our own names, and else by their usual headings.

Where two columns may be one of ours, neither is taken for it. That a column holds ids of the class decides between two
that are both headed like ids.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

from problemgen.load.fault_log import FaultLog
from problemgen.load.people.headings import Headings, meaning_of, recognised
from problemgen.load.tables.table import Table, columns_told

__all__ = ["KnownColumns", "known_columns"]

ID = "id"

_LOOKED_AT = 200
"""Rows in which ids of the class are looked for: of a table of the class hardly a row has another one."""

_TOLD = 6
"""Headings that a note lists: the parts of a set go on alike."""

_LIKE_ID = re.compile(r"\b(?:id|identifier|number|no|nr|nummer|kennung|matri\w*|registration|username|user|login)\b")
"""Words in the names of columns that may hold students' ids: "Number", "Id of the team"."""


@dataclass(frozen=True)
class KnownColumns:
    """A table with our names for its columns.

    `names` are those that were found out by headings, ours by theirs. `doubts` has for one of ours the columns that may
    be it. `holding` are the columns in which ids of the class stand.
    """

    table: Table
    names: Mapping[str, str]
    doubts: Mapping[str, tuple[str, ...]]
    holding: tuple[str, ...] = ()

    @property
    def has_ids(self) -> bool:
        """Whether a column holds the ids."""
        return ID in self.table.columns

    @property
    def told(self) -> str:
        """What was found out by headings, as a note says it; "" for nothing."""
        listed = [f"{theirs!r} as {ours}" for theirs, ours in self.names.items()]
        more = f", … and {len(listed) - _TOLD} more" if len(listed) > _TOLD else ""
        told = f"line {self.table.header_line}: read by their headings: {', '.join(listed[:_TOLD])}{more}"
        return told if listed else ""

    def fault_ids(self, faults: FaultLog, otherwise: str) -> None:
        """Keep the fault that it cannot be told which column holds the ids; `otherwise` is what else may be done."""
        found, columns = columns_told(self.table.columns), self.doubts.get(ID, ())
        if columns:
            faults.add(
                "", f"{found}, of which {_both(columns)} may be the ids", "one column 'id'", _hint(ID, columns[0])
            )
            return
        like = self.holding or tuple(one for one in self.table.columns if _LIKE_ID.search(one))
        which = f"If {' or '.join(map(repr, like[:3]))} has the ids, {_hint(ID, like[0], first='n')}" if like else ""
        if self.holding:
            which = f"Ids of the class stand in {_both(self.holding)}. {_hint(ID, self.holding[0])}"
        faults.add("", found, "a column 'id'", which or otherwise)

    def fault_parts(self, faults: FaultLog, parts: Collection[str]) -> None:
        """Keep the faults that it cannot be told which column is a part."""
        for part in parts:
            if part in self.doubts:
                columns = self.doubts[part]
                may = "both be it" if len(columns) > 1 else "be it, or something else"
                found = f"{_both(columns)} for {part}, which may {may}"
                faults.add("", found, f"one column for {part}", _hint(part, columns[0]))

    def notes(self, names: Collection[str]) -> Iterator[str]:
        """What was found out, and of some of ours which columns were not taken for them, as both may be."""
        yield from filter(None, [self.told])
        for ours in names:
            if ours in self.doubts:
                columns = _both(self.doubts[ours])
                yield f"line {self.table.header_line}: {columns} may both be the {ours}; none is read as it"


def _both(columns: Sequence[str]) -> str:
    *some, last = map(repr, columns)
    return f"{', '.join(some)} and {last}" if some else last


def _hint(ours: str, theirs: str, first: str = "N") -> str:
    return f'{first}ame it in --columns: a CSV file with the lines "ours,theirs" and "{ours},{theirs}".'


def known_columns(
    path: Path,
    names: Mapping[str, str] | None = None,
    parts: Collection[str] = (),
    ids: Collection[str] = (),
    *,
    needs_all: bool = True,
) -> KnownColumns:
    """Read the header of a table; `names` are told, and as `Table` takes them. `ids` are those of the class.

    Raises:
        FaultsError: as `Table` does.
    """
    table = Table(path, ID, names, needs_all=needs_all, usual=Headings(parts))
    settled = {one for theirs, one in (names or {}).items() if theirs in table.found}
    among = (
        [one for one in table.columns if meaning_of(one) == ID and one not in settled] if ID not in settled else [ID]
    )
    holding = _holding(table, ids) if len(among) != 1 else ()
    chosen = _chosen(among, holding)
    found = recognised(table.columns, parts, {*settled, ID})
    clear = {chosen[0]: ID} if len(chosen) == 1 and chosen[0] != ID else {}
    doubts = {ID: tuple(chosen)} if len(chosen) > 1 else {}
    read = {**clear, **found.names}
    table.call(read)
    return KnownColumns(table, read, {**doubts, **found.doubts}, holding)


def _chosen(among: Sequence[str], holding: Collection[str]) -> Sequence[str]:
    """Of columns that are headed like ids those that may be them: where ids of the class stand, and else all.

    The one that is called "id" goes over the others.
    """
    fitting = [one for one in among if one in holding] or among
    return [ID] if ID in fitting else fitting


def _holding(table: Table, ids: Collection[str]) -> tuple[str, ...]:
    """The columns of which half the cells that are filled in are ids of the class: one answer may look like one."""
    known = {one.casefold() for one in ids}
    filled, found = Counter[str](), Counter[str]()
    for row in islice(table, _LOOKED_AT):
        cells = {column: cell.strip().casefold() for column, cell in row.cells.items() if column and cell.strip()}
        filled.update(cells.keys())
        found.update(column for column, cell in cells.items() if cell in known)
    return tuple(column for column in table.columns if found[column] and 2 * found[column] >= filled[column])
