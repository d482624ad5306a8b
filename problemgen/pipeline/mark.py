"""One marking: answers.json and responses in; grades, gradebook and feedback pages out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from problemgen.grade.judge import judge_student
from problemgen.load.answers import ANSWERS_FILE, Answers
from problemgen.load.resources import layouts
from problemgen.load.responses import Responses
from problemgen.model.answers import StudentKey
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.progress import Progress
from problemgen.render.feedback import feedback_document
from problemgen.render.grades import GRADE_COLUMNS, grade_rows, gradebook_header, gradebook_row
from problemgen.render.html import page
from problemgen.write.files import Staging
from problemgen.write.spreadsheet import CsvLines

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
            staging.expect(["grades.csv", "gradebook.csv"])
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
    texts: Mapping[str, str] = layouts()
    columns, total = answers.head.columns, len(answers.students)
    grades, gradebook = CsvLines(), CsvLines()
    with ExitStack() as stack:
        grades_file: BinaryIO = stack.enter_context(staging.stream("grades.csv", private=True))
        gradebook_file: BinaryIO = stack.enter_context(staging.stream("gradebook.csv", private=True))
        grades_file.write(grades.line(GRADE_COLUMNS))
        gradebook_file.write(gradebook.line(gradebook_header(columns)))
        for done, (key, result) in enumerate(_results(answers, responses), start=1):
            for row in grade_rows(result):
                grades_file.write(grades.line(row))
            gradebook_file.write(gradebook.line(gradebook_row(result, columns)))
            document = feedback_document(answers.head, key, result)
            staging.write(f"feedback/{key.student}.html", page(document, texts).encode(), private=True)
            progress("marking", done, total)
