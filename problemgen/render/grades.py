"""The rows of grades.csv, gradebook.csv and the blank responses.csv."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from problemgen.model.problem_set import Student
from problemgen.model.total import StudentTotal
from problemgen.model.verdict import StudentResult
from problemgen.render.feedback import points_number

__all__ = ["GRADE_COLUMNS", "blank_responses", "grade_rows", "gradebook_header", "gradebook_row"]

GRADE_COLUMNS = (
    *("id", "name", "section", "attempt", "part", "verdict", "reason", "points", "of"),
    *("wrote", "read", "sentence", "decision"),
)


def grade_rows(result: StudentResult) -> Iterator[tuple[str, ...]]:
    """One student's rows of grades.csv, a part each."""
    for part in result.parts:
        points = (points_number(part.points), points_number(part.of))
        sentence = " ".join((part.sentence, *part.remarks))
        who = (result.student, result.name, result.section, str(result.attempt))
        yield (*who, part.label, part.verdict, part.reason, *points, part.wrote, part.read, sentence, part.decision)


def gradebook_header(columns: Sequence[str]) -> tuple[str, ...]:
    """The columns of gradebook.csv: the student, the attempt that counts, the sum, and the points of each part."""
    return ("id", "name", "section", "attempt", "points", "of", "percent", *columns)


def gradebook_row(total: StudentTotal, columns: Sequence[str]) -> tuple[str, ...]:
    """One student's row of gradebook.csv; points are rounded here, to two decimals."""
    percent = points_number(100 * total.points / total.of) if total.of else ""
    about = (total.student, total.name, total.section, total.attempt)
    sums = (points_number(total.points), points_number(total.of), percent)
    parts = (points_number(total.parts[column]) if column in total.parts else "" for column in columns)
    return (*about, *sums, *parts)


def blank_responses(
    students: Iterable[Student], columns: Sequence[str], attempts: int = 1
) -> Iterator[tuple[str, ...]]:
    """The rows of a responses.csv that is ready to be filled in, header first: one for each attempt of a student.

    The column attempt is there only where there are several.
    """
    yield ("id", "name", "section", *(["attempt"] if attempts > 1 else []), *columns)
    for student in students:
        for attempt in range(1, attempts + 1):
            about = (student.id, student.name, student.section, *([str(attempt)] if attempts > 1 else []))
            yield (*about, *("" for _ in columns))
