"""Which mistakes explain an answer, from what the same student knew when they came to it.

All ways along the path from what was answered before are worked in floats, and compared with the answer. An error that
the law's file lists goes before an error derived from the step's algebra, one step before two. A listed error is
recognised where an honest worker's window would be, a derived error only where the answer agrees to the figures
written: there are many of them, and an unrelated number should hardly ever meet one.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, cached_property
from itertools import pairwise
from math import isfinite, log

from problemgen.chemistry.units import read_unit
from problemgen.exact.rounding import half_unit
from problemgen.grade.judging.findings import AnsweredNumber
from problemgen.grade.judging.paper import Paper
from problemgen.language.messages import _
from problemgen.model.answers import PartKey
from problemgen.model.quantity import Quantity
from problemgen.model.truths import NumberTruth
from problemgen.plan.arithmetic import Window
from problemgen.plan.paths import EXTENT, PAIRS_UP_TO, Way, Ways
from problemgen.plan.tellings import OTHER_REAGENT
from problemgen.plan.tries import COMPLEMENT, MISREAD, RANK
from problemgen.plan.variations import as_float

__all__ = [
    "MOST_TOLD",
    "RULES",
    "Found",
    "Start",
    "mistakes_behind",
    "mistakes_behind_choice",
    "pairs_behind",
    "starts_of",
]

MOST_TOLD = 2
"""So many candidates are told at most: nobody reads on, and who is told five things is told nothing."""

_NEAREST = Fraction(3, 1000)
"""How far, relatively, an answer may be from where a derived error leads.

Tried on some thousand errors of simulated students with 23 candidates a wrong part: with 0.3 % more than two candidates
match in 1 % of them; with 0.6 % one random wrong number in thirty is given a name.
"""

_LEAST_WRITTEN = 0.005
"""What three figures leave open at most: an answer that agrees to all of them is near enough."""

_SAME = 1e-9
"""How far apart, relatively, two ways to reach one value come out in floats: a few hundred operations lose less."""

LIKELY_BY_CHANCE = 0.05
"""The expected number of explanations as near to an unrelated number, above which none of them is named.

One in twenty, as is usual for a test of significance: a student told of mistakes that were not made loses more than
one who is told only that the answer is wrong.
"""

_AROUND = 2.0
"""Pairs within this factor of an answer, up or down, tell how close the pairs lie there: near enough to be
as dense as at the answer, and wide enough to hold some."""

RULES: Mapping[str, object] = {
    "most_told": MOST_TOLD,
    "nearest": float(_NEAREST),
    "least_written": _LEAST_WRITTEN,
    "same": _SAME,
    "likely_by_chance": LIKELY_BY_CHANCE,
    "around": _AROUND,
    "pairs_up_to": PAIRS_UP_TO,
    "ranks": RANK,
    "misread": MISREAD,
    "complement": COMPLEMENT,
    "other_reagent": OTHER_REAGENT,
}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


@dataclass(frozen=True)
class Found:
    """A way that leads to an answer, from these values (engine units), and how far off it is, relatively."""

    way: Way
    values: Mapping[str, float]
    off: float


def mistakes_behind(paper: Paper, start: Start, *, misread: bool = False) -> tuple[Found, ...]:
    """The ways with one thing worked otherwise that lead from a start to a number, the nearest at hand; at most two.

    `misread`: only those with a molar mass misread, which changes an answer as little as rounding does; else the rest.
    """
    found = _matches(paper, start, misread=misread)
    return _told(found) if found else ()


@dataclass(frozen=True)
class Start:
    """From where a student may have gone wrong: the ways from there, and the values at hand (engine units).

    `near` tells what leads to the answer. `carried` is the window of the part by the student's own earlier answers,
    where these are what was started from.
    """

    near: _Nearness
    ways: Ways
    values: Mapping[str, float]
    carried: Window | None = None

    @cached_property
    def reached(self) -> list[float]:
        """Where the ways with one thing worked otherwise lead (engine units), in their order."""
        return self.ways.reached(self.values)

    @cached_property
    def within_reach(self) -> Sequence[int]:
        """The places of those that may count at all."""
        return self.near.within_reach(self.reached)


def starts_of(paper: Paper, part: PartKey, truth: NumberTruth, answer: AnsweredNumber) -> list[Start]:
    """The student's own values, where some are wrong, and the right ones."""
    name, near = part.asked.quantity.id, _Nearness.of(truth, answer)
    carried = paper.carried_to(part)
    right = Start(near, paper.ways(name, carrying=False), paper.right_floats)
    if carried is None:
        return [right]
    values = {**paper.right_floats, **paper.floats(carried)}
    return [Start(near, paper.ways(name, carrying=True), values, paper.answer(answer, carried)), right]


