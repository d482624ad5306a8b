"""The students' own data as they were read, with what wants a second look: for the instructor alone."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.answers import StudentKey
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.outlets.marking.outlet import MarkingOutlet
from problemgen.render.sheet.own_data import OWN_DATA_COLUMNS, own_rows
from problemgen.write.files import Staging
from problemgen.write.spreadsheet import CsvLines

__all__ = ["OWN_DATA_FILE", "OwnDataTable"]

OWN_DATA_FILE = "own-data.csv"
_FLAG = OWN_DATA_COLUMNS.index("flag")


class OwnDataTable(MarkingOutlet):
    """own-data.csv: a row for each value and flag, of a set with own data."""

    files = (OWN_DATA_FILE,)

    def __init__(self, staging: Staging) -> None:
        """Start the table."""
        self._staging = staging
        self._rows: list[tuple[str, ...]] = []

    def take(self, key: StudentKey, result: StudentResult) -> None:
        """Keep one student's rows."""
        if result.handed_in:
            self._rows.extend(own_rows(key, result))

    def close(self) -> None:
        """Write the file."""
        lines = CsvLines()
        content = b"".join(lines.line(row) for row in (OWN_DATA_COLUMNS, *self._rows))
        self._staging.write(OWN_DATA_FILE, content, private=True)

    def notes(self) -> Iterator[str]:
        """How many rows want a second look."""
        flagged = sum(bool(row[_FLAG]) for row in self._rows)
        if flagged:
            yield f"{OWN_DATA_FILE}: {flagged} to look at, unusual or missing values of the students' own."
