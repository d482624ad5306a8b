"""The answers that could not be read, ready to be filled in with what they mean."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.grade.classes.doubtful import DoubtfulCells
from problemgen.load.people.means import MEANS_FILE
from problemgen.model.answers import StudentKey
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.outlets.marking.outlet import MarkingOutlet
from problemgen.write.files import Staging
from problemgen.write.spreadsheet import CsvLines

__all__ = ["UNREAD_FILE", "UnreadCells"]

UNREAD_FILE = "unread.csv"
_COLUMNS = ("written", "means", "part", "times")


class UnreadCells(MarkingOutlet):
    """unread.csv: a row for each different answer that could not be read, the most frequent first.

    It has the form of means.csv. The part stands there where it is one only.
    """

    files = (UNREAD_FILE,)

    def __init__(self, staging: Staging) -> None:
        """Start the table."""
        self._staging = staging
        self._cells = DoubtfulCells()

    def take(self, key: StudentKey, result: StudentResult) -> None:
        """Count one student's."""
        self._cells.take(key, result)

    def close(self) -> None:
        """Write the file."""
        lines = CsvLines()
        content = b"".join(lines.line(row) for row in (_COLUMNS, *self._rows()))
        self._staging.write(UNREAD_FILE, content, private=True)

    def notes(self) -> Iterator[str]:
        """How many there are, and what can be done about them."""
        found = len(self._cells.unread)
        if found:
            different = f"{found} different" if found > 1 else "1"
            answers = f"{different} answer{'s' if found > 1 else ''} that could not be read"
            yield f"{UNREAD_FILE}: {answers}. Fill in what they mean, and mark again with it as {MEANS_FILE}."

    def _rows(self) -> Iterator[tuple[str, ...]]:
        for one in self._cells.unread:
            yield one.written, "", next(iter(one.columns)) if len(one.columns) == 1 else "", str(one.times)