def _matches(paper: Paper, start: Start, *, misread: bool) -> list[tuple[int, Found]]:
    near, found = start.near, list[tuple[int, Found]]()
    for place in range(len(start.reached)) if paper.trials is not None else start.within_reach:
        way, value = start.ways.alone[place], near.in_unit(start.reached[place])
        if (way.tries[0].how == MISREAD) is not misread:
            continue
        off = near.off(value)
        closely = off <= _LEAST_WRITTEN and off <= near.close(value)
        fits = (closely or off <= near.loose(way, value)) and not near.is_right(value)
        if paper.trials is not None:
            paper.tried_way("mistake", way, value, near.why(value, fits=fits), fits=fits)
        if fits:
            # What only lies in the window of a listed error comes behind what agrees to the figures written.
            found.append((way.rank if closely else len(RANK), Found(way, start.values, off)))
    listed = RANK["listed"]
    return [pair for pair in found if pair[1].way.rank == listed or _stands_out(pair[1].way, start)]


def _stands_out(found: Way, start: Start) -> bool:
    """Whether the ways that are as near at hand lie so far apart that an unrelated number hardly meets one."""
    is_misread = found.tries[0].how == MISREAD
    beside = (
        start.near.in_unit(value)
        for way, value in zip(start.ways.alone, start.reached, strict=True)
        if way.rank <= found.rank and (way.tries[0].how == MISREAD) is is_misread
    )
    return _by_chance([*beside], start.near) <= LIKELY_BY_CHANCE


def _told(found: Sequence[tuple[int, Found]]) -> tuple[Found, ...]:
    """Of several explanations those nearest at hand; of these, those that come nearest, each of another idea."""
    best = min(rank for rank, _ in found)
    kept: dict[tuple[str, ...], Found] = {}
    for rank, one in sorted(found, key=lambda pair: pair[1].off):
        if rank == best:
            kept.setdefault(tuple(one_try.mistake.id for one_try in one.way.tries), one)
    return _simplest([*kept.values()])[:MOST_TOLD]


def _simplest(found: Sequence[Found]) -> tuple[Found, ...]:
    """Without what leads there only because another reagent then limits: who takes that one arrives at once."""
    compared = [one for one in found if EXTENT in {one_try.step for one_try in one.way.tries}]
    return tuple(one for one in found if one in compared or all(abs(one.off - other.off) > _SAME for other in compared))


@dataclass(frozen=True)
class _Nearness:
    """What counts as leading to a number, in the unit asked for; `half_window` and the figures alone are relative."""

    half_window: float
    half_size: float
    half_written: float
    last_digit: int
    target: float
    low: float
    high: float
    zero: float
    size: float

    @classmethod
    def of(cls, truth: NumberTruth, answer: AnsweredNumber) -> _Nearness:
        n, d = truth.value.as_integer_ratio()
        zero, size = _place_and_size(answer.asked.unit)
        # In whole numbers, each divided once: to the last bit what the Fractions come to.
        over, under = _half_width(truth)
        return cls(
            half_window=over * d / (under * abs(n)) if n else over / under,
            half_size=over / under,
            half_written=as_float(half_unit(answer.value, answer.written)) if answer.value else 0.0,
            last_digit=truth.figures,
            target=as_float(answer.value),
            low=float(truth.low),
            high=float(truth.high),
            zero=zero,
            size=size,
        )

    def in_unit(self, value: float) -> float:
        """A float in engine units, in the unit asked for."""
        return (value - self.zero) / self.size

    def within_reach(self, values: Sequence[float]) -> Sequence[int]:
        """The places of those values (engine units) that may count at all, found by two comparisons.

        None is missed: no rule allows for more, relatively or as it stands.
        """
        share = max(self.half_window, _LEAST_WRITTEN, float(_NEAREST))
        if share >= 1:
            return range(len(values))
        far = max(share * abs(self.target) / (1 - share), self.half_size, self.half_written)
        spare = _SAME * ((abs(self.target) + far) * self.size + abs(self.zero))
        low = (self.target - far) * self.size + self.zero - spare
        high = (self.target + far) * self.size + self.zero + spare
        return [place for place, value in enumerate(values) if low <= value <= high]

    def is_right(self, value: float) -> bool:
        return self.low <= value <= self.high

    def leads_astray(self, value: float) -> bool:
        """Whether a value is a number, and not the right one."""
        return isfinite(value) and bool(value) and not self.is_right(value)

    def off(self, value: float) -> float:
        """How far, relative to the value, the answer is from it."""
        return abs(self.target - value) / abs(value) if value else float("inf")

    def close(self, value: float) -> float:
        """How far a derived error may be off: what the figures of the answer leave open, and one unit of the data's."""
        if not isfinite(value) or not value:
            return 0.0
        written = self.half_written / abs(value)
        return max(min(float(_NEAREST), written + 10.0 ** (1 - self.last_digit)), min(written, _LEAST_WRITTEN))

    def loose(self, way: Way, value: float) -> float:
        """How far a listed error may be off: as far as an honest worker from the right value.

        The rest of a whole is as far off as the part is: more of itself, where it is small.
        """
        if not isfinite(value) or not value:
            return 0.0
        if way.tries[-1].how == COMPLEMENT:
            return max(self.half_size, self.half_written) / abs(value)
        return max(self.half_window, self.half_written / abs(value)) if way.rank == RANK["listed"] else 0.0

    def why(self, value: float, *, fits: bool) -> str:
        if not isfinite(value):
            return _("cannot be worked: a division by zero")
        if self.is_right(value):
            return _("changes nothing in this part")
        return _("leads to this answer, from what was answered before") if fits else _("leads elsewhere")


