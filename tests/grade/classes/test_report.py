"""The statistics of invented classes, checked against NumPy on the points as they were given."""

from __future__ import annotations

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from problemgen.grade.classes.report import class_statistics
from problemgen.model.class_statistics import ClassStatistics, PartStatistics
from tests.support.invented_class import ALL_PARTS, Invented, record_of
from tests.support.simulated_points import drawn

WORTH = np.array([1, 2, 1, 1, 2])
SHARES = st.sampled_from([Fraction(0), Fraction(1, 2), Fraction(1)])


def of(students: list[Invented]) -> ClassStatistics:
    return class_statistics(record_of(students))


def part(statistics: ClassStatistics, label: str) -> PartStatistics:
    return next(one for one in statistics.parts if one.label == label)


@pytest.fixture(scope="module")
def forty() -> list[Invented]:
    return drawn(40)


def points(students: list[Invented]) -> np.ndarray:
    return np.array([one.shares for one in students], float) * WORTH


def test_scores_are_shares_of_the_points(forty: list[Invented]) -> None:
    scores = of(forty).scores
    shares = points(forty).sum(axis=1) / 7
    assert scores is not None
    assert scores.shares == pytest.approx(sorted(shares))
    assert (scores.mean, scores.deviation) == pytest.approx((shares.mean(), shares.std(ddof=1)))
    assert scores.quartiles == pytest.approx(np.percentile(shares, [25, 50, 75]))
    assert (scores.least, scores.greatest) == pytest.approx((shares.min(), shares.max()))


def test_difficulty_and_discrimination_of_each_part(forty: list[Invented]) -> None:
    statistics, earned = of(forty), points(forty)
    assert [one.label for one in statistics.parts] == list(ALL_PARTS)
    for place, label in enumerate(ALL_PARTS):
        found, own = part(statistics, label), earned[:, place]
        assert found.difficulty == pytest.approx((own / WORTH[place]).mean())
        assert found.discrimination == pytest.approx(np.corrcoef(own, earned.sum(axis=1) - own)[0, 1])
        assert (found.full, found.none) == ((own == WORTH[place]).sum(), (own == 0).sum())
        assert found.full + found.some + found.none + found.blank == found.students == 40


def test_alpha_over_parts_and_over_problems(forty: list[Invented]) -> None:
    statistics, earned = of(forty), points(forty)
    problems = np.column_stack([earned[:, :3].sum(axis=1), earned[:, 3:].sum(axis=1)])
    for found, items in ((statistics.by_part, earned), (statistics.by_problem, problems)):
        covariance = np.cov(items, rowvar=False)
        count = len(covariance)
        # The other form: k times the mean covariance over the mean of the whole matrix.
        expected = count / (count - 1) * (1 - np.trace(covariance) / covariance.sum())
        assert found.alpha == pytest.approx(expected)
        assert found.interval is not None
        assert found.interval[0] < expected < found.interval[1]
    assert statistics.by_part.items == ALL_PARTS
    assert statistics.by_problem.items == ("1", "2")
    assert len(statistics.by_part.without) == 5


def test_a_blank_is_told_from_an_answer_that_earned_nothing() -> None:
    zeros = [0] * 5
    one = Invented("s1", zeros, verdicts={"1a": "blank", "1b": "wrong", "1c": "unread"})
    found = of([one, Invented("s2", [1] * 5)])
    assert [(one.none, one.blank) for one in found.parts[:3]] == [(0, 1), (1, 0), (1, 0)]
    assert [(unread.label, unread.wrote, unread.reason) for unread in found.unread] == [("1c", "4.2", "Why 1c.")]


def test_students_without_a_row_are_listed_and_count_nowhere(forty: list[Invented]) -> None:
    away = [Invented(f"z{place}", [0] * 5, handed_in=False) for place in range(5)]
    found = of([*away, *forty])
    assert [person.student for person in found.absent] == [one.student for one in away]
    without = of(forty)
    assert found.students == 40
    assert (found.parts, found.scores, found.by_part) == (without.parts, without.scores, without.by_part)


