"""One marking: answers.json and responses in; grades, gradebook and feedback pages out."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path

from problemgen.grade.judge import judge_student
from problemgen.load.answers import ANSWERS_FILE, Answers
from problemgen.load.resources import layouts
from problemgen.load.responses import Responses
from problemgen.model.answers import StudentKey
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.outlets.feedback import FeedbackPages
from problemgen.pipeline.outlets.outlet import Outlet
from problemgen.pipeline.outlets.tables import GRADEBOOK_FILE, GRADES_FILE, GradebookTable, GradesTable
from problemgen.pipeline.progress import Progress
from problemgen.write.files import Staging

__all__ = ["MarkingReport", "MarkingRequest", "mark"]


@dataclass(frozen=True)
class MarkingRequest:
    """What to mark: the folder of a built set, the responses, and whether earlier grades may be replaced."""

    folder: Path
    responses: Path
    out: Path
    replace: bool = False


@dataclass(frozen=True)
class MarkingReport:
    """How many were marked, who handed nothing in, and what in the file was not marked."""

    marked: int
    absent: int
    remarks: tuple[str, ...]


def mark(request: MarkingRequest, progress: Progress) -> MarkingReport:
    """Mark the responses to a built set.

    Raises:
        FaultsError: for answers.json or responses that cannot be read, are damaged, or belong to another set.
        OutputError: for an output folder that cannot be written, or holds grades that would be replaced.
    """
    with Answers(request.folder / ANSWERS_FILE) as answers:
        responses = Responses(request.responses, answers.students, answers.head.columns)
        with Staging(request.out, replace=request.replace) as staging:
            staging.expect([GRADES_FILE, GRADEBOOK_FILE])
            _write(answers, responses, staging, progress)
        absent = len(answers.students) - len(responses.students)
        return MarkingReport(len(responses.students), absent, tuple(responses.remarks))


def _results(answers: Answers, responses: Responses) -> Iterator[tuple[StudentKey, StudentResult]]:
    """Each student with a row, in the order of the responses; then those without one, all blank."""
    for student, cells in responses:
        key = answers.student(student)
        yield key, judge_student(answers.head, key, cells)
    marked = responses.students
    for student in answers.students:
        if student not in marked:
            key = answers.student(student)
            yield key, judge_student(answers.head, key, {})


def _write(answers: Answers, responses: Responses, staging: Staging, progress: Progress) -> None:
    total = len(answers.students)
    with ExitStack() as stack:
        outlets: tuple[Outlet, ...] = (
            GradesTable(stack, staging),
            GradebookTable(stack, staging, answers.head.columns),
            FeedbackPages(staging, answers.head, layouts()),
        )
        for done, (key, result) in enumerate(_results(answers, responses), start=1):
            for outlet in outlets:
                outlet.take(key, result)
            progress("marking", done, total)
        for outlet in outlets:
            outlet.close()
