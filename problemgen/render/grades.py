"""The rows of grades.csv, gradebook.csv and the blank responses.csv."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from problemgen.model.problem_set import Student
from problemgen.model.verdict import StudentResult
from problemgen.render.feedback import points_number

__all__ = ["GRADE_COLUMNS", "blank_responses", "grade_rows", "gradebook_header", "gradebook_row"]

GRADE_COLUMNS = ("id", "name", "section", "part", "verdict", "reason", "points", "of", "wrote", "read", "sentence")


def grade_rows(result: StudentResult) -> Iterator[tuple[str, ...]]:
    """One student's rows of grades.csv, a part each."""
    for part in result.parts:
        points = (points_number(part.points), points_number(part.of))
        sentence = " ".join((part.sentence, *part.remarks))
        who = (result.student, result.name, result.section)
        yield (*who, part.label, part.verdict, part.reason, *points, part.wrote, part.read, sentence)


def gradebook_header(columns: Sequence[str]) -> tuple[str, ...]:
    """The columns of gradebook.csv: the student, the sum, and the points of each part."""
    return ("id", "name", "section", "points", "of", "percent", *columns)


def gradebook_row(result: StudentResult, columns: Sequence[str]) -> tuple[str, ...]:
    """One student's row of gradebook.csv."""
    by_label = {part.label: points_number(part.points) for part in result.parts}
    percent = points_number(100 * result.points / result.of) if result.of else ""
    sums = (points_number(result.points), points_number(result.of), percent)
    return (result.student, result.name, result.section, *sums, *(by_label.get(column, "") for column in columns))


def blank_responses(students: Iterable[Student], columns: Sequence[str]) -> Iterator[tuple[str, ...]]:
    """The rows of a responses.csv that is ready to be filled in, header first."""
    yield ("id", "name", "section", *columns)
    for student in students:
        yield (student.id, student.name, student.section, *("" for _ in columns))