def test_where_templates_differ_parts_are_told_apart_and_the_problem_is_one_item() -> None:
    students = drawn(60, ("second", "first"))
    found = of(students)
    assert [(one.label, one.title, one.students) for one in found.drawn] == [
        ("2.1", "The first template", 30),
        ("2.2", "The second template", 30),
    ]
    assert [one.label for one in found.parts] == ["1a", "1b", "1c", "2.1a", "2.1b", "2.2a", "2.2b"]
    assert [part(found, label).students for label in ("1a", "2.1a", "2.2b")] == [60, 30, 30]
    assert found.by_part.items == ("1a", "1b", "1c", "2")
    own, earned = [one.template == "first" for one in students], points(students)
    mine = earned[own]
    assert part(found, "2.1a").discrimination == pytest.approx(
        np.corrcoef(mine[:, 3], mine.sum(axis=1) - mine[:, 3])[0, 1]
    )
    assert [(one.label, one.by) for one in found.groups] == [
        *((f"1{letter}", "answer to 1c") for letter in "abc"),
        ("problem 2", "template"),
    ]
    assert [group.name for group in found.groups[0].groups] == ["the oxide", "the salt"]


def test_a_template_that_is_harder_is_found_and_one_that_is_not_is_not() -> None:
    fair, unfair = drawn(80, ("first", "second"), seed=5), []
    for one in fair:
        harder = one.template == "second"
        shares = [*one.shares[:3], *((0, 0) if harder else (1, 1))]
        unfair.append(Invented(one.student, shares, one.template, one.limiting, one.size))
    found = {one.label: one for one in of(unfair).groups}
    assert found["problem 2"].adjusted is not None
    assert found["problem 2"].adjusted < 1e-6
    assert found["problem 2"].effect == pytest.approx(1)
    assert all(one.adjusted is None or one.adjusted > 0.05 for one in of(fair).groups)


def test_larger_numbers_that_are_harder_are_found() -> None:
    students = [Invented(f"s{n}", (n < 15, n % 2, 1, n % 3 == 0, 1), size=n) for n in range(1, 31)]
    found = {one.label: one for one in of(students).trends}
    assert set(found) == {"1a", "1b", "2a"}, "parts that all earned have no trend, a choice has no size"
    assert found["1a"].coefficient < -0.8
    assert found["1a"].adjusted < 0.001
    assert abs(found["1b"].coefficient) < 0.3


def test_mistakes_by_the_number_of_students() -> None:
    students = [
        Invented("s2", [0] * 5, mistakes={"1a": ("ratio",), "2a": ("ratio", "density")}),
        Invented("s1", [0] * 5, mistakes={"1b": ("ratio",)}, verdicts={"1a": "rounded"}),
        Invented("s3", [1] * 5),
    ]
    found = [(one.title, one.times, [(p.student, labels) for p, labels in one.people]) for one in of(students).mistakes]
    assert found == [
        ("the ratio forgotten", 3, [("s1", ("1b",)), ("s2", ("1a", "2a"))]),
        ("Rounded too early or too far", 1, [("s1", ("1a",))]),
        ("the density forgotten", 1, [("s2", ("2a",))]),
    ]


@given(
    st.integers(0, 14).flatmap(
        lambda count: st.lists(st.lists(SHARES, min_size=5, max_size=5), min_size=count, max_size=count)
    ),
)
@settings(max_examples=60)
def test_any_class_has_statistics_and_the_order_of_students_changes_none(shares: list[list[Fraction]]) -> None:
    students = [
        Invented(f"s{place:02}", row, template=("first", "second")[place % 2], size=1 + place)
        for place, row in enumerate(shares)
    ]
    found = of(students)
    turned = of(sorted(students, key=lambda one: (int(one.student[1:]) * 7) % 15))
    assert found.students == len(students)
    figures = [
        *(value for one in found.parts for value in (one.difficulty, one.discrimination, one.upper_lower)),
        *(value for one in found.groups for value in (one.statistic, one.probability, one.effect, one.adjusted)),
        *(value for one in found.trends for value in (one.coefficient, one.probability, one.adjusted)),
        *(found.by_part.alpha, found.by_problem.alpha, *found.by_part.without),
    ]
    assert all(value is None or math.isfinite(value) for value in figures)
    assert all(-1 <= (one.discrimination or 0) <= 1 for one in found.parts)
    assert all(-1 - 1e-9 <= (one.upper_lower or 0) <= 1 + 1e-9 for one in found.parts)
    if len(students) < 10:
        assert {one.discrimination for one in found.parts} <= {None}
        assert found.by_part.alpha is None
    labels = {one.label: one for one in turned.parts}
    assert all(labels[one.label].difficulty == pytest.approx(one.difficulty) for one in found.parts)
    assert (found.by_part.alpha is None) == (turned.by_part.alpha is None)
    assert found.scores == turned.scores
