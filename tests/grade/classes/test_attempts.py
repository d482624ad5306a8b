"""Several attempts: the last, the best, or the mean of those handed in."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from statistics import fmean

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.grade.classes.attempts import AttemptsTally, counted
from problemgen.model.policy import Counts
from problemgen.model.total import StudentTotal, total_of
from problemgen.model.verdict import PartResult, StudentResult

F = Fraction


def result(attempt: int, *points: str, student: str = "s1", of: str = "2") -> StudentResult:
    parts = tuple(
        PartResult("p1", f"{i:02d}", f"1{letter}", "right", "r", "s", (), F(one), F(of), "", "")
        for i, (letter, one) in enumerate(zip("abc", points, strict=False), start=1)
    )
    return StudentResult(student, "Ada", "A", "CODE", parts, attempt=attempt)


def total(counts: Counts, *results: StudentResult) -> StudentTotal:
    return counted(counts, [total_of(one, {}) for one in results])


FIRST, SECOND, THIRD = result(1, "2", "0"), result(2, "1", "2"), result(3, "2", "1")


@pytest.mark.parametrize(
    ("counts", "results", "attempt", "points", "parts"),
    [
        ("last", (FIRST, SECOND, THIRD), "3", F(3), (F(2), F(1))),
        ("last", (FIRST, SECOND), "2", F(3), (F(1), F(2))),
        ("best", (FIRST, SECOND, THIRD), "2", F(3), (F(1), F(2))),  # of equals the first
        ("best", (FIRST,), "1", F(2), (F(2), F(0))),
        ("mean", (FIRST, SECOND, THIRD), "mean of 1, 2, 3", F(8, 3), (F(5, 3), F(1))),
        ("mean", (FIRST, THIRD), "mean of 1, 3", F(5, 2), (F(2), F(1, 2))),
        ("mean", (THIRD,), "3", F(3), (F(2), F(1))),
    ],
)
def test_what_counts(
    counts: Counts, results: tuple[StudentResult, ...], attempt: str, points: F, parts: tuple[F, ...]
) -> None:
    found = total(counts, *results)
    assert (found.attempt, found.points, tuple(found.parts.values()), found.of) == (attempt, points, parts, 4)


def test_a_part_that_only_some_attempts_have_is_the_mean_of_those() -> None:
    found = total("mean", result(1, "2", "1"), result(2, "1", "1", "2"))
    assert found.parts == {"1a": F(3, 2), "1b": F(1), "1c": F(2)}
    assert (found.points, found.of) == (F(7, 2), F(5))


POINTS = st.lists(st.integers(min_value=0, max_value=8).map(lambda n: F(n, 4)), min_size=1, max_size=5)


@given(POINTS)
def test_best_mean_and_last_against_plain_arithmetic(points: list[F]) -> None:
    results = [result(n, str(one)) for n, one in enumerate(points, start=1)]
    assert total("best", *results).points == max(points)
    assert float(total("mean", *results).points) == pytest.approx(fmean(map(float, points)))
    assert total("last", *results).points == points[-1]
    assert all(total(counts, *results).points <= 2 for counts in ("best", "mean", "last"))


def test_a_class_is_tallied_in_whatever_order_attempts_come() -> None:
    tally = AttemptsTally("last")
    for one in (result(2, "1", student="s2"), result(3, "2"), result(1, "0", student="s2"), result(1, "1")):
        tally.take(one, {"tutor": "Dr. Oak"})
    assert [(one.student, one.attempt, one.points) for one in tally.totals()] == [("s2", "2", 1), ("s1", "3", 2)]


@pytest.mark.parametrize(("counts", "open_parts"), [("mean", {"1a"}), ("last", set())])
def test_a_part_that_was_not_judged_is_open_where_it_counts(counts: Counts, open_parts: set[str]) -> None:
    parts = (replace(FIRST.parts[0], verdict="unjudged"), FIRST.parts[1])
    assert total(counts, replace(FIRST, parts=parts), SECOND).open == open_parts
