"""The parts that could not be judged: nothing is written, the instructor is told."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.answers import StudentKey
from problemgen.model.policy import Attempts
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.outlets.marking.outlet import MarkingOutlet

__all__ = ["OpenParts", "who"]


class OpenParts(MarkingOutlet):
    """Names student and part; where the instructor has decided, there is nothing to tell."""

    def __init__(self, attempts: Attempts) -> None:
        """Where there are several attempts, each is named with its number."""
        self._attempts = attempts
        self._open: list[str] = []

    def take(self, key: StudentKey, result: StudentResult) -> None:
        """Note the open parts of one attempt."""
        self._open += (f"{who(key, self._attempts)}, {part.label}" for part in result.parts if part.is_open)

    def remarks(self) -> Iterator[str]:
        """Each open part, and what can be done about it."""
        yield from (f"{part}: not judged: look at it" for part in self._open)
        if self._open:
            yield "Such a part earns nothing until you decide: overrides.csv gives it points."


def who(key: StudentKey, attempts: Attempts) -> str:
    """A student's attempt as it is told."""
    return f"{key.student}, attempt {key.attempt}" if attempts.several else key.student
