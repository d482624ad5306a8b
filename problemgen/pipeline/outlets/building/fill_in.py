"""The sheets with fields, to be filled in on a screen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from problemgen.language.messages import speaking
from problemgen.make.draws import fingerprint
from problemgen.model.handed_out import Field, Kind, Stamp
from problemgen.pipeline.earlier import Entry, file_stem
from problemgen.pipeline.making import Made
from problemgen.pipeline.outlets.building.choice import Choice
from problemgen.pipeline.outlets.building.outlet import BuildingOutlet, BuildingRun
from problemgen.pipeline.outlets.building.sheets import sheet_of
from problemgen.render.printers.typst import sheet_data
from problemgen.render.sheet.fields import fields_of
from problemgen.write.fillable import fillable
from problemgen.write.pdf import Job

__all__ = ["FillIn", "stamp_of"]


def stamp_of(run: BuildingRun, kind: Kind, code: str, contents: str) -> str:
    """The stamp of what is handed out, by the code of its sheet and the digest of what it prints."""
    secret = run.making.secret
    return str(Stamp(kind, run.problem_set.id, fingerprint(secret), code, contents).sealed(secret))


class FillIn(BuildingOutlet):
    """fill-in/ID.pdf, and fill-in/ID-2.pdf for a second attempt; of one session alone fill-in-session-2/ID.pdf.

    It is the printed sheet with a field at every blank.
    """

    def __init__(self, run: BuildingRun) -> None:
        """Start without sheets."""
        self._run = run
        self._folder = Choice(run.wanted.session).file_name("fill-in")
        self._waiting: dict[str, tuple[Made, tuple[Field, ...]]] = {}
        self.files = (f"{self._folder}/",)

    def names(self, entries: Sequence[Entry]) -> list[str]:
        """One for each attempt of a student whose sheets are wanted."""
        return [self._file(*entry) for entry in entries if self._run.prints(entry[0])]

    def take(self, made: Made) -> Iterator[Job]:
        """The sheets of one attempt."""
        if self._run.wanted.holds(made.student):
            name, document = self._file(made.student.id, made.attempt), sheet_of(self._run, made)
            with speaking(document.language):
                self._waiting[name] = made, fields_of(document)
            yield Job(name, sheet_data(replace(document, on_screen=True)))

    def printed(self, name: str, pdf: bytes) -> None:
        """Write one student's sheets, with fields."""
        made, fields = self._waiting.pop(name)
        filled = fillable(pdf, fields, lambda contents: stamp_of(self._run, "sheet", made.code, contents))
        self._run.staging.write(name, filled)

    def _file(self, student: str, attempt: int) -> str:
        return f"{self._folder}/{file_stem(student, attempt)}.pdf"
