"""The students' sheets: a file each, and all of an attempt in one for the printer, by session and section too."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from problemgen.language.messages import speaking
from problemgen.model.blocks import Document
from problemgen.model.problem_set import Student
from problemgen.pipeline.earlier import Entry, file_stem
from problemgen.pipeline.making import Made
from problemgen.pipeline.outlets.building.choice import Choice, choices_of
from problemgen.pipeline.outlets.building.outlet import BuildingOutlet, BuildingRun
from problemgen.render.printers.typst import sheet_data
from problemgen.render.sheet.sheet import sheet_document
from problemgen.write.binding.shelf import Place
from problemgen.write.pdf import Job

__all__ = ["ClassFile", "Sheets", "sheet_of"]


class ClassFile(BuildingOutlet):
    """class.pdf, and class-2.pdf for the second attempts: the sheets in the order in which they are bound.

    Where there are several sessions or sections, class/ has a file for each: `choices_of` tells which.
    """

    def __init__(self, run: BuildingRun) -> None:
        """Start without sheets."""
        self._run = run
        self._sessions = [sheet.session for sheet in run.problem_set.sheets]
        self._choices = choices_of(run.wanted, self._sessions, run.students)
        self._binderies = {attempt: run.bindery() for attempt in run.attempts}
        self._sheets: dict[int, list[tuple[Student, list[Place]]]] = {attempt: [] for attempt in run.attempts}
        names = (_class_file(choice, attempt) for attempt in run.attempts for choice in self._choices)
        self.files = tuple(dict.fromkeys(f"{_FOLDER}/" if "/" in name else name for name in names))

    def names(self, entries: Sequence[Entry]) -> list[str]:
        """Those for each attempt that there is."""
        attempts = sorted({attempt for _, attempt in entries})
        return [_class_file(choice, attempt) for attempt in attempts for choice in self._choices]

    def bind(self, made: Made, sheets: Path) -> None:
        """Take one student's sheets of an attempt, as PDF."""
        by_session = len(self._sessions) > 1 and self._run.wanted.session is None
        taken = self._binderies[made.attempt].take(sheets, whose=self._run.whose(made), apart=by_session)
        self._sheets[made.attempt].append((made.student, taken))

    def close(self) -> None:
        """Bind the sheets of each attempt."""
        for attempt in self._run.attempts:
            for choice in self._choices:
                mine = (sheets for student, sheets in self._sheets[attempt] if choice.holds(student))
                bound = (sheet for sheets in mine for sheet in sheets[self._wanted(choice)])
                with self._run.staging.stream(_class_file(choice, attempt)) as file:
                    self._binderies[attempt].bind(bound, self._title(choice, attempt), file)

    def _wanted(self, choice: Choice) -> slice:
        """Which of each student's sheets are bound: one session's, or all that there are."""
        if choice.session in (None, self._run.wanted.session):
            return slice(None)
        place = self._sessions.index(choice.session)
        return slice(place, place + 1)

    def _title(self, choice: Choice, attempt: int) -> str:
        """The set's title, and what of the class is bound."""
        problem_set = self._run.problem_set
        session = "" if choice.session is None else f"session {choice.session}"
        what = "class" if choice.section is None else f"section {choice.section}"
        return ", ".join(filter(None, (f"{problem_set.title}: {what}", session, problem_set.attempts.told(attempt))))


class Sheets(BuildingOutlet):
    """sheets/ID.pdf, and sheets/ID-2.pdf for a second attempt; of one session alone sheets-session-2/ID.pdf."""

    def __init__(self, run: BuildingRun, class_file: ClassFile) -> None:
        """Each student's sheets are printed once, and bound into the class files too."""
        self._run, self._class_file, self._done = run, class_file, 0
        self._folder = Choice(run.wanted.session).file_name("sheets")
        self._waiting: dict[str, Made] = {}
        self.files = (f"{self._folder}/",)

    def names(self, entries: Sequence[Entry]) -> list[str]:
        """One for each attempt of a student whose sheets are wanted."""
        return [self._file(*entry) for entry in entries if self._run.prints(entry[0])]

    def take(self, made: Made) -> Iterator[Job]:
        """The sheets of one attempt."""
        if self._run.wanted.holds(made.student):
            name = self._file(made.student.id, made.attempt)
            self._waiting[name] = made
            yield Job(name, sheet_data(sheet_of(self._run, made)))

    def printed(self, name: str, pdf: bytes) -> None:
        """Write one student's sheets."""
        made = self._waiting.pop(name)
        self._run.staging.write(name, pdf)
        self._class_file.bind(made, self._run.staging.aside(name))
        self._done += 1
        wanted = sum(map(self._run.wanted.holds, self._run.students))
        self._run.progress("printing", self._done, wanted * len(self._run.attempts))

    def _file(self, student: str, attempt: int) -> str:
        return f"{self._folder}/{file_stem(student, attempt)}.pdf"


def sheet_of(run: BuildingRun, made: Made, document: Callable[..., Document] = sheet_document) -> Document:
    """The sheets of one attempt, or another `document` of them, in the language of the student's sheets."""
    problem_set, variants = run.spoken(made)
    with speaking(problem_set.language):
        return document(
            problem_set, made.shown, made.name, made.code, variants, made.attempt, run.wanted.session, run.mark
        )


_FOLDER = "class"


def _class_file(choice: Choice, attempt: int) -> str:
    """class.pdf, and a part of the class in the folder: its name tells all, for it is sent on by itself."""
    name = f"{choice.file_name(file_stem('class', attempt))}.pdf"
    return name if choice == Choice() else f"{_FOLDER}/{name}"
