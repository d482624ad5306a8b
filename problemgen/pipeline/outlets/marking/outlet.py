"""The shape of what a marking writes, and what all of it is given."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, field

from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.earlier import Entry
from problemgen.write.files import Staging

__all__ = ["FeedbackChoices", "MarkingOutlet", "MarkingRun"]


@dataclass(frozen=True)
class FeedbackChoices:
    """What feedback to write: PDF beside the pages or not; worked solutions or none, whatever the set says.

    With `unguessable`, the files have names that nobody can guess who has not the set's secret.
    """

    pdf: bool = True
    solutions: bool = True
    unguessable: bool = False


@dataclass(frozen=True)
class MarkingRun:
    """One marking: where it writes, and what is common to all students.

    `layouts` are the texts of the layout folder; files that are written piece by piece are closed by `stack`.
    `secret` is the set's, where it is at hand; `came_as` are the names of files that answers were collected from.
    `workers` processes may print at once.
    """

    staging: Staging
    stack: ExitStack
    head: KeyHead
    layouts: Mapping[str, str]
    feedback: FeedbackChoices
    secret: bytes | None = None
    came_as: Mapping[Entry, str] = field(default_factory=dict)
    workers: int = 2


class MarkingOutlet:
    """One thing that a marking writes: it takes every attempt's result once, and closes when all have been taken.

    `files` are its files as the finishing message lists them: a name, or a folder with a slash behind it; `caution` is
    what is told about them there. `early` are those by which an earlier marking is known before any work is done.
    """

    files: tuple[str, ...] = ()
    early: tuple[str, ...] = ()
    caution: str = ""

    def names(self, _entries: Sequence[Entry]) -> Iterable[str]:
        """The names of its files for these students' attempts."""
        return self.files

    def take(self, _key: StudentKey, _result: StudentResult) -> None:
        """Take one attempt's result."""

    def close(self) -> None:
        """Write what needs the whole class."""

    def remarks(self) -> Iterable[str]:
        """What the instructor has to look at, once it is closed."""
        return ()

    def notes(self) -> Iterable[str]:
        """What the instructor may want to know, once it is closed."""
        return ()
