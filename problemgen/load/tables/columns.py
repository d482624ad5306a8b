"""Reading a mapping of columns: a small CSV table with our column names and those of a form's export."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from problemgen.load.fault_log import FaultLog, nearest
from problemgen.load.tables.record import named_like
from problemgen.load.tables.table import LEFT_OUT, Table, columns_told, sure_rows
from problemgen.model.cells import unguarded

__all__ = ["COLUMNS_FILE", "ColumnNames", "load_columns"]

COLUMNS_FILE = "columns.csv"
"""The mapping that stands beside answers.json, and holds where no other one is given."""

_OURS, _THEIRS, _FILE = "ours", "theirs", "file"


@dataclass(frozen=True)
class ColumnNames:
    """Our names for columns of theirs: `anywhere`, and `by_file` in the tables of one name, over the others."""

    anywhere: Mapping[str, str] = field(default_factory=dict)
    by_file: Mapping[str, Mapping[str, str]] = field(default_factory=dict)

    def of(self, path: Path) -> Mapping[str, str]:
        """What is told for a table that lies at a path."""
        return {**self.anywhere, **self.by_file.get(path.name, {})}


def load_columns(path: Path, known: Iterable[str]) -> ColumnNames:
    """Our name for each of their columns, from a table with the columns "ours", "theirs" and perhaps "file".

    Several rows with one of ours are several columns of theirs, of which the first that is filled in counts. A row with
    a file is about the table of that name alone. "leave out" in the place of ours: the column
    is not read.

    Raises:
        FaultsError: all faults at once: missing columns or cells, names of ours that are not in `known`, a column of
            theirs that stands twice.
    """
    table = Table(path, _OURS)
    faults = FaultLog(table.file)
    lacking = [name for name in (_OURS, _THEIRS) if name not in table.columns]
    if lacking:
        expected = f"the columns {_OURS!r} and {_THEIRS!r}"
        hint = f'For example "{_OURS},{_THEIRS}", then "id,Student number", then "1a,Question 3".'
        faults.refuse(f"line {table.header_line}", columns_told(table.columns), expected, hint)
    allowed = tuple(known)
    names: dict[str, dict[str, str]] = {}
    for row in sure_rows(table, faults):
        ours, theirs = (named_like(unguarded(row.cells.get(name, ""))) for name in (_OURS, _THEIRS))
        mine = names.setdefault(unguarded(row.cells.get(_FILE, "").strip()), {})
        line = f"line {row.line}"
        if not ours or not theirs:
            faults.add(line, "an empty cell", "one of our columns, and one of theirs")
        elif ours not in (*allowed, LEFT_OUT):
            shown = ", ".join(allowed[:8]) + (", …" if len(allowed) > 8 else "")
            faults.add(line, f"the column {ours!r}", f"one of {shown}", nearest(ours, allowed))
        elif theirs in mine:
            faults.add(line, f"the column {theirs!r} again", "each of their columns once")
        else:
            mine[theirs] = ours
    faults.stop()
    if not names:
        faults.refuse("", "no rows", "a row for each column")
    return ColumnNames(names.pop("", {}), names)
