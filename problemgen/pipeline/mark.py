"""One marking: answers.json and responses in; grades, gradebook and feedback pages out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import ExitStack
from dataclasses import dataclass, field, replace
from pathlib import Path

from problemgen.grade.judge import judge_student
from problemgen.grade.overriding import overridden
from problemgen.grade.own_data import with_own_data
from problemgen.load.answers import ANSWERS_FILE, Answers
from problemgen.load.columns import load_columns
from problemgen.load.resources import layouts
from problemgen.load.responses import Responses, about_columns
from problemgen.model.answers import StudentKey
from problemgen.model.decision import Decisions
from problemgen.model.policy import Attempts, file_stem
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.anonymity import Anonymity, check_no_ids_told
from problemgen.pipeline.decisions import decisions_for
from problemgen.pipeline.earlier import earlier_pages
from problemgen.pipeline.outlets.class_report import ClassReport
from problemgen.pipeline.outlets.codes import CodesTable
from problemgen.pipeline.outlets.feedback import FeedbackChoices, FeedbackPages
from problemgen.pipeline.outlets.gradebook import Gradebook
from problemgen.pipeline.outlets.look_into import LookInto
from problemgen.pipeline.outlets.outlet import Outlet
from problemgen.pipeline.outlets.own_data import OwnDataTable
from problemgen.pipeline.outlets.tables import GRADEBOOK_FILE, GRADES_FILE, GradebookTable, GradesTable
from problemgen.pipeline.outlets.workbook import GradebookWorkbook
from problemgen.pipeline.progress import Progress
from problemgen.render.grades import gradebook_columns
from problemgen.write.files import Staging

__all__ = ["MarkingReport", "MarkingRequest", "mark"]


@dataclass(frozen=True)
class MarkingRequest:
    """What to mark: the folder of a built set, the responses, and whether earlier grades may be replaced."""

    folder: Path
    responses: Path
    out: Path
    replace: bool = False
    feedback: FeedbackChoices = field(default_factory=FeedbackChoices)
    overrides: Path | None = None  # the instructor's decisions; overrides.csv of the folder where it is None
    columns: Path | None = None  # our column names for those of a form's export
    anonymous: bool = False


@dataclass(frozen=True)
class MarkingReport:
    """How many were marked, who handed nothing in, and what in the file was not marked."""

    marked: int
    absent: int
    remarks: tuple[str, ...]
    decisions: int = 0  # points that the instructor decided
    to_look_into: int = 0
    own_data_flagged: int = 0
    attempts: int = 0  # attempts that were handed in
    unjudged: tuple[str, ...] = ()  # whose parts could not be judged, and wait for a decision: "s3, 1c"


def mark(request: MarkingRequest, progress: Progress) -> MarkingReport:
    """Mark the responses to a built set.

    Raises:
        FaultsError: for answers.json or responses that cannot be read, are damaged, or belong to another set; for
            faults in the instructor's decisions or in the mapping of columns.
        OutputError: for an output folder that cannot be written, or holds grades that would be replaced, or, for a
            marking without names, holds pages that tell ids.
    """
    with Answers(request.folder / ANSWERS_FILE) as answers:
        decisions = decisions_for(request.folder, request.overrides, answers)
        responses = _responses(request, answers)
        anonymity = Anonymity(answers) if request.anonymous else None
        if anonymity is not None:
            check_no_ids_told(request.out, (file_stem(*entry) for entry in answers.entries))
        marked = {student for student, _ in responses.handed_in}
        absent = len(answers.students) - len(marked)
        with Staging(request.out, replace=request.replace) as staging:
            staging.expect([GRADES_FILE, GRADEBOOK_FILE])
            staging.supersede(earlier_pages(request.out, GRADES_FILE) if request.replace else ())
            results = _results(answers, responses, decisions)
            total = len(responses.handed_in) + absent
            look_into, flagged, unjudged = _write(
                answers, results, total, staging, request.feedback, anonymity, progress
            )
        return MarkingReport(
            marked=len(marked),
            absent=absent,
            remarks=tuple(responses.remarks),
            decisions=sum(map(len, decisions.values())),
            to_look_into=look_into,
            own_data_flagged=flagged,
            attempts=len(responses.handed_in),
            unjudged=unjudged,
        )


def _responses(request: MarkingRequest, answers: Answers) -> Responses:
    columns, attempts = answers.head.response_columns, answers.head.attempts.number
    names = load_columns(request.columns, (*about_columns(attempts), *columns)) if request.columns else None
    return Responses(request.responses, answers.students, columns, names, attempts)


def _results(
    answers: Answers, responses: Responses, decisions: Decisions
) -> Iterator[tuple[StudentKey, StudentResult]]:
    """Each attempt handed in, in the order of the responses; then the students who handed in none, all blank."""
    handed_in = responses.handed_in
    firsts = dict(sorted(handed_in, reverse=True))
    for student, attempt, cells in responses:
        if (student, attempt) in handed_in:
            key = with_own_data(answers.head, answers.student(student, attempt), cells)
            result = replace(judge_student(answers.head, key, cells), first=firsts[student] == attempt)
            yield key, overridden(result, decisions.get(student, ()), attempt)
    for student in answers.students:
        if student not in firsts:
            key = with_own_data(answers.head, answers.student(student), {})
            absent = replace(judge_student(answers.head, key, {}), handed_in=False)
            yield key, overridden(absent, decisions.get(student, ()))


def _write(
    answers: Answers,
    results: Iterable[tuple[StudentKey, StudentResult]],
    total: int,
    staging: Staging,
    feedback: FeedbackChoices,
    anonymity: Anonymity | None,
    progress: Progress,
) -> tuple[int, int, tuple[str, ...]]:
    """Write everything; the number of remarks to look into, of flags on own data, and the parts not judged."""
    columns = gradebook_columns(answers.head.columns)
    unjudged: list[str] = []
    with ExitStack() as stack:
        look_into = LookInto(staging, answers.head.templates)
        own_data = OwnDataTable(staging, wanted=bool(answers.head.own))
        codes = CodesTable(staging)
        outlets: tuple[Outlet, ...] = (
            GradesTable(stack, staging),
            Gradebook(
                answers.head.attempts, (GradebookTable(stack, staging, columns), GradebookWorkbook(staging, columns))
            ),
            look_into,
            own_data,
            ClassReport(staging, answers.head, layouts()),
            FeedbackPages(staging, answers.head, layouts(), feedback),
        )
        for done, (key, result) in enumerate(results, start=1):
            if anonymity is not None:
                codes.take(key := anonymity.coded(key))
                key, result = anonymity.key(key), anonymity.result(replace(result, code=key.code))
            unjudged.extend(_open_parts(answers.head.attempts, result))
            for outlet in outlets:
                outlet.take(key, result)
            progress("marking", done, total)
        for outlet in outlets:
            outlet.close()
        if anonymity is not None:
            codes.close()
    return look_into.remarks, own_data.flagged, tuple(unjudged)


def _open_parts(attempts: Attempts, result: StudentResult) -> Iterator[str]:
    who = f"{result.student}, attempt {result.attempt}" if attempts.several else result.student
    yield from (f"{who}, {part.label}" for part in result.parts if part.is_open)
