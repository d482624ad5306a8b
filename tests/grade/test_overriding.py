"""An instructor's decisions in the place of the marking's points."""

from __future__ import annotations

from fractions import Fraction

from problemgen.grade.overriding import overridden
from problemgen.model.decision import Decision
from problemgen.model.verdict import PartResult, StudentResult


def part(label: str) -> PartResult:
    return PartResult("p1", f"id-{label}", label, "wrong", "no-match", "Not right.", ("Too few.",), Fraction(0),
                      Fraction(2), "3", "3 g", value=Fraction(3))  # fmt: skip


RESULT = StudentResult("s1", "Ada", "A", "CODE", (part("1a"), part("1b")))


def decision(label: str, points: Fraction, reason: str, attempt: int | None = None) -> Decision:
    return Decision("s1", label, points, reason, attempt)


def test_points_change_and_the_verdict_stays() -> None:
    first, second = overridden(RESULT, [decision("1a", Fraction(3, 2), "Shown on paper")]).parts
    assert second == RESULT.parts[1]
    assert (first.points, first.of, first.verdict, first.reason) == (Fraction(3, 2), Fraction(2), "wrong", "no-match")
    assert first.remarks == ("Too few.", "Your instructor's decision: Shown on paper")
    assert first.decision == "Shown on paper"


def test_without_decisions_nothing_changes() -> None:
    assert overridden(RESULT, ()) is RESULT
    assert overridden(RESULT, [decision("1a", Fraction(1), "r", attempt=2)]) is RESULT


def test_a_decision_about_one_attempt_goes_before_one_about_all() -> None:
    both = [decision("1a", Fraction(1), "second", attempt=2), decision("1a", Fraction(2), "all")]
    assert overridden(RESULT, both, attempt=2).parts[0].decision == "second"
    assert overridden(RESULT, both, attempt=1).parts[0].decision == "all"
    assert overridden(RESULT, reversed(both), attempt=2).parts[0].decision == "second"


def test_the_sum_counts_the_decided_points() -> None:
    assert overridden(RESULT, [decision("1b", Fraction(2), "r")]).points == 2
