"""Which code stands for which student, in a marking without names."""

from __future__ import annotations

from problemgen.model.answers import StudentKey
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.outlets.marking.outlet import MarkingOutlet
from problemgen.write.files import Staging
from problemgen.write.spreadsheet import CsvLines

__all__ = ["CODES_FILE", "CodesTable"]

CODES_FILE = "codes.csv"
_COLUMNS = ("code", "id", "name", "section")


class CodesTable(MarkingOutlet):
    """codes.csv: the one file of a marking without names that tells them; not to be shared.

    It takes the keys as they are in answers.json, before names are replaced.
    """

    files = (CODES_FILE,)
    caution = "tells the names, do not share it"

    def __init__(self, staging: Staging) -> None:
        """Start the file."""
        self._staging = staging
        self._rows: set[tuple[str, ...]] = set()

    def take(self, key: StudentKey, _result: StudentResult) -> None:
        """Keep one student's row, once for all attempts."""
        self._rows.add((key.code, key.student, key.name, key.section))

    def close(self) -> None:
        """Write the file, in the order of the codes, which tells nothing."""
        lines = CsvLines()
        content = b"".join(lines.line(row) for row in (_COLUMNS, *sorted(self._rows)))
        self._staging.write(CODES_FILE, content, private=True)
