"""A first look at which usual mistakes, alone or two together, may explain an answer: all at once, in floats.

Some hundred pairs lie so close that almost any number is near one of them. A pair is worth naming only where an
answer of no relation would hardly come as near to any pair as this one does: where that is expected in fewer than one
case in twenty (`LIKELY_BY_CHANCE`), taking the pairs around the answer as spread evenly on a scale of powers.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from math import isfinite, log

import numpy as np
import numpy.typing as npt

from problemgen.chemistry.units import read_unit
from problemgen.exact.rounding import half_unit
from problemgen.grade.findings import Said
from problemgen.model.plan import Mistake, Plan, rewrites_of
from problemgen.model.quantity import Quantity
from problemgen.plan.arithmetic import Window
from problemgen.plan.variations import Changes, as_float, changes_of, varied_values

__all__ = ["LIKELY_BY_CHANCE", "RULES", "Reached", "likely_choosers", "likely_pairs", "likely_singles", "reached_from"]

LIKELY_BY_CHANCE = 0.05
"""The expected number of pairs as near to an unrelated number, above which no pair is named.

One in twenty, as is usual for a test of significance: a student told of mistakes that were not made loses more than
one who is told only that the answer is wrong.
"""

_AROUND = 2.0
"""Pairs within this factor of an answer, up or down, tell how close the pairs lie there: near enough to be
as dense as at the answer, and wide enough to hold some."""

_LOOSE = 0.1
"""How far, relatively, mistakes may lie from an answer in floats to be worked exactly: wider than any window."""

_SAME = 1e-9
"""How far apart, relatively, two ways to reach one value come out in floats: a few hundred operations lose less."""

_DECIMALS = 9
"""Two values whose logarithms are alike to so many decimals are one: as near as `_SAME`."""

RULES: Mapping[str, object] = {
    "likely_by_chance": LIKELY_BY_CHANCE,
    "around": _AROUND,
    "loose": _LOOSE,
    "same": _SAME,
    "decimals": _DECIMALS,
}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""

Floats = npt.NDArray[np.float64]
Mask = npt.NDArray[np.bool_]


@dataclass(frozen=True)
class _Ways:
    """All single mistakes of a plan, a row each, then all pairs; `first` and `second` are the rows of a pair's two."""

    changes: Changes
    pairs: tuple[tuple[Mistake, Mistake], ...]
    first: npt.NDArray[np.int64]
    second: npt.NDArray[np.int64]
    singles: int


@lru_cache(maxsize=256)
def _ways(plan: Plan) -> _Ways:
    """The pairs of a plan: two mistakes that rewrite one step cannot be made together."""
    rewrites = [rewrites_of([mistake]) for mistake in plan.mistakes]
    rows = [
        (one, other)
        for one, other in combinations(range(len(rewrites)), 2)
        if rewrites[one].keys().isdisjoint(rewrites[other])
    ]
    changes = changes_of([*rewrites, *({**rewrites[one], **rewrites[other]} for one, other in rows)])
    first, second = np.array(rows, dtype=np.int64).reshape(-1, 2).T
    pairs = tuple((plan.mistakes[one], plan.mistakes[other]) for one, other in rows)
    return _Ways(changes, pairs, first, second, len(rewrites))


@dataclass(frozen=True)
class Reached:
    """Where all mistakes and pairs lead from one state of a problem, in floats; what is near is worked exactly."""

    ways: _Ways
    right: Mapping[str, float]
    values: Mapping[str, Floats]

    def all(self, name: str) -> Floats:
        """A quantity's value, a row each, whether any row changes it or not."""
        if name in self.values:
            return self.values[name]
        return np.full(self.ways.singles + self.pairs, self.right[name])

    @property
    def pairs(self) -> int:
        """How many pairs there are."""
        return len(self.ways.pairs)


def reached_from(plan: Plan, start: Mapping[str, Window]) -> Reached:
    """Where all mistakes and pairs lead from a state of the problem."""
    ways = _ways(plan)
    right = {name: as_float(window.value) for name, window in start.items()}
    return Reached(ways, right, varied_values(plan.steps, ways.changes, right, ways.singles + len(ways.pairs)))


