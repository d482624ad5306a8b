"""The rows of grades.csv, gradebook.csv and the blank responses.csv."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from problemgen.model.problem_set import Student
from problemgen.model.total import total_of
from problemgen.model.verdict import PartResult, StudentResult
from problemgen.render.classes.grades import (
    GRADE_COLUMNS,
    blank_responses,
    grade_rows,
    gradebook_columns,
    gradebook_text,
)
from problemgen.render.feedback.points import points_number

COLUMNS = ("1a", "1b", "2a")


def part(label: str, points: Fraction, of: Fraction, *remarks: str) -> PartResult:
    return PartResult("p1", "01", label, "right", "in-window", "Right.", remarks, points, of, "3.95 g", "3.95 g")


def row_of(one: StudentResult, labels: tuple[str, ...]) -> dict[str, str]:
    total = total_of(one, {})
    return {column.name: gradebook_text(column.value(total)) for column in gradebook_columns(labels)}


def result(*parts: PartResult) -> StudentResult:
    return StudentResult("s1", "Ada", "A", "ABCD-EFGH", parts)


@pytest.mark.parametrize(
    ("points", "text"),
    [
        (Fraction(2), "2"),
        (Fraction(0), "0"),
        (Fraction(10), "10"),
        (Fraction(100), "100"),
        (Fraction(1, 2), "0.5"),
        (Fraction(9, 10), "0.9"),
        (Fraction(1, 3), "0.33"),
        (Fraction(2, 3), "0.67"),
        (Fraction(1, 1000), "0"),
        (Fraction(999, 1000), "1"),
    ],
)
def test_points_are_whole_or_have_two_decimals(points: Fraction, text: str) -> None:
    assert points_number(points) == text


def test_a_row_of_grades_tells_everything_about_a_part() -> None:
    (row,) = grade_rows(result(part("1a", Fraction(9, 10), Fraction(1), "Too few.", "No unit was written.")))
    assert dict(zip(GRADE_COLUMNS, row, strict=True)) == {
        "id": "s1",
        "name": "Ada",
        "section": "A",
        "attempt": "1",
        "part": "1a",
        "verdict": "right",
        "reason": "in-window",
        "points": "0.9",
        "of": "1",
        "wrote": "3.95 g",
        "read": "3.95 g",
        "sentence": "Right. Too few. No unit was written.",
        "decision": "",
    }


def test_a_row_of_the_gradebook_sums_up() -> None:
    one = result(part("1a", Fraction(1, 2), Fraction(1)), part("2a", Fraction(2), Fraction(2)))
    row = row_of(one, COLUMNS)
    assert tuple(row) == (
        "id",
        "name",
        "section",
        "attempt",
        "points",
        "of",
        "percent",
        "problem 1",
        "problem 2",
        *COLUMNS,
    )
    assert tuple(row.values()) == ("s1", "Ada", "A", "1", "2.5", "3", "83.33", "2.5", "", "0.5", "", "2")


def test_without_points_to_be_had_there_is_no_percentage() -> None:
    assert row_of(result(part("1a", Fraction(0), Fraction(0))), ("1a",))["percent"] == ""
    assert list(row_of(result(), ()).values())[4:] == ["0", "0", ""]


def test_thirds_add_up_before_they_are_rounded() -> None:
    third = part("1a", Fraction(1, 3), Fraction(1))
    assert row_of(result(third, third, third), ())["points"] == "1"


def test_a_part_that_was_not_judged_shows_no_points() -> None:
    open_part = replace(part("1a", Fraction(0), Fraction(1)), verdict="unjudged")
    assert row_of(result(open_part, part("1b", Fraction(1), Fraction(1))), COLUMNS)["1a"] == "not judged"
    assert row_of(result(replace(open_part, decision="Seen")), COLUMNS)["1a"] == "0"


def test_blank_responses_have_a_row_for_each_student() -> None:
    students = [Student("s1", "Ada", "A"), Student("s2", "Bea", "")]
    codes = {("s1", 1): "AAAA-1111", ("s2", 1): "BBBB-1111"}
    assert list(blank_responses(students, codes, COLUMNS)) == [
        ("id", "name", "section", "code", "1a", "1b", "2a"),
        ("s1", "Ada", "A", "AAAA-1111", "", "", ""),
        ("s2", "Bea", "", "BBBB-1111", "", "", ""),
    ]


def test_who_handed_nothing_in_has_an_empty_mark_not_0() -> None:
    away = result(part("1a", Fraction(0), Fraction(1)), part("1b", Fraction(0), Fraction(1))).absent
    row = row_of(away, COLUMNS)
    assert {row[column] for column in ("attempt", "points", "percent", "1a", "1b")} == {""}
    assert row["of"] == "2"
    cells = [dict(zip(GRADE_COLUMNS, one, strict=True)) for one in grade_rows(away)]
    assert [(one["points"], one["of"], one["reason"]) for one in cells] == [("", "1", "not-handed-in")] * 2


def test_what_the_instructor_decides_for_who_handed_nothing_in_is_a_mark() -> None:
    away = result(part("1a", Fraction(0), Fraction(1)), part("1b", Fraction(0), Fraction(1))).absent
    excused = replace(away, parts=(replace(away.parts[0], points=Fraction(1), decision="Excused"), away.parts[1]))
    row = row_of(excused, COLUMNS)
    assert (row["points"], row["percent"], row["1a"], row["1b"]) == ("1", "50", "1", "")