@cache
def _place_and_size(unit: str) -> tuple[float, float]:
    """Where a unit's 0 lies, and how much one of it is, in engine units."""
    read = read_unit(unit)
    return float(read.offset), float(read.factor)


def _half_width(truth: NumberTruth) -> tuple[int, int]:
    """Half the width of a window, as numerator and denominator."""
    low, under_low = truth.low.as_integer_ratio()
    high, under_high = truth.high.as_integer_ratio()
    return high * under_low - low * under_high, 2 * under_low * under_high


# two at once


def pairs_behind(paper: Paper, starts: Iterable[Start]) -> tuple[Found, ...]:
    """Two things worked otherwise at two steps that lead to a number, where that is hardly by chance."""
    for start in starts:
        near, reached = start.near, start.ways.reached_by_pairs(start.values)
        at_hand = ((place, near.in_unit(reached[place])) for place in near.within_reach(reached))
        astray = ((place, value) for place, value in at_hand if near.leads_astray(value))
        matching = [(place, value) for place, value in astray if near.off(value) <= near.close(value)]
        if len(_distinct(value for _, value in matching)) != 1:
            continue
        beside = [value for value in map(near.in_unit, reached) if near.leads_astray(value)]
        if _by_chance(beside, near) <= LIKELY_BY_CHANCE:
            found = tuple(Found(start.ways.pairs[place], start.values, near.off(value)) for place, value in matching)
            for one, (_place, value) in zip(found, matching, strict=True) if paper.trials is not None else ():
                paper.tried_way("two mistakes", one.way, value, near.why(value, fits=True), fits=True)
            return found[:MOST_TOLD]
    paper.tried("two mistakes", _("pairs of these"), _("none is so near that it is not by chance"), fits=False)
    return ()


def _distinct(values: Iterable[float]) -> list[float]:
    kept: list[float] = []
    for value in values:
        if all(abs(value - other) > _SAME * abs(value) for other in kept):
            kept.append(value)
    return kept


def _by_chance(values: Sequence[float], near: _Nearness) -> float:
    """How many of some values an unrelated number is expected to come as near to as is told of."""
    around = [value for value in values if 1 / _AROUND < value / near.target < _AROUND] if near.target else []
    return _count_distinct(around) * near.close(near.target) / log(_AROUND)


def _count_distinct(values: Sequence[float]) -> int:
    ordered = sorted(values)
    return len(ordered) and 1 + sum(b - a > _SAME * abs(b) for a, b in pairwise(ordered))


# choices


def mistakes_behind_choice(paper: Paper, chosen: str) -> tuple[Found, ...]:
    """The ways that make this reagent the limiting one, from what was answered before; none where many do."""
    values = paper.right_floats
    sources = [(source, Quantity("extent", source).id) for source in paper.template.plan.sources]
    found: list[Found] = []
    for way, yields in paper.ways(EXTENT, carrying=False).compared(values):
        overall = yields.get(EXTENT, values[EXTENT])
        off = {source: abs(yields.get(extent, values[extent]) - overall) for source, extent in sources}
        fits = all(map(isfinite, off.values())) and min(off, key=lambda source: off[source]) == chosen
        if paper.trials is not None:
            paper.tried_way(
                "mistake", way, None, _("leads to this reagent") if fits else _("leads to another reagent"), fits=fits
            )
        if fits:
            found.append(Found(way, values, 0.0))
    return _chosen_by(found)


def _chosen_by(found: Sequence[Found]) -> tuple[Found, ...]:
    """Of several explanations of a choice those about the comparison itself; any other reagent may just be guessed.

    That the reagent in excess was taken says no more than that the wrong one was: it is told where nothing else is.
    """
    compared = [one for one in found if one.way.rank == RANK["listed"] and EXTENT in {t.step for t in one.way.tries}]
    meant = [one for one in compared if one.way.tries[0].how != "excess-taken"]
    others = [one for one in found if one.way.rank == RANK["listed"] and one not in compared]
    return tuple((meant or compared or others or found)[:MOST_TOLD])
