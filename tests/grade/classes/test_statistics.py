"""The statistics of a class: published tables, other formulas, what holds for any class."""

from __future__ import annotations

import warnings
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays
from scipy import optimize, special, stats

from problemgen.grade.classes.statistics import (
    PORTION,
    FloatArray,
    alpha_from_variances,
    alpha_interval,
    alphas_without,
    correlation,
    cronbach_alpha,
    holm,
    kruskal_wallis,
    rank_correlation,
    upper_lower_difference,
    varies,
)

_PATTERNS = (
    *(3, 6, 2, 11, 1, 1, 3, 4, 1, 8, 0, 16, 0, 3, 2, 15),
    *(10, 29, 14, 81, 3, 28, 15, 80, 16, 56, 21, 173, 11, 61, 28, 298),
)
"""How many of the 1000 examinees answered the five items of section 6 of the Law School Admission Test as 00000, 00001,
…, 11111."""
LSAT = np.array([[int(d) for d in f"{n:05b}"] for n, count in enumerate(_PATTERNS) for _ in range(count)], float)
RATINGS = np.array([[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8], [7, 1, 2, 6], [10, 5, 6, 9], [6, 2, 4, 7]], float)
"""Six targets rated by four judges."""

POINTS = st.integers(0, 8).map(lambda quarters: quarters / 4)


def matrices(least_students: int = 2, least_items: int = 2) -> st.SearchStrategy[FloatArray]:
    shapes = st.tuples(st.integers(least_students, 25), st.integers(least_items, 6))
    return shapes.flatmap(lambda shape: arrays.arrays(np.float64, shape, elements=POINTS))


def pairs(least: int = 3) -> st.SearchStrategy[tuple[FloatArray, FloatArray]]:
    columns = st.integers(least, 30).map(lambda size: arrays.arrays(np.float64, size, elements=POINTS))
    return columns.flatmap(lambda column: st.tuples(column, column))


# Published tables


@pytest.mark.source("bock-lieberman-1970: the answers; rizopoulos-2006: shares, alpha, alpha without each item")
def test_the_published_table_of_the_law_school_test() -> None:
    assert LSAT.shape == (1000, 5)
    assert LSAT.mean(axis=0) == pytest.approx([0.924, 0.709, 0.553, 0.763, 0.870], abs=1e-12)
    assert cronbach_alpha(LSAT) == pytest.approx(0.2950, abs=5e-5)
    assert alphas_without(LSAT) == pytest.approx((0.2754, 0.2376, 0.2168, 0.2459, 0.2663), abs=5e-5)


@pytest.mark.source("bock-lieberman-1970: the answers; rizopoulos-2006: item-rest correlations")
def test_the_published_item_rest_correlations_of_the_law_school_test() -> None:
    """The same table prints them with one standard deviation over n and one over n − 1: times √(999/1000)."""
    totals = LSAT.sum(axis=1)
    printed = {
        "with the item": (0.3618, 0.5665, 0.6181, 0.5342, 0.4351),
        "rest": (0.1128, 0.1531, 0.1727, 0.1444, 0.1215),
    }
    for item in range(5):
        own = LSAT[:, item]
        for rest, published in ((totals, printed["with the item"]), (totals - own, printed["rest"])):
            found = correlation(own, rest)
            assert found is not None
            assert found * (999 / 1000) ** 0.5 == pytest.approx(published[item], abs=6e-5)


@pytest.mark.source("shrout-fleiss-1979 table 2: six targets, four judges, ICC(3,4); hoyt-1941: it is alpha")
def test_the_published_ratings_of_shrout_and_fleiss() -> None:
    """Their ICC(3,4), which is alpha (Hoyt 1941), is printed as 0.91, from mean squares of 11.24 and 1.02."""
    alpha = cronbach_alpha(RATINGS)
    assert alpha == pytest.approx(1 - 1.02 / 11.24, abs=5e-4)
    assert round(alpha or 0, 2) == 0.91
    assert alpha_interval(alpha or 0, 6, 4) == pytest.approx((0.68, 0.99), abs=5e-3)


@pytest.mark.source("bland-altman-1997: variances and alpha of ten items")
def test_the_published_example_of_bland_and_altman() -> None:
    """Ten items of the mini-HAQ: variances 11.16 and 77.44, alpha 0.95."""
    assert alpha_from_variances(10, 11.16, 77.44) == pytest.approx(10 / 9 * (7744 - 1116) / 7744)
    assert round(alpha_from_variances(10, 11.16, 77.44), 2) == 0.95


