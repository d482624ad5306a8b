"""What is counted up: candidates turned away, and points."""

from __future__ import annotations

from fractions import Fraction

from problemgen.model.variant import Rejections
from problemgen.model.verdict import UNJUDGED, VERDICTS, PartResult, StudentResult


def test_what_no_rule_turned_away_is_admitted() -> None:
    assert Rejections(100, {"flask": 7, "limiting": 0, "mistake": 31}).admitted == 62
    assert Rejections(0, {}).admitted == 0


def part(points: str, of: str) -> PartResult:
    return PartResult("1", "01", "1a", "right", "in-window", "Right.", (), Fraction(points), Fraction(of), "2", "2")


def test_a_student_s_points_are_exact_sums() -> None:
    result = StudentResult("s1", "Ada", "A", "AAAA-2222", (part("1/3", "1"), part("2/3", "2"), part("0", "1")))
    assert result.points == 1
    assert result.of == 4


def test_without_parts_there_are_no_points() -> None:
    empty = StudentResult("s1", "Ada", "A", "AAAA-2222", ())
    assert empty.points == 0
    assert empty.of == 0


def test_the_verdicts_that_count_come_first() -> None:
    marked = ["right", "slip", "follows", "mistake", "rounded", "wrong", "unit", "unread", "blank"]
    assert list(VERDICTS) == [*marked, UNJUDGED]
