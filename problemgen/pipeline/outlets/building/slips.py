"""The slips that are handed in: a file each, and all of an attempt in one for the printer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from problemgen.pipeline.earlier import Entry, file_stem
from problemgen.pipeline.making import Made
from problemgen.pipeline.outlets.building.choice import Choice
from problemgen.pipeline.outlets.building.outlet import BuildingOutlet, BuildingRun
from problemgen.pipeline.outlets.building.sheets import sheet_of
from problemgen.render.printers.typst import sheet_data
from problemgen.render.sheet.slip import slip_document
from problemgen.write.binding.shelf import Place
from problemgen.write.pdf import Job

__all__ = ["Slips"]


class Slips(BuildingOutlet):
    """slips/ID.pdf and slips.pdf; slips/ID-2.pdf and slips-2.pdf for a second attempt.

    Of one session alone, slips-session-2/ID.pdf; of one section, slips-section-B.pdf.
    """

    def __init__(self, run: BuildingRun) -> None:
        """Start without slips."""
        self._run = run
        self._folder = Choice(run.wanted.session).file_name("slips")
        self._binderies = {attempt: run.bindery() for attempt in run.attempts}
        self._slips: dict[int, list[Place]] = {attempt: [] for attempt in run.attempts}
        self._waiting: dict[str, Made] = {}
        self.files = (f"{self._folder}/", *map(self._bound, run.attempts))

    def names(self, entries: Sequence[Entry]) -> list[str]:
        """One for each attempt of a student whose sheets are wanted, and those of the class."""
        mine = [self._file(*entry) for entry in entries if self._run.prints(entry[0])]
        return [*mine, *map(self._bound, sorted({attempt for _, attempt in entries}))]

    def take(self, made: Made) -> Iterator[Job]:
        """The slip of one attempt."""
        run, name = self._run, self._file(made.student.id, made.attempt)
        if run.wanted.holds(made.student):
            self._waiting[name] = made
            yield Job(name, sheet_data(sheet_of(run, made, slip_document)))

    def printed(self, name: str, pdf: bytes) -> None:
        """Write one student's slip."""
        self._run.staging.write(name, pdf)
        made = self._waiting.pop(name)
        bindery = self._binderies[made.attempt]
        self._slips[made.attempt] += bindery.take(self._run.staging.aside(name), whose=self._run.whose(made))

    def close(self) -> None:
        """Bind the slips of each attempt."""
        for attempt, slips in self._slips.items():
            told = self._run.problem_set.attempts.told(attempt)
            title = ", ".join(filter(None, (f"{self._run.problem_set.title}: slips", told)))
            with self._run.staging.stream(self._bound(attempt)) as file:
                self._binderies[attempt].bind(slips, title, file)

    def _file(self, student: str, attempt: int) -> str:
        return f"{self._folder}/{file_stem(student, attempt)}.pdf"

    def _bound(self, attempt: int) -> str:
        return f"{self._run.wanted.file_name(file_stem('slips', attempt))}.pdf"
