"""The key for marking by hand, and the worked solutions: for the instructor."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO

from problemgen.pipeline.making import Made
from problemgen.pipeline.outlets.building.outlet import BuildingOutlet, BuildingRun
from problemgen.render.key.marking_key import KeyEntry, marking_key
from problemgen.render.key.variant_key import key_document
from problemgen.render.printers.typst import sheet_data
from problemgen.write.binding.shelf import Place
from problemgen.write.pdf import Job

__all__ = ["Key", "WorkedKey"]

_TOGETHER = 10
"""Students whose tables are laid out as one document, for which Typst takes 50 MB. Tried with 120: 20 take 110 MB, and
print one page less."""


class Key(BuildingOutlet):
    """key.pdf: a table a student, in the order of the roster."""

    private = True

    def __init__(self, run: BuildingRun) -> None:
        """Start without keys."""
        self._run = run
        self._file = f"{run.wanted.file_name('key')}.pdf"
        self._entries: list[KeyEntry] = []
        self._bindery = run.bindery()
        self._keys: list[Place] = []
        self._left = sum(map(run.wanted.holds, run.students)) * len(run.attempts)
        self.files = (self._file,)

    def take(self, made: Made) -> Iterator[Job]:
        """One attempt; some together are printed."""
        if not self._run.wanted.holds(made.student):
            return
        self._left -= 1
        self._entries.append(KeyEntry(made.shown, made.name, made.code, made.variants, made.attempt))
        if len(self._entries) == _TOGETHER or not self._left:
            document = marking_key(self._run.problem_set, self._entries, self._run.wanted.session)
            yield Job(f"key as far as {made.stem}", sheet_data(document))
            self._entries = []

    def printed(self, _name: str, pdf: bytes) -> None:
        """Keep the keys of some."""
        self._keys += self._bindery.take(BytesIO(pdf))

    def close(self) -> None:
        """Bind all keys."""
        with self._run.staging.stream(self._file, private=True) as file:
            self._bindery.bind(self._keys, f"{self._run.problem_set.title}: key", file)


class WorkedKey(BuildingOutlet):
    """worked-key.pdf: answers and worked solution of every variant.

    Where all students have the same sheet, there is one for all, and it is the key.
    """

    private = True

    def __init__(self, run: BuildingRun) -> None:
        """Start without keys."""
        self._run = run
        self._bindery = run.bindery()
        self._keys: list[Place] = []
        self._only = run.students[0].id if run.problem_set.same_for_all else ""
        self._file = f"{run.wanted.file_name('key' if self._only else 'worked-key')}.pdf"
        self.files = (self._file,)

    def take(self, made: Made) -> Iterator[Job]:
        """The key of one attempt."""
        if made.stem == self._only if self._only else self._run.wanted.holds(made.student):
            document = key_document(
                self._run.problem_set,
                made.shown,
                made.name,
                made.code,
                made.variants,
                made.attempt,
                self._run.wanted.session,
            )
            yield Job(f"worked key of {made.stem}", sheet_data(document))

    def printed(self, _name: str, pdf: bytes) -> None:
        """Keep one key."""
        self._keys += self._bindery.take(BytesIO(pdf))

    def close(self) -> None:
        """Bind all keys."""
        title = f"{self._run.problem_set.title}: worked key"
        with self._run.staging.stream(self._file, private=True) as file:
            self._bindery.bind(self._keys, title, file)
