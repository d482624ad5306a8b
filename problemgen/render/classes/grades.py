"""The rows of grades.csv, gradebook.csv and the blank responses.csv."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from string import ascii_lowercase
from typing import TypeAlias

from problemgen.model.policy import Gradebook
from problemgen.model.problem_set import Student
from problemgen.model.total import StudentTotal
from problemgen.model.verdict import StudentResult
from problemgen.render.feedback.points import points_number

__all__ = [
    "GRADE_COLUMNS",
    "GradebookColumn",
    "GradebookValue",
    "blank_responses",
    "grade_rows",
    "gradebook_columns",
    "gradebook_text",
    "problem_numbers",
]

GRADE_COLUMNS = (
    *("id", "name", "section", "attempt", "part", "verdict", "reason", "points", "of"),
    *("wrote", "read", "sentence", "decision"),
)

_OPEN = "not judged"
_PLAIN = Gradebook()


def grade_rows(result: StudentResult) -> Iterator[tuple[str, ...]]:
    """One student's rows of grades.csv, a part each."""
    for part in result.parts:
        has_mark = (result.handed_in or bool(part.decision)) and not part.dropped
        points = (points_number(part.points) if has_mark else "", "" if part.dropped else points_number(part.of))
        sentence = " ".join((part.sentence, *part.remarks))
        who = (result.student, result.name, result.section, str(result.attempt))
        yield (*who, part.label, part.verdict, part.reason, *points, part.wrote, part.read, sentence, part.decision)


GradebookValue: TypeAlias = Fraction | str | None
"""What a cell of the gradebook holds: a number, text, or nothing. It is its own type that tells, not its column."""


@dataclass(frozen=True)
class GradebookColumn:
    """A column of the gradebook: its name, what it holds of a student's total, its width in letters."""

    name: str
    value: Callable[[StudentTotal], GradebookValue]
    width: int = 9


def problem_numbers(labels: Sequence[str]) -> tuple[str, ...]:
    """The numbers of the problems, in order, from the labels of all parts."""
    return tuple(dict.fromkeys(label.rstrip(ascii_lowercase) for label in labels))


def gradebook_columns(
    labels: Sequence[str], more: Sequence[str] = (), book: Gradebook = _PLAIN
) -> tuple[GradebookColumn, ...]:
    """The gradebook's columns.

    The student, the roster's further columns, the attempt that counts, the sum, the grade and the problems that are
    left out where the set has these, and the points of each problem and part.
    """
    grade = GradebookColumn("grade", lambda total: _grade(book.grade(total.percent)))
    dropped = GradebookColumn("left out", lambda total: ", ".join(total.left_out))
    return (
        GradebookColumn("id", lambda total: total.student, 14),
        GradebookColumn("name", lambda total: total.name, 28),
        GradebookColumn("section", lambda total: total.section, 10),
        *(GradebookColumn(name, partial(_more, name), 20) for name in more),
        GradebookColumn("attempt", _attempt, 14),
        GradebookColumn("points", lambda total: total.points),
        GradebookColumn("of", lambda total: total.of),
        GradebookColumn("percent", lambda total: total.percent),
        *([grade] if book.grades else ()),
        *([dropped] if book.drop_lowest else ()),
        *(GradebookColumn(f"problem {number}", partial(_problem, number), 11) for number in problem_numbers(labels)),
        *(GradebookColumn(label, partial(_points_of, label)) for label in labels),
    )


def _attempt(total: StudentTotal) -> GradebookValue:
    """The number of the attempt that counts; words where it is the mean of several."""
    return Fraction(total.attempt) if total.attempt.isdecimal() else total.attempt


def _more(name: str, total: StudentTotal) -> GradebookValue:
    return total.more.get(name)


def _problem(number: str, total: StudentTotal) -> GradebookValue:
    return total.problems.get(number)


def _grade(grade: str) -> GradebookValue:
    """A grade; where it is a number, such as of points, as one."""
    return Fraction(grade) if grade.replace(".", "", 1).isdecimal() and grade.isascii() else grade


def _points_of(label: str, total: StudentTotal) -> GradebookValue:
    return _OPEN if label in total.open else total.parts.get(label)


def gradebook_text(value: GradebookValue) -> str:
    """What a cell of the gradebook holds, as text; numbers are rounded here, to two decimals."""
    return points_number(value) if isinstance(value, Fraction) else value or ""


def blank_responses(
    students: Iterable[Student], codes: Mapping[tuple[str, int], str], columns: Sequence[str], attempts: int = 1
) -> Iterator[tuple[str, ...]]:
    """The rows of a responses.csv that is ready to be filled in, header first: one for each attempt of a student.

    `codes` are those printed on the sheets, by the student's id and the attempt. The column attempt is there only where
    there are several.
    """
    yield ("id", "name", "section", "code", *(["attempt"] if attempts > 1 else []), *columns)
    for student in students:
        for attempt in range(1, attempts + 1):
            who = (student.id, student.name, student.section, codes[student.id, attempt])
            yield (*who, *([str(attempt)] if attempts > 1 else []), *("" for _ in columns))
