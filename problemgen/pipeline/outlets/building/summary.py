"""The summary of a build, for the instructor."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.pipeline.making import Made
from problemgen.pipeline.outlets.building.outlet import BuildingOutlet, BuildingRun
from problemgen.render.key.summary import Spread, summary_document
from problemgen.render.printers.typst import sheet_data
from problemgen.write.pdf import Job

__all__ = ["Summary"]


class Summary(BuildingOutlet):
    """summary.pdf: what was drawn, what the rules turned away, what should be known."""

    files = ("summary.pdf",)
    private = True

    def __init__(self, run: BuildingRun) -> None:
        """Start without answers."""
        self._run, self._spread = run, Spread()

    def take(self, made: Made) -> tuple[()]:
        """Note one attempt's answers; nothing of it is printed by itself."""
        for variant in made.variants:
            self._spread.add(variant)
        return ()

    def last(self) -> Iterator[Job]:
        """The summary."""
        run, making = self._run, self._run.making
        rejections, notes = making.rejections(), making.notes()
        summary = summary_document(run.problem_set, len(run.students), rejections, self._spread, notes)
        yield Job(self.files[0], sheet_data(summary))

    def printed(self, name: str, pdf: bytes) -> None:
        """Write it."""
        self._run.staging.write(name, pdf, private=True)
