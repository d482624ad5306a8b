"""A workbook that came back: what is in the cells for answers, and whether the rest is as it was handed out.

What it says of itself is looked for in the bytes of its properties: no XML of them is parsed.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator, Sequence
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

from problemgen.load.tables.record import Record
from problemgen.load.tables.workbook_sheet import WorkbookSheet
from problemgen.model.handed_out import digest_of, read_stamp, stamps_in
from problemgen.model.returned import Filled

__all__ = ["contents_of", "read_workbook"]

_PROPERTIES = "docProps/"
_LARGEST, _MOST_PARTS = 1 << 20, 8  # bytes of a part of what a workbook says of itself; it has three
_CHANGED = re.compile(r"<dcterms:modified[^>]{0,200}>([0-9T:Z.+-]{10,35})<")
_OURS = 1980
"""The year of a workbook that nobody has saved: it does not tell when it was made."""
_NAME, _PLACE, _WIDTH = 0, 2, 5
"""Of a row the column of the blank's name, that of the answer, and how many columns there are."""
_MOST_REMARKS = 10


def read_workbook(path: Path) -> Filled:
    """What is in a workbook that came back.

    Raises:
        FaultsError: for a file that is no workbook, is damaged, protected by a password, or too large.
    """
    told = _properties(path)
    stamps = frozenset(stamps_in(told))
    codes = [stamp.code for one in stamps if (stamp := read_stamp(one)) is not None]
    records = list(WorkbookSheet(path, codes[0] if codes else "").records())
    cells: dict[str, str] = {}
    remarks: list[str] = []
    for name, answer, note in _answers(records):
        if cells.get(name) and answer and cells[name] != answer:
            remarks.append(f"{name} is filled in twice; look at it")
        cells[name] = cells.get(name) or answer
        if note:
            remarks.append(f"{name}: {note}")
    return Filled(stamps, contents_of(records), cells, _when(told), tuple(remarks[:_MOST_REMARKS]))


def contents_of(records: Sequence[Record]) -> str:
    """The digest of all that is not to be filled in."""
    return digest_of("\x1f".join(_printed(record)).encode() for record in records)


def _printed(record: Record) -> list[str]:
    cells = [cell.strip() for cell in record.cells[:_WIDTH]]
    if cells and cells[_NAME]:
        cells[_PLACE : _PLACE + 1] = []
    while cells and not cells[-1]:
        cells.pop()
    return cells


def _answers(records: Sequence[Record]) -> Iterator[tuple[str, str, str]]:
    """Each blank's name, what is in it, and why that may not be what was meant."""
    for record in records:
        name = record.cells[_NAME].strip() if record.cells else ""
        if name:
            answer = record.cells[_PLACE].strip() if len(record.cells) > _PLACE else ""
            yield name, " ".join(answer.split()), record.notes.get(_PLACE, "")


def _properties(path: Path) -> str:
    """What a workbook says of itself, as it stands in its parts; "" for what is no archive."""
    texts: list[str] = []
    try:
        with zipfile.ZipFile(path) as archive:
            for part in [one for one in archive.infolist() if one.filename.startswith(_PROPERTIES)][:_MOST_PARTS]:
                with archive.open(part) as file:
                    texts.append(file.read(_LARGEST).decode("utf-8", "replace"))
    except Exception:  # noqa: BLE001 - a damaged archive makes anything of what unpacks it; the sheet's reader says so
        return ""
    return "\n".join(texts)


def _when(told: str) -> datetime | None:
    found = _CHANGED.search(told)
    with suppress(ValueError):
        when = datetime.fromisoformat(found[1]) if found else None
        if when is not None and when.year > _OURS:
            return (when if when.tzinfo else when.replace(tzinfo=UTC)).astimezone(UTC)
    return None
