"""The students' own data as they were read, with what wants a second look: for the instructor alone."""

from __future__ import annotations

from problemgen.model.answers import StudentKey
from problemgen.model.verdict import StudentResult
from problemgen.render.own_data import OWN_DATA_COLUMNS, own_rows
from problemgen.write.files import Staging
from problemgen.write.spreadsheet import CsvLines

__all__ = ["OWN_DATA_FILE", "OwnDataTable"]

OWN_DATA_FILE = "own-data.csv"
_FLAG = OWN_DATA_COLUMNS.index("flag")


class OwnDataTable:
    """own-data.csv: a row for each value and flag; not written for a set without own data."""

    def __init__(self, staging: Staging, *, wanted: bool) -> None:
        """Start the table; `wanted` tells whether the set has own data."""
        self._staging, self._wanted = staging, wanted
        self._rows: list[tuple[str, ...]] = []

    @property
    def flagged(self) -> int:
        """How many rows want a second look."""
        return sum(bool(row[_FLAG]) for row in self._rows)

    def take(self, key: StudentKey, result: StudentResult) -> None:
        """Keep one student's rows."""
        if self._wanted and result.handed_in:
            self._rows.extend(own_rows(key, result))

    def close(self) -> None:
        """Write the file."""
        if self._wanted:
            lines = CsvLines()
            content = b"".join(lines.line(row) for row in (OWN_DATA_COLUMNS, *self._rows))
            self._staging.write(OWN_DATA_FILE, content, private=True)
