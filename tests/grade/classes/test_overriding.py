"""An instructor's decisions in the place of the marking's points: of parts, problems and whole sheets."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.grade.classes.overriding import overrule
from problemgen.model.decision import ALL, Decision, DecisionKind, Decisions
from problemgen.model.verdict import PartResult, StudentResult


def part(label: str, points: int = 0) -> PartResult:
    return PartResult(f"p{label[0]}", f"id-{label}", label, "wrong", "no-match", "Not right.", ("Too few.",),
                      Fraction(points), Fraction(2), "3", "3 g", value=Fraction(3))  # fmt: skip


RESULT = StudentResult("s1", "Ada", "A", "CODE", (part("1a"), part("1b"), part("2a", 1)))
AWAY = StudentResult("s1", "Ada", "A", "CODE", (part("1a"), part("1b"), part("2a"))).absent


def decision(
    label: str, points: Fraction | str, reason: str = "r", attempt: int | None = None, student: str = "s1"
) -> Decision:
    """A decision; points as text are those of a bonus, "drop" drops."""
    kind: DecisionKind = "points" if isinstance(points, Fraction) else "drop" if points == "drop" else "bonus"
    return Decision(student, label, Fraction(0) if points == "drop" else Fraction(points), reason, attempt, kind)


def decided(*every: Decision, of: StudentResult = RESULT) -> StudentResult:
    return overrule(of, Decisions(every))


def test_points_change_and_the_verdict_stays() -> None:
    first, second, _ = decided(decision("1a", Fraction(3, 2), "Shown on paper")).parts
    assert second == RESULT.parts[1]
    assert (first.points, first.of, first.verdict, first.reason) == (Fraction(3, 2), Fraction(2), "wrong", "no-match")
    assert first.remarks == ("Too few.", "Your instructor's decision: Shown on paper")
    assert first.decision == "Shown on paper"


def test_without_decisions_nothing_changes() -> None:
    assert overrule(RESULT, Decisions()) is RESULT
    assert decided(decision("1a", Fraction(1), attempt=2)) is RESULT
    assert decided(decision("1a", Fraction(1), student="s2")) is RESULT
    assert decided(decision("3a", Fraction(1), student=ALL)).parts == RESULT.parts


@pytest.mark.parametrize("turn", [1, -1])
def test_the_nearer_decision_goes_before_the_others(turn: int) -> None:
    every = [
        decision("1a", Fraction(1), "all", student=ALL),
        decision("1a", Fraction(2), "all, second", attempt=2, student=ALL),
        decision("1a", Fraction(0), "mine"),
        decision("1a", Fraction(1, 2), "mine, second", attempt=2),
    ][::turn]
    for attempt, reason in ((1, "mine"), (2, "mine, second")):
        result = StudentResult("s1", "Ada", "A", "CODE", (part("1a"),), attempt=attempt)
        assert decided(*every, of=result).parts[0].decision == reason
        other = StudentResult("s2", "Bea", "A", "CODE", (part("1a"),), attempt=attempt)
        assert decided(*every, of=other).parts[0].decision == reason.replace("mine", "all")


def test_the_sum_counts_the_decided_points() -> None:
    assert decided(decision("1b", Fraction(2))).points == 3


def test_a_bonus_is_added_to_what_holds_and_may_pass_the_part_s_points() -> None:
    found = decided(decision("2a", "3/2", "early"), decision("2a", "1", "neat", student=ALL))
    assert (found.parts[2].points, found.parts[2].of, found.of) == (Fraction(7, 2), 2, 6)
    assert found.parts[2].decision == "neat; early"
    both = decided(decision("1a", Fraction(1), "paper"), decision("1a", "1/2", "neat"))
    assert (both.parts[0].points, both.parts[0].decision) == (Fraction(3, 2), "paper; neat")


def test_a_bonus_may_take_away_but_leaves_nobody_below_nothing() -> None:
    assert decided(decision("2a", "-1/2")).points == Fraction(1, 2)
    assert decided(decision("2a", "-5")).points == 0
    assert decided(decision("", "-5", "late")).points == 0


def test_a_dropped_part_counts_neither_as_earned_nor_as_to_be_had() -> None:
    found = decided(decision("2a", "drop", "A misprint", student=ALL))
    assert (found.points, found.of) == (0, 4)
    assert found.parts[2].dropped
    assert [one.label for one in found.counted] == ["1a", "1b"]
    assert found.parts[2].remarks[-1] == "Your instructor's decision: A misprint"


def test_a_dropped_problem_drops_its_parts() -> None:
    found = decided(decision("1", "drop"), decision("1a", Fraction(2)))
    assert [one.dropped for one in found.parts] == [True, True, False]
    assert (found.points, found.of) == (1, 2)


def test_who_is_excused_has_no_mark() -> None:
    for result in (RESULT, AWAY):
        found = decided(decision("", "drop", "Ill"), of=result)
        assert (found.has_mark, found.of) == (False, 0)


def test_a_problem_is_given_points_as_a_whole() -> None:
    found = decided(decision("1", Fraction(3), "On paper"), decision("1a", Fraction(1)))
    assert (found.points, found.points_of("p1"), found.points_of("p2"), found.of_problem("p1")) == (4, 3, 1, 4)
    assert [(one.problem, one.points, one.reason) for one in found.adjustments] == [("p1", 2, "On paper")]
    assert [one.points for one in found.parts] == [1, 0, 1]


def test_the_sheet_is_given_points_or_a_bonus_as_a_whole() -> None:
    assert decided(decision("", Fraction(5))).points == 5
    more = decided(decision("", "1", "alarm", student=ALL), decision("", "1/2", "neat"), decision("1", "2", "x"))
    assert (more.points, more.points_of(""), more.of) == (Fraction(9, 2), Fraction(3, 2), 6)
    assert [(one.problem, one.reason) for one in more.adjustments] == [("p1", "x"), ("", "alarm; neat")]


def test_what_all_are_given_is_not_given_to_who_handed_nothing_in() -> None:
    for every in (decision("1a", Fraction(2), student=ALL), decision("", "1", student=ALL)):
        assert decided(every, of=AWAY) is AWAY
    assert decided(decision("1a", "drop", student=ALL), of=AWAY).of == 4
    mine = decided(decision("1a", Fraction(2)), of=AWAY)
    assert (mine.has_mark, mine.points) == (True, 2)


def test_points_for_all_are_no_more_than_a_student_s_template_gives() -> None:
    assert decided(decision("1a", Fraction(9), student=ALL)).parts[0].points == 2
