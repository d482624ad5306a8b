"""The key: every student's answers with the worked solution, for the instructor."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.pipeline.making import Made
from problemgen.pipeline.outlets.building.outlet import BuildingOutlet, BuildingRun
from problemgen.render.key import key_document
from problemgen.render.typst import sheet_data
from problemgen.write.pdf import Job, merge

__all__ = ["Key"]


class Key(BuildingOutlet):
    """key.pdf. Where all students have the same sheet, there is one key."""

    files = ("key.pdf",)
    private = True

    def __init__(self, run: BuildingRun) -> None:
        """Start without keys."""
        self._run = run
        self._keys: list[bytes] = []
        self._only = run.students[0].id if run.problem_set.same_for_all else ""

    def take(self, made: Made) -> Iterator[Job]:
        """The key of one attempt."""
        if made.stem == (self._only or made.stem):
            document = key_document(
                self._run.problem_set, made.student, made.name, made.code, made.variants, made.attempt
            )
            yield Job(f"key of {made.stem}", sheet_data(document))

    def printed(self, _name: str, pdf: bytes) -> None:
        """Keep one key."""
        self._keys.append(pdf)

    def close(self) -> None:
        """Bind all keys."""
        self._run.staging.write("key.pdf", merge(self._keys, f"{self._run.problem_set.title}: key"), private=True)
