"""The students' sheets: a file each, and all of an attempt in one for the printer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from problemgen.pipeline.earlier import Entry, file_stem
from problemgen.pipeline.making import Made
from problemgen.pipeline.outlets.building.outlet import BuildingOutlet, BuildingRun
from problemgen.render.sheet import sheet_document
from problemgen.render.typst import sheet_data
from problemgen.write.pdf import Job, merge

__all__ = ["ClassFile", "Sheets"]


class ClassFile(BuildingOutlet):
    """class.pdf, and class-2.pdf for the second attempts: the sheets in the order in which they are bound."""

    def __init__(self, run: BuildingRun) -> None:
        """Start without sheets."""
        self._run = run
        self._sheets: list[bytes] = []
        self.files = tuple(map(_class_file, run.attempts))

    def names(self, entries: Sequence[Entry]) -> list[str]:
        """One for each attempt that there is."""
        return [_class_file(attempt) for attempt in sorted({attempt for _, attempt in entries})]

    def bind(self, sheet: bytes) -> None:
        """Take one sheet as PDF: the first attempts of all students, then the second ones."""
        self._sheets.append(sheet)

    def close(self) -> None:
        """Bind the sheets of each attempt."""
        title, attempts, size = self._run.problem_set.title, self._run.problem_set.attempts, len(self._run.students)
        for attempt, name in zip(self._run.attempts, self.files, strict=True):
            told = ", ".join(filter(None, (f"{title}: class", attempts.told(attempt))))
            self._run.staging.write(name, merge(self._sheets[size * (attempt - 1) : size * attempt], told))


class Sheets(BuildingOutlet):
    """sheets/ID.pdf, and sheets/ID-2.pdf for a second attempt."""

    files = ("sheets/",)

    def __init__(self, run: BuildingRun, class_file: ClassFile) -> None:
        """Each sheet is printed once, and bound into the class file too."""
        self._run, self._class_file, self._done = run, class_file, 0

    def names(self, entries: Sequence[Entry]) -> list[str]:
        """One for each attempt of a student."""
        return [_sheet_file(*entry) for entry in entries]

    def take(self, made: Made) -> Iterator[Job]:
        """The sheet of one attempt."""
        document = sheet_document(
            self._run.problem_set, made.student, made.name, made.code, made.variants, made.attempt
        )
        yield Job(_sheet_file(made.student.id, made.attempt), sheet_data(document))

    def printed(self, name: str, pdf: bytes) -> None:
        """Write one sheet."""
        self._run.staging.write(name, pdf)
        self._class_file.bind(pdf)
        self._done += 1
        self._run.progress("printing", self._done, len(self._run.students) * len(self._run.attempts))


def _class_file(attempt: int) -> str:
    return f"{file_stem('class', attempt)}.pdf"


def _sheet_file(student: str, attempt: int) -> str:
    return f"sheets/{file_stem(student, attempt)}.pdf"
