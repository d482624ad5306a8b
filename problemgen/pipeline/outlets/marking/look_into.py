"""What an instructor may want to look into: answers that are right for another student's numbers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from problemgen.grade.classes.whose_numbers import WhoseNumbers
from problemgen.model.answers import StudentKey, TemplateKey
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.outlets.marking.outlet import MarkingOutlet
from problemgen.render.classes.look_into import LOOK_INTO_COLUMNS, look_into_row
from problemgen.write.files import Staging
from problemgen.write.spreadsheet import CsvLines

__all__ = ["LOOK_INTO_FILE", "LookInto"]

LOOK_INTO_FILE = "look-into.csv"


class LookInto(MarkingOutlet):
    """look-into.csv: for the instructor alone; a header without rows where there is nothing to look into."""

    files = (LOOK_INTO_FILE,)

    def __init__(self, staging: Staging, templates: Mapping[str, TemplateKey]) -> None:
        """`templates` are those of the set, by id."""
        self._staging = staging
        self._numbers = WhoseNumbers(templates)
        self._found = 0

    def take(self, key: StudentKey, result: StudentResult) -> None:
        """Keep one student's numbers, and what they answered."""
        self._numbers.take(key, result)

    def close(self) -> None:
        """Compare the class, and write the file."""
        rows = [look_into_row(found) for found in self._numbers.found()]
        self._found = len(rows)
        lines = CsvLines()
        content = b"".join(lines.line(row) for row in (LOOK_INTO_COLUMNS, *rows))
        self._staging.write(LOOK_INTO_FILE, content, private=True)

    def notes(self) -> Iterator[str]:
        """How many there are to look into."""
        if self._found:
            fit = "answers that are right for another student's numbers"
            yield f"{LOOK_INTO_FILE}: {self._found} to look into, {fit}."
