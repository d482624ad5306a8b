"""The answers of a class to each part, as places over the acceptance window: every student has other numbers.

A place is 0 at the student's own right answer, and from -1 to 1 inside their window, evenly. Outside of it, it goes by
the factor between answer and key, by its logarithm's logarithm, so that one factor is one place for the whole class,
whatever the windows: a key that is wrong by 2 % piles the answers up at one place. The outer zones reach from the
narrowest window of the class to a factor of `FARTHEST`; what lies beyond, and what has another sign, is at the ends.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from statistics import median

from problemgen.model.answers import KeyHead, PartKey, StudentKey
from problemgen.model.truths import NumberTruth
from problemgen.model.verdict import VERDICTS, PartResult, StudentResult
from problemgen.plan.variations import as_float

__all__ = ["FARTHEST", "REACH", "Mass", "Strip", "StripPoint", "Tick", "strips"]

REACH = 4.0
"""The place of either end: the window has a quarter of the strip, so that it is seen, and its inside too."""

FARTHEST = 1000.0
"""The factor at either end: slips of a prefix are of a thousand, and farther off nothing is told apart by its place."""

_FACTORS = (1.01, 1.1, 2.0, 10.0, FARTHEST)
"""Factors that an axis is marked with."""

_NARROWEST = 1e-4
"""The least half width, as a logarithm, that a scale begins at: windows of a number that is counted have none."""

_TOGETHER = 0.01
"""How far apart, as logarithms, answers of one pile may lie: rounded to three figures, one value spreads that wide."""

_LEAST, _LEAST_SHARE = 3, 0.05
"""Answers that are a pile: three in a small class, one in twenty in a large one."""

_SUSPICIOUS = 0.25
"""The share of all answers from which on a pile outside of the window speaks against the key, not the students."""

_MOST_PILES = 3


@dataclass(frozen=True)
class StripPoint:
    """One answer. `ratio` is that of answer and right answer, None where there is none; `place` as the module says.

    `place` is None where no number was read, or where the part asks for none.
    """

    student: str
    name: str
    attempt: int
    result: PartResult
    ratio: float | None = None
    place: float | None = None


@dataclass(frozen=True)
class Mass:
    """Answers that lie at one place outside the window: how many, at which factor, and what most are marked as.

    `is_suspicious`: so many that the key or its window should be looked at.
    """

    count: int
    ratio: float
    verdict: str
    title: str
    is_suspicious: bool


@dataclass(frozen=True)
class Tick:
    """A mark of an axis: the factor (below 1 on the left), and its place."""

    factor: float
    place: float


@dataclass(frozen=True)
class Strip:
    """One part of one template. `name` is the column, with the template's number behind it where there are several.

    `blank` answers are none of the `points`. A part that asks for no number has no `ticks`.
    """

    name: str
    label: str
    part: PartKey
    title: str
    points: tuple[StripPoint, ...]
    blank: int
    ticks: tuple[Tick, ...] = ()
    masses: tuple[Mass, ...] = ()

    @cached_property
    def verdicts(self) -> Mapping[str, int]:
        """How many answers have each verdict, in the order of these."""
        counts = Counter(point.result.verdict for point in self.points)
        return {verdict: counts[verdict] for verdict in VERDICTS if counts[verdict]}


def strips(head: KeyHead, results: Iterable[tuple[StudentKey, StudentResult]]) -> tuple[Strip, ...]:
    """The strips of all parts, in the order of the columns: what was handed in, each attempt by itself."""
    found: dict[tuple[str, str], list[tuple[StripPoint, NumberTruth | None]]] = {}
    parts: dict[tuple[str, str], PartKey] = {}
    for key, result in results:
        if not result.handed_in:
            continue
        by_place = {(one.problem, one.part): one for one in result.parts}
        for problem in key.problems:
            for part in head.templates[problem.template].parts:
                one, truth = by_place[problem.problem, part.id], problem.truths.get(part.id)
                number = truth if isinstance(truth, NumberTruth) else None
                place = (problem.label(part), problem.template)
                parts[place] = part
                point = StripPoint(key.student, key.name, key.attempt, one, _ratio(one.value, number))
                found.setdefault(place, []).append((point, number))
    order = {label: place for place, label in enumerate(head.columns)}
    places = sorted(found, key=lambda one: (order.get(one[0], len(order)), [*head.templates].index(one[1])))
    return tuple(
        _strip(name, place, parts[place], head.templates[place[1]].title, found[place])
        for name, place in zip(_names([label for label, _ in places]), places, strict=True)
    )


def _names(labels: Sequence[str]) -> Iterator[str]:
    """The columns, those that several templates have with a number behind them: "2a-1", "2a-2"."""
    counts, seen = Counter(labels), Counter[str]()
    for label in labels:
        seen[label] += 1
        yield f"{label}-{seen[label]}" if counts[label] > 1 else label


def _strip(
    name: str,
    place: tuple[str, str],
    part: PartKey,
    title: str,
    found: Sequence[tuple[StripPoint, NumberTruth | None]],
) -> Strip:
    unit = _unit(truth for _, truth in found if truth is not None)
    points = tuple(
        replace(point, place=_place(point, truth, unit)) if truth is not None else point
        for point, truth in found
        if point.result.verdict != "blank"
    )
    blank = len(found) - len(points)
    strip = Strip(name, place[0], part, title, points, blank)
    if all(truth is None for _, truth in found):
        return strip
    return replace(strip, ticks=tuple(_ticks(unit)), masses=tuple(_masses(points)))


def _ratio(value: Fraction | None, truth: NumberTruth | None) -> float | None:
    if value is None or truth is None or not truth.value:
        return None
    return as_float(value / truth.value)


def _half_widths(truth: NumberTruth) -> Iterator[float]:
    for bound in (truth.low, truth.high):
        if truth.value and bound / truth.value > 0:
            yield abs(math.log(as_float(bound / truth.value)))


def _unit(truths: Iterable[NumberTruth]) -> float:
    """The narrowest half width of a class, as a logarithm: where the outer zones begin."""
    widths = [width for truth in truths for width in _half_widths(truth) if width > _NARROWEST]
    return min([*widths, 0.1]) if widths else _NARROWEST


def _outside(log_ratio: float, unit: float) -> float:
    """The place of a factor outside of the window, by its logarithm; never inside, and never beyond the ends."""
    share = math.log(max(abs(log_ratio), unit) / unit) / math.log(math.log(FARTHEST) / unit)
    return math.copysign(min(1 + (REACH - 1) * max(share, 0.02), REACH), log_ratio)


def _place(point: StripPoint, truth: NumberTruth, unit: float) -> float | None:
    value = point.result.value
    if value is None:
        return None
    if truth.low <= value <= truth.high:
        bound = truth.high if value > truth.value else truth.low
        return as_float((value - truth.value) / abs(bound - truth.value)) if value != truth.value else 0.0
    if point.ratio is None:  # the right answer is 0: no factor leads from it
        return math.copysign(REACH, value)
    return _outside(math.log(point.ratio), unit) if point.ratio > 0 else -REACH


def _ticks(unit: float) -> Iterator[Tick]:
    for sign in (-1, 1):
        for factor in _FACTORS:
            if math.log(factor) > unit * 1.5:  # else it would stand in the border of the window
                yield Tick(factor**sign, _outside(sign * math.log(factor), unit))


def _masses(points: Sequence[StripPoint]) -> Iterator[Mass]:
    """The piles outside of the window, the largest first."""
    left = sorted(
        (math.log(point.ratio), place)
        for place, point in enumerate(points)
        if point.place is not None and abs(point.place) > 1 and point.ratio is not None and point.ratio > 0
    )
    least = max(_LEAST, _LEAST_SHARE * len(points))
    for _count in range(_MOST_PILES):
        pile = _densest(left)
        if len(pile) < least:
            return
        yield _mass([points[place] for _, place in pile], len(points))
        left = [one for one in left if one not in pile]


def _densest(logs: Sequence[tuple[float, int]]) -> Sequence[tuple[float, int]]:
    """The most values that lie together; `logs` are in order."""
    best, begin = (0, 0), 0
    for end in range(len(logs)):
        while logs[end][0] - logs[begin][0] > _TOGETHER:
            begin += 1
        if end + 1 - begin > best[1] - best[0]:
            best = (begin, end + 1)
    return logs[best[0] : best[1]]


def _mass(pile: Sequence[StripPoint], of: int) -> Mass:
    verdict, _times = Counter(point.result.verdict for point in pile).most_common(1)[0]
    titles = Counter("; ".join(point.result.titles) for point in pile if point.result.titles)
    title = titles.most_common(1)[0][0] if titles else ""
    ratio = median(point.ratio for point in pile if point.ratio is not None)
    return Mass(len(pile), ratio, verdict, title, is_suspicious=len(pile) >= _SUSPICIOUS * of)
