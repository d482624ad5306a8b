"""Reading a mapping of columns: a small CSV table with our column names and those of a form's export."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from pathlib import Path

from problemgen.load.fault_log import FaultLog, nearest
from problemgen.load.tables.record import named_like
from problemgen.load.tables.table import Table, sure_rows

__all__ = ["id_hint", "load_columns"]

_OURS, _THEIRS = "ours", "theirs"

_LIKE_ID = re.compile(r"\b(?:id|identifier|number|no|nr|matric\w*|registration|username|user|login)\b")
"""Words in the names of columns that hold students' ids: "Student ID", "Matriculation no."."""


def load_columns(path: Path, known: Iterable[str]) -> Mapping[str, str]:
    """Our name for each of their columns, from a table with the columns "ours" and "theirs".

    Several rows with one of ours are several columns of theirs, of which the first that is filled in counts.

    Raises:
        FaultsError: all faults at once: missing columns or cells, names of ours that are not in `known`, a column of
            theirs that stands twice.
    """
    table = Table(path, _OURS)
    faults = FaultLog(table.file)
    lacking = [name for name in (_OURS, _THEIRS) if name not in table.columns]
    if lacking:
        found = f"the columns {', '.join(map(repr, table.columns[:8]))}"
        expected = f"the columns {_OURS!r} and {_THEIRS!r}"
        hint = f'For example "{_OURS},{_THEIRS}", then "id,Student number", then "1a,Question 3".'
        faults.refuse(f"line {table.header_line}", found, expected, hint)
    allowed = tuple(known)
    names: dict[str, str] = {}
    for row in sure_rows(table, faults):
        ours, theirs = (named_like(row.cells.get(name, "")) for name in (_OURS, _THEIRS))
        line = f"line {row.line}"
        if not ours or not theirs:
            faults.add(line, "an empty cell", "one of our columns, and one of theirs")
        elif ours not in allowed:
            shown = ", ".join(allowed[:8]) + (", …" if len(allowed) > 8 else "")
            faults.add(line, f"the column {ours!r}", f"one of {shown}", nearest(ours, allowed))
        elif theirs in names:
            faults.add(line, f"the column {theirs!r} again", "each of their columns once")
        else:
            names[theirs] = ours
    faults.stop()
    if not names:
        faults.refuse("", "no rows", "a row for each column")
    return names


def id_hint(found: Iterable[str]) -> str:
    """What to do where no column is called "id": which of those found may hold the ids; "" where none looks like it."""
    like = [column for column in found if _LIKE_ID.search(column)]
    if not like:
        return ""
    told = f'a CSV file with the lines "{_OURS},{_THEIRS}" and "id,{like[0]}"'
    return f"If {' or '.join(map(repr, like[:3]))} has the ids, name it in --columns: {told}."