@np.errstate(all="ignore")
def likely_singles(reached: Reached, plan: Plan, said: Said, numbers: Sequence[Said]) -> list[Mistake]:
    """The single mistakes that may explain a value, and agree with what was answered before."""
    name, singles = said.asked.quantity.id, slice(reached.ways.singles)
    if name not in reached.values:
        return []
    values = reached.values[name][singles]
    changed = ~(np.abs(values - reached.right[name]) <= _SAME * abs(reached.right[name]))
    likely = changed & _near(values, as_float(said.engine)) & _agree(reached, singles, numbers)
    return [plan.mistakes[row] for row in np.flatnonzero(likely)]


@np.errstate(all="ignore")
def likely_choosers(reached: Reached, plan: Plan, chosen: str, numbers: Sequence[Said]) -> list[Mistake]:
    """The single mistakes that may make a reagent the limiting one, and agree with what was answered before."""
    overall, singles = Quantity("extent", "").id, slice(reached.ways.singles)
    if overall not in reached.values:
        return []
    distances = {
        source: np.abs(reached.all(Quantity("extent", source).id)[singles] - reached.all(overall)[singles])
        for source in plan.sources
    }
    same = _SAME * np.abs(reached.all(overall)[singles])
    nearest = np.min(np.stack(list(distances.values())), axis=0)
    likely = (distances[chosen] <= nearest + same) & _agree(reached, singles, numbers)
    return [plan.mistakes[row] for row in np.flatnonzero(likely)]


@np.errstate(all="ignore")
def likely_pairs(reached: Reached, said: Said, numbers: Sequence[Said]) -> list[list[tuple[Mistake, Mistake]]]:
    """The pairs that may explain a value, and agree with what was answered before; those of one value together."""
    ways, values, target = reached.ways, reached.values, as_float(said.engine)
    name, pairs = said.asked.quantity.id, slice(reached.ways.singles, None)
    if not ways.pairs or not target or not isfinite(target) or name not in values:
        return []
    mine = values[name][pairs]
    eligible = _both_show(values[name], ways, reached.right[name]) & _agree(reached, pairs, numbers)
    return [
        [ways.pairs[row] for row in rows]
        for rows in _groups(mine, np.flatnonzero(eligible & _near(mine, target)))
        if _by_chance(mine[eligible], float(mine[rows[0]]), said) <= LIKELY_BY_CHANCE
    ]


def _both_show(values: Floats, ways: _Ways, right: float) -> Mask:
    """Where both mistakes tell in the value: without either, it would be another, and it is not the right one."""
    reached = values[ways.singles :]
    apart = np.isfinite(reached) & (reached != 0)
    for other in (values[ways.first], values[ways.second], np.float64(right)):
        apart &= np.abs(reached - other) > _SAME * np.abs(reached)
    return np.asarray(apart)


def _agree(reached: Reached, rows: slice, numbers: Sequence[Said]) -> Mask:
    """Where the values come near to what was answered before, or are not touched."""
    agree = np.ones(len(reached.ways.pairs) + reached.ways.singles, dtype=np.bool_)
    for one in numbers:
        name = one.asked.quantity.id
        if name in reached.values:
            untouched = np.abs(reached.values[name] - reached.right[name]) <= _SAME * abs(reached.right[name])
            agree &= untouched | _near(reached.values[name], as_float(one.engine))
    return agree[rows]


def _near(values: Floats, target: float) -> Mask:
    if not target:
        return np.ones_like(values, np.bool_)
    return np.asarray(isfinite(target) & (np.abs(values - target) <= _LOOSE * abs(target)))


def _groups(values: Floats, rows: npt.NDArray[np.int64]) -> list[list[int]]:
    """Rows of one value together, in the order of the rows."""
    groups: list[list[int]] = []
    for row in rows.tolist():
        group = next((g for g in groups if abs(values[row] - values[g[0]]) <= _SAME * abs(values[row])), None)
        if group is None:
            groups.append([row])
        else:
            group.append(row)
    return groups


def _by_chance(values: Floats, value: float, said: Said) -> float:
    """How many of the pairs' values an unrelated number is expected to come as near to as this answer does to one."""
    target = as_float(said.engine)
    ratios = values / target
    around = np.log(ratios[(ratios > 1 / _AROUND) & (ratios < _AROUND)])
    distinct = len(np.unique(np.round(around, _DECIMALS)))
    half = float(half_unit(said.value, said.written) * read_unit(said.asked.unit).factor)
    nearness = max(abs(value - target), half) / abs(target)
    return distinct * nearness / log(_AROUND)
