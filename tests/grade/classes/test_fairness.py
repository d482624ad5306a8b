"""Comparing kinds of variants: which are compared, and what their number does to the probabilities."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from problemgen.grade.classes.fairness import Shares, compared, trends
from problemgen.grade.classes.statistics import holm


def shares(*values: float) -> np.ndarray:
    return np.array(values, float)


LOW, HIGH = shares(0, 0, 0.5, 0, 0.25), shares(1, 1, 0.5, 1, 0.75, 1)


@pytest.mark.source("scipy: the test of Kruskal and Wallis")
def test_groups_of_fewer_than_five_are_left_out() -> None:
    kinds = [
        Shares("1a", "template", {"one": LOW, "two": HIGH, "few": HIGH[:4]}),
        Shares("1b", "template", {"one": LOW, "few": HIGH[:4]}),
        Shares("1c", "template", {"one": LOW}),
    ]
    (found,) = compared(kinds)
    assert (found.label, found.by) == ("1a", "template")
    assert [(group.name, group.students) for group in found.groups] == [("one", 5), ("two", 6)]
    assert [group.mean for group in found.groups] == pytest.approx([0.15, 0.875])
    assert found.probability == pytest.approx(stats.kruskal(LOW, HIGH).pvalue)
    assert found.adjusted == found.probability


@pytest.mark.source("scipy: the test of Kruskal and Wallis")
def test_probabilities_are_adjusted_for_all_comparisons_that_could_be_made() -> None:
    other = shares(1, 0, 1, 0, 1, 0.5)
    kinds = [
        Shares("1a", "template", {"one": LOW, "two": HIGH}),
        Shares("1b", "template", {"one": shares(*[1] * 5), "two": shares(*[1] * 5)}),
        Shares("1c", "template", {"one": LOW, "two": other}),
    ]
    found = compared(kinds)
    assert [one.label for one in found] == ["1a", "1b", "1c"]
    assert (found[1].statistic, found[1].probability, found[1].effect, found[1].adjusted) == (None, None, None, None)
    each = [stats.kruskal(LOW, HIGH).pvalue, stats.kruskal(LOW, other).pvalue]
    assert [found[0].adjusted, found[2].adjusted] == pytest.approx(holm(each))


def test_trends_take_ten_students_and_something_that_varies() -> None:
    sizes = np.arange(10.0)
    rising = sizes / 9
    found = trends(
        [
            ("1a", sizes, rising),
            ("1b", sizes[:9], rising[:9]),
            ("1c", sizes, np.ones(10)),
            ("1d", np.ones(10), rising),
            ("1e", sizes, -rising),
        ]
    )
    assert [(one.label, one.students) for one in found] == [("1a", 10), ("1e", 10)]
    assert [one.coefficient for one in found] == pytest.approx([1, -1])
    assert all(one.adjusted < 1e-9 for one in found)


def test_nothing_to_compare_is_nothing() -> None:
    assert compared([]) == ()
    assert trends([]) == ()
