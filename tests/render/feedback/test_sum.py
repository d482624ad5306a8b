"""What changes a student's sum is told where the sum stands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from problemgen.model.verdict import Adjustment, PartResult, StudentResult
from problemgen.render.feedback.sum import sum_words
from problemgen.render.printers.terminal import text_lines


def part(label: str, points: int) -> PartResult:
    return PartResult(f"p{label[0]}", "01", label, "right", "r", "s", (), Fraction(points), Fraction(2), "1", "1")


RESULT = StudentResult("s1", "Ada", "A", "CODE", (part("1a", 2), part("1b", 1), part("2a", 0)))


def told(result: StudentResult, left_out: Sequence[str] = ()) -> list[str]:
    return [line for line in text_lines(sum_words(result, left_out)) if line]


def test_a_sum_of_the_parts_alone_needs_no_words() -> None:
    assert told(RESULT) == []


def test_the_lowest_that_are_left_out_are_told_with_what_counts() -> None:
    assert told(RESULT, ["2"]) == [
        "How this sum comes about:",
        "- Left out as the lowest: problem 2 (0 of 2 points). 3 of 4 points count.",
    ]
    assert told(RESULT, ["2", "1"])[1] == (
        "- Left out as the lowest: problem 2 (0 of 2 points) and problem 1 (3 of 4 points). 0 of 0 points count."
    )


def test_decisions_are_told_with_what_they_give() -> None:
    first, second, third = RESULT.parts
    parts = (replace(first, dropped=True, decision="A misprint"), replace(second, decision="Paper"), third)
    given = (Adjustment("p2", Fraction(-1, 2), "Late"), Adjustment("", Fraction(1), "The alarm"))
    assert told(replace(RESULT, parts=parts, adjustments=given)) == [
        "How this sum comes about:",
        "- Not counted, by your instructor's decision: 1a (2).",
        "- 1b by your instructor's decision: 1 of 2 points.",
        "- For problem 2 by your instructor's decision: -0.5 points.",
        "- For the whole sheet by your instructor's decision: +1 point. The alarm",
    ]


def test_without_a_mark_nothing_counts_and_nothing_is_left_out() -> None:
    none = replace(RESULT, parts=tuple(replace(one, dropped=True, decision="Ill") for one in RESULT.parts))
    assert told(none, ["2"]) == []
