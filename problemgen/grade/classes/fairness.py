"""Whether some variants of a problem were harder than others."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from problemgen.grade.classes.statistics import FloatArray, holm, kruskal_wallis, rank_correlation
from problemgen.model.class_statistics import LEAST_FOR_GROUPS, LEAST_FOR_SPREAD, GroupMean, Groups, SizeTrend

__all__ = ["Shares", "compared", "trends"]


@dataclass(frozen=True)
class Shares:
    """What is compared: of a part or a problem, the shares of the students by the kind of their variant."""

    label: str
    by: str
    groups: Mapping[str, FloatArray]


def compared(kinds: Iterable[Shares]) -> tuple[Groups, ...]:
    """Every comparison of two or more groups that are large enough, adjusted for their number."""
    found = []
    for one in kinds:
        groups = {name: shares for name, shares in one.groups.items() if shares.size >= LEAST_FOR_GROUPS}
        if len(groups) > 1:
            found.append((one, groups, kruskal_wallis(list(groups.values()))))
    adjusted = iter(holm([test.probability for _, _, test in found if test is not None]))
    return tuple(
        Groups(
            label=one.label,
            by=one.by,
            groups=tuple(GroupMean(name, shares.size, float(shares.mean())) for name, shares in groups.items()),
            statistic=test.statistic if test else None,
            probability=test.probability if test else None,
            effect=test.effect if test else None,
            adjusted=next(adjusted) if test else None,
        )
        for one, groups, test in found
    )


def trends(sizes: Iterable[tuple[str, FloatArray, FloatArray]]) -> tuple[SizeTrend, ...]:
    """The rank correlation of share with the variant's number, a part each (label, numbers, shares).

    Parts of fewer than ten students are left out, and those where either does not vary.
    """
    found = []
    for label, values, shares in sizes:
        trend = rank_correlation(values, shares) if values.size >= LEAST_FOR_SPREAD else None
        if trend is not None:
            found.append((label, values.size, trend))
    adjusted = holm([trend.probability for _, _, trend in found])
    return tuple(
        SizeTrend(label, students, trend.coefficient, trend.probability, each)
        for (label, students, trend), each in zip(found, adjusted, strict=True)
    )
