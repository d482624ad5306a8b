"""The statistics of a class: pure functions of arrays of points.

A statistic that is not defined for what is given (no spread, too few values) is None, never NaN. The sources are named
from memory.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import scipy  # its parts load when they are first used: most runs want none, and statistics take half a second
from numpy.typing import NDArray

__all__ = [
    "PORTION",
    "Comparison",
    "Correlation",
    "FloatArray",
    "alpha_from_variances",
    "alpha_interval",
    "alphas_without",
    "correlation",
    "cronbach_alpha",
    "holm",
    "kruskal_wallis",
    "rank_correlation",
    "upper_lower_difference",
    "varies",
]

FloatArray: TypeAlias = NDArray[np.float64]

PORTION = 0.27
"""The share of a class in each of the two groups that are compared (Kelley 1939)."""

_NO_SPREAD = 1e-12
"""Values that lie closer than this, relative to their size, are the same value, worked in floats."""


@dataclass(frozen=True)
class Comparison:
    """Groups compared by ranks. `effect` is epsilon squared: the share of the spread of ranks between the groups."""

    statistic: float
    probability: float
    effect: float


@dataclass(frozen=True)
class Correlation:
    """A correlation, and how probable one as strong or stronger is without any."""

    coefficient: float
    probability: float


def varies(values: FloatArray) -> bool:
    """Whether there are two values at all that differ."""
    return values.size > 1 and bool(np.ptp(values) > _NO_SPREAD * max(1.0, float(np.abs(values).max())))


def correlation(first: FloatArray, second: FloatArray) -> float | None:
    """Pearson's product-moment correlation; None where either does not vary.

    >>> round(correlation(np.array([1.0, 2.0, 3.0]), np.array([4.0, 2.0, 0.0])), 12)
    -1.0
    """
    if not (varies(first) and varies(second)):
        return None
    return float(np.corrcoef(first, second)[0, 1])


def alpha_from_variances(items: int, item_variances: float, total_variance: float) -> float:
    """Cronbach's alpha from the sum of the items' variances and the variance of the sum (Cronbach 1951, eq. 2).

    Both variances have the same denominator. `items` is 2 or more, `total_variance` not 0.
    """
    return items / (items - 1) * (1 - item_variances / total_variance)


def cronbach_alpha(scores: FloatArray) -> float | None:
    """Cronbach's alpha of scores, students × items; None under two items or where the sums do not vary."""
    items = scores.shape[1]
    totals = scores.sum(axis=1)
    if items < 2 or not varies(totals):
        return None
    variances = scores.var(axis=0, ddof=1)
    return alpha_from_variances(items, float(variances.sum()), float(totals.var(ddof=1)))


def alphas_without(scores: FloatArray) -> tuple[float | None, ...]:
    """Alpha of what is left when each item is left out in turn."""
    return tuple(cronbach_alpha(np.delete(scores, item, axis=1)) for item in range(scores.shape[1]))


def alpha_interval(alpha: float, students: int, items: int, level: float = 0.95) -> tuple[float, float]:
    """The confidence interval of alpha (Feldt 1965): (1 − α)/(1 − α̂) is distributed as F.

    Its degrees of freedom are n − 1 and (n − 1)(k − 1) for n students (2 or more) and k items (2 or more).
    """
    between, within = students - 1, (students - 1) * (items - 1)
    tail = (1 - level) / 2
    upper, lower = scipy.special.fdtri(between, within, 1 - tail), scipy.special.fdtri(between, within, tail)
    return float(1 - (1 - alpha) * upper), float(1 - (1 - alpha) * lower)


def upper_lower_difference(shares: FloatArray, totals: FloatArray, portion: float = PORTION) -> float:
    """The mean share of points in the upper group less that in the lower one, each `portion` of the students.

    Students who share the total at the border of a group stand in it with equal fractions, so that no order of rows
    decides.
    """
    return float(_tail_weights(totals, portion) @ shares - _tail_weights(-totals, portion) @ shares)


def _tail_weights(totals: FloatArray, portion: float) -> FloatArray:
    """The weight of each student in the group with the highest totals; the weights add up to 1."""
    size = max(1.0, float(np.floor(portion * totals.size + 0.5)))
    border = np.sort(totals)[::-1][int(size) - 1]
    close = np.abs(totals - border) <= _NO_SPREAD * max(1.0, float(np.abs(totals).max()))
    above = (totals > border) & ~close
    weights = np.where(above, 1.0, np.where(close, (size - above.sum()) / close.sum(), 0.0))
    return np.asarray(weights / size, dtype=np.float64)


def kruskal_wallis(groups: Sequence[FloatArray]) -> Comparison | None:
    """The rank test of Kruskal and Wallis (1952), corrected for ties; None where nothing varies.

    The probability is that of chi-squared with one degree of freedom less than there are groups (two or more, each of
    five or more values). The effect is epsilon squared, H/(n − 1).
    """
    values = np.concatenate(groups)
    if not varies(values):
        return None
    found = scipy.stats.kruskal(*groups)
    statistic = max(0.0, float(found.statistic))
    return Comparison(statistic, float(found.pvalue), statistic / (values.size - 1))


def rank_correlation(first: FloatArray, second: FloatArray) -> Correlation | None:
    """Spearman's correlation of ranks (1904), its probability from Student's t; None where either does not vary.

    There are three or more values.
    """
    if not (varies(first) and varies(second)):
        return None
    found = scipy.stats.spearmanr(first, second)
    return Correlation(float(found.statistic), float(found.pvalue))


def holm(probabilities: Sequence[float]) -> tuple[float, ...]:
    """Probabilities adjusted for their number (Holm 1979), in the order given.

    >>> holm([0.01, 0.04, 0.03])
    (0.03, 0.06, 0.06)
    """
    order = sorted(range(len(probabilities)), key=lambda index: probabilities[index])
    adjusted = [0.0] * len(probabilities)
    highest = 0.0
    for place, index in enumerate(order):
        highest = max(highest, min(1.0, (len(order) - place) * probabilities[index]))
        adjusted[index] = highest
    return tuple(adjusted)
