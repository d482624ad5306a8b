"""Reading what cells mean: a table with the columns written, means, and perhaps part."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from problemgen.load.fault_log import FaultLog, nearest
from problemgen.load.tables.table import Table, columns_told, sure_rows
from problemgen.model.means import Means, cell_key

__all__ = ["MEANS_FILE", "load_means"]

MEANS_FILE = "means.csv"

_COLUMNS = ("written", "means")


def load_means(path: Path, columns: Iterable[str]) -> Means:
    """What a file says that cells mean; `columns` are those of the responses.

    A row without a meaning is one that nobody has filled in yet. Columns beside written, means and part are left alone.

    Raises:
        FaultsError: all faults at once, each with its line: a missing column, a meaning of nothing, a part that is not
            in the set, two meanings of one cell.
    """
    table = Table(path, "written")
    faults = FaultLog(table.file)
    lacking = [name for name in _COLUMNS if name not in table.columns]
    if lacking:
        found = columns_told(table.columns)
        hint = 'For example "written,means", then "styrol,styrene".'
        faults.refuse(f"line {table.header_line}", found, "the columns written, means, and perhaps part", hint)
    known = tuple(columns)
    lines: dict[tuple[str, str], tuple[int, str]] = {}
    for row in sure_rows(table, faults):
        key, means = cell_key(row.cells.get("written", "")), row.cells.get("means", "").strip()
        part, line = row.cells.get("part", "").strip().lower(), f"line {row.line}"
        if not means:
            continue
        if not key:
            faults.add(line, f"no cell that means {means[:40]!r}", "what was written")
        if part and part not in known:
            shown = ", ".join(known[:8]) + (", …" if len(known) > 8 else "")
            faults.add(line, f"the part {part!r}", f"one of {shown}, or nothing for all", nearest(part, known))
        first, before = lines.setdefault((part, key), (row.line, means))
        if before != means:
            faults.add(line, f"another meaning of {key[:40]!r} than on line {first}", "one meaning for a cell")
    faults.stop()
    return Means(
        anywhere={key: means for (part, key), (_, means) in lines.items() if not part},
        by_part={(part, key): means for (part, key), (_, means) in lines.items() if part},
    )
