"""The gradebook: a row a student, whatever the number of attempts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from problemgen.grade.classes.attempts import AttemptsTally
from problemgen.grade.classes.lowest import lowest_of
from problemgen.model.answers import StudentKey
from problemgen.model.policy import Attempts
from problemgen.model.total import StudentTotal, total_of
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.outlets.marking.outlet import MarkingOutlet

__all__ = ["Gradebook", "TotalsFile"]


class TotalsFile(Protocol):
    """A file with a row a student, and its name."""

    name: str

    def row(self, total: StudentTotal) -> None:
        """Add one student's row."""

    def close(self) -> None:
        """Write what is left."""


class Gradebook(MarkingOutlet):
    """Gives each student's total to some files: at once, or where there are several attempts, when all are there."""

    def __init__(self, attempts: Attempts, drop_lowest: int, files: Sequence[TotalsFile]) -> None:
        """`attempts` tells which of them count, `drop_lowest` how many problems do not.

        By the first file an earlier marking is known.
        """
        self._drop_lowest = drop_lowest
        self._several = attempts.several
        self._tally = AttemptsTally(attempts.counts)
        self._files = files
        self.files = tuple(file.name for file in files)
        self.early = self.files[:1]

    def take(self, key: StudentKey, result: StudentResult) -> None:
        """Take one attempt's result."""
        if self._several:
            self._tally.take(result, key.more)
        else:
            self._row(total_of(result, key.more))

    def close(self) -> None:
        """Write the files."""
        for total in self._tally.totals():
            self._row(total)
        for file in self._files:
            file.close()

    def _row(self, marked: StudentTotal) -> None:
        total = marked.without(lowest_of(marked, self._drop_lowest))
        for file in self._files:
            file.row(total)