@pytest.mark.source("kelley-1939: 27 %; scipy: the normal distribution")
def test_27_percent_is_kelleys_optimum() -> None:
    """Among normal scores, the groups of 27 % tell most.

    The difference of two groups' means, over its standard error, is greatest where φ(x)²/p is, p the share above x.
    """
    best = optimize.minimize_scalar(
        lambda x: -(stats.norm.pdf(x) ** 2) / stats.norm.sf(x), bounds=(0, 2), method="bounded"
    )
    assert stats.norm.sf(best.x) == pytest.approx(0.2703, abs=1e-4)
    assert round(float(stats.norm.sf(best.x)), 2) == PORTION


# Against other implementations


@pytest.mark.source("hoyt-1941: alpha from mean squares")
@given(matrices())
def test_alpha_is_what_the_analysis_of_variance_gives(scores: FloatArray) -> None:
    """1 − residual mean square / mean square between students."""
    alpha = cronbach_alpha(scores)
    students, items = scores.shape
    between = items * scores.mean(axis=1).var() * students / (students - 1)
    rest = scores - scores.mean(axis=1, keepdims=True) - scores.mean(axis=0) + scores.mean()
    residual = (rest**2).sum() / ((students - 1) * (items - 1))
    if alpha is None:
        assert between == pytest.approx(0, abs=1e-12)
    else:
        assert alpha == pytest.approx(1 - residual / between, rel=1e-6, abs=1e-8)


@pytest.mark.source("scipy: the F distribution")
@given(st.floats(-1, 0.99), st.integers(2, 500), st.integers(2, 60), st.floats(0.5, 0.99))
def test_the_interval_of_alpha_is_that_of_f(alpha: float, students: int, items: int, level: float) -> None:
    low, high = alpha_interval(alpha, students, items, level)
    ratio = stats.f(students - 1, (students - 1) * (items - 1))
    assert ratio.cdf((1 - low) / (1 - alpha)) == pytest.approx((1 + level) / 2)
    assert ratio.cdf((1 - high) / (1 - alpha)) == pytest.approx((1 - level) / 2)
    assert low <= high <= 1


def test_the_interval_of_alpha_covers_it_as_often_as_it_says() -> None:
    """Drawn from a model in which alpha is known: a true score and errors, all of variance 1; alpha is k/(k + 1)."""
    rng = np.random.default_rng(1)
    items, students, classes = 5, 30, 1000
    covered = 0
    for _ in range(classes):
        alpha = cronbach_alpha(rng.normal(size=(students, 1)) + rng.normal(size=(students, items)))
        assert alpha is not None
        low, high = alpha_interval(alpha, students, items)
        covered += low <= items / (items + 1) <= high
    assert 0.93 <= covered / classes <= 0.97


@pytest.mark.source("numpy: correlations; scipy: ranks and the incomplete beta function")
@given(pairs())
def test_correlations_are_those_of_values_and_of_ranks(two: tuple[FloatArray, FloatArray]) -> None:
    first, second = two
    found, ranked = correlation(first, second), rank_correlation(first, second)
    if not (varies(first) and varies(second)):
        assert found is None
        assert ranked is None
        return
    assert ranked is not None
    assert found == pytest.approx(np.corrcoef(first, second)[0, 1], abs=1e-9)
    assert ranked.coefficient == pytest.approx(correlation(stats.rankdata(first), stats.rankdata(second)), abs=1e-9)
    # The two tails of t are the incomplete beta function of 1 − ρ².
    rest = max(0.0, 1 - ranked.coefficient**2)
    assert ranked.probability == pytest.approx(special.betainc(first.size / 2 - 1, 0.5, rest), abs=1e-6)


@pytest.mark.source("henrysson-1963: the corrected correlation")
@given(pairs())
def test_the_item_rest_correlation_is_henryssons(two: tuple[FloatArray, FloatArray]) -> None:
    """From the correlation with the total, item included."""
    item, others = two
    total = item + others
    found, whole = correlation(item, others), correlation(item, total)
    if found is None or whole is None:
        return
    own, all_of_it = item.std(), total.std()
    corrected = (whole * all_of_it - own) / (own**2 + all_of_it**2 - 2 * whole * own * all_of_it) ** 0.5
    assert found == pytest.approx(corrected, abs=1e-6)


