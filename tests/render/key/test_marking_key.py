"""The key for marking by hand: a line a part, with bounds, letters of options, and what usual errors answer."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from problemgen.exact.digits import read_written
from problemgen.model.blocks import Document, Heading, Line, Note, Table
from problemgen.model.policy import Attempts
from problemgen.model.problem_set import ProblemSet, Student
from problemgen.model.truths import NumberTruth
from problemgen.render.key.marking_key import KeyEntry, marking_key
from problemgen.render.printers.terminal import text_lines
from tests.support.small_set import STUDENTS, made, small_set


@pytest.fixture
def problem_set(tmp_path: Path) -> ProblemSet:
    return small_set(tmp_path)


def key(problem_set: ProblemSet, session: int | None = None) -> Document:
    entries = [KeyEntry(one, one.name, f"CODE-{one.id}", made(problem_set, one.id)) for one in STUDENTS]
    return marking_key(problem_set, entries, session)


def words(line: Line) -> str:
    return "".join(piece.text for piece in line if hasattr(piece, "text"))


def rows(document: Document) -> list[list[list[str]]]:
    return [[[*map(words, row)] for row in block.rows] for block in document.blocks if isinstance(block, Table)]


def test_each_student_has_a_table_with_a_line_a_part(problem_set: ProblemSet) -> None:
    document = key(problem_set)
    assert [block.text for block in document.blocks if isinstance(block, Heading)] == [
        "s1, Ada, section A, sheet CODE-s1",
        "s2, Bea, section B, sheet CODE-s2",
    ]
    assert (document.title, document.confidential) == ("Small: key for s1 to s2", True)
    for table in rows(document):
        assert [row[0] for row in table] == ["1a", "1b", "1c", "1d", "1e", "1f", "1g", "2a", "2b", "2c", "2d"]
    first = rows(document)[0]
    assert [first[0][place] for place in (0, 1, 4, 5)] == ["1a", "2.500", "mmol", "1"]
    right = made(problem_set, "s1")[0].answers[0]
    assert isinstance(right, NumberTruth)
    low, high = (read_written(first[0][place]).value for place in (2, 3))
    assert abs(low - right.low) + abs(high - right.high) < right.value / 10**5
    assert first[4][:6] == ["1e", "A\u2002silver nitrate", "–", "–", "", "1"]


def test_beside_an_answer_stand_three_usual_errors_that_the_list_names(problem_set: ProblemSet) -> None:
    """Of 25.00 mL of 0.1000 mol/L: 25.00/0.1000 = 250.0; of 2 AgNO3 for one chromate: 2.500 and 5.000 for 1.250."""
    document = key(problem_set)
    (legend,) = ["".join(text_lines([block])) for block in document.blocks if isinstance(block, Note)]
    number = {part.split(" ", 1)[1]: part.split(" ", 1)[0] for part in legend[9:].rstrip(".").split("; ")}
    errors = {row[0]: row[6].split(";\u2002") for row in rows(document)[0]}
    assert f"{number['concentration used upside down']}:\u00a0250.0" in errors["1a"]
    assert f"{number['coefficients left out']}:\u00a02.500" in errors["1c"]
    assert f"{number['ratio of coefficients upside down']}:\u00a05.000" in errors["1c"]
    assert errors["1e"] == [""]
    assert all(len(told) <= 3 for told in errors.values())


def test_what_is_right_all_the_same_is_no_error(problem_set: ProblemSet) -> None:
    for row in rows(key(problem_set))[0]:
        answers = [told.partition("\u00a0")[2] for told in row[6].split(";\u2002")]
        assert row[1] not in answers
        assert len(set(answers)) == len(answers)


def test_a_key_of_one_session_has_its_parts_alone(tmp_path: Path) -> None:
    problem_set = small_set(tmp_path)
    problems = problem_set.problems
    later = tuple(replace(part, session=2) if part.id == "02" else part for part in problems[1].templates[0].parts)
    template = replace(problems[1].templates[0], parts=later, sessions=2)
    variants = tuple(replace(v, template=template) if v.problem == "p2" else v for v in made(problem_set, "s1"))
    entry = KeyEntry(STUDENTS[0], "Ada", "CODE", variants)
    document = marking_key(problem_set, [entry], 2)
    assert [row[0] for row in rows(document)[0]] == [f"2{'abcd'[[p.id for p in later].index('02')]}"]
    assert document.title == "Small: key for s1, session 2"


def test_a_student_without_a_name_and_of_a_second_attempt(problem_set: ProblemSet) -> None:
    twice = replace(problem_set, attempts=Attempts(number=2))
    entry = KeyEntry(Student("v001", "v001", ""), "v001", "CODE", made(problem_set, "s1"), 2)
    (heading,) = (block for block in marking_key(twice, [entry]).blocks if isinstance(block, Heading))
    assert heading.text == "v001, sheet CODE, attempt 2 of 2"