@pytest.mark.source(
    "scipy: ranks and the chi-squared distribution; "
    "derived: H/(n − 1) is the share of the ranks' spread between the groups"
)
@given(st.lists(arrays.arrays(np.float64, st.integers(5, 20), elements=POINTS), min_size=2, max_size=4))
def test_the_rank_test_is_an_analysis_of_the_variance_of_ranks(groups: list[FloatArray]) -> None:
    """With ties, H/(n − 1) is the share of the ranks' spread that lies between the groups."""
    found = kruskal_wallis(groups)
    if found is None:
        assert not varies(np.concatenate(groups))
        return
    ranks = stats.rankdata(np.concatenate(groups))
    parts = np.split(ranks, np.cumsum([group.size for group in groups])[:-1])
    between = sum(part.size * (part.mean() - ranks.mean()) ** 2 for part in parts)
    assert found.effect == pytest.approx(between / ((ranks - ranks.mean()) ** 2).sum(), abs=1e-8)
    assert found.statistic == pytest.approx(found.effect * (ranks.size - 1), abs=1e-8)
    assert found.probability == pytest.approx(stats.chi2.sf(found.statistic, len(groups) - 1), abs=1e-8)


# What holds for any class


@given(matrices(), st.floats(0.1, 50), st.floats(-5, 5))
def test_alpha_does_not_depend_on_what_a_point_is_worth(scores: FloatArray, worth: float, more: float) -> None:
    alpha, scaled = cronbach_alpha(scores), cronbach_alpha(scores * worth + more)
    assert (alpha is None) == (scaled is None)
    if alpha is not None:
        assert scaled == pytest.approx(alpha, rel=1e-6, abs=1e-6)
        assert alpha <= 1 + 1e-12


@given(arrays.arrays(np.float64, st.integers(3, 20), elements=POINTS), st.integers(2, 6))
def test_alpha_of_the_same_item_again_and_again_is_one(item: FloatArray, times: int) -> None:
    alpha = cronbach_alpha(np.column_stack([item] * times))
    assert alpha == (pytest.approx(1) if varies(item) else None)


@given(pairs(10))
def test_the_difference_of_upper_and_lower_group(two: tuple[FloatArray, FloatArray]) -> None:
    shares, totals = two[0] / 2, two[1]
    found = upper_lower_difference(shares, totals)
    assert -1 - 1e-12 <= found <= 1 + 1e-12
    assert upper_lower_difference(shares, -totals) == pytest.approx(-found)
    order = np.argsort(shares, kind="stable")
    assert upper_lower_difference(shares[order], totals[order]) == pytest.approx(found)
    if not varies(totals):
        assert found == pytest.approx(0)


def test_upper_and_lower_group_worked_by_hand() -> None:
    """Ten students: groups of three (27 % of ten, rounded). Two share the total at the upper border: half each."""
    totals = np.array([10, 9, 8, 8, 6, 5, 4, 3, 2, 1.0])
    shares = np.array([1, 1, 1, 0, 0.5, 0.5, 1, 0, 0.25, 0])
    assert upper_lower_difference(shares, totals) == pytest.approx((1 + 1 + 0.5) / 3 - (0 + 0.25 + 0) / 3)


@pytest.mark.source("holm-1979: the steps")
@given(st.lists(st.floats(0, 1), max_size=12))
def test_holm_is_what_its_steps_say(probabilities: Sequence[float]) -> None:
    """Reject at a level the k-th smallest while it is at most level/(m − k + 1): the adjusted value is that level."""
    adjusted = holm(probabilities)
    for level in (0.01, 0.05, 0.2, 0.7):
        rejected: set[int] = set()
        for place, index in enumerate(sorted(range(len(probabilities)), key=lambda one: probabilities[one])):
            if probabilities[index] * (len(probabilities) - place) > level:
                break
            rejected.add(index)
        assert rejected == {index for index, value in enumerate(adjusted) if value <= level}
    assert all(a >= p for a, p in zip(adjusted, probabilities, strict=True))


@pytest.mark.parametrize(
    "scores",
    [np.ones((1, 3)), np.ones((4, 1)), np.ones((4, 3)), np.full((3, 2), 0.1) * 3, np.array([[1.0, 0.0], [0.0, 1.0]])],
)
def test_where_there_is_no_alpha_there_is_none_and_no_warning(scores: FloatArray) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert cronbach_alpha(scores) is None


def test_values_that_differ_by_rounding_alone_do_not_vary() -> None:
    assert not varies(np.array([0.1 + 0.2, 0.3]))
    assert correlation(np.array([0.1 + 0.2, 0.3, 0.3]), np.array([1.0, 2.0, 3.0])) is None
    assert varies(np.array([0.3, 0.3001]))
    assert not varies(np.array([]))
    assert kruskal_wallis([np.ones(5), np.ones(6)]) is None
