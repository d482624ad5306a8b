"""The paths from what a student knows to what is asked, and where they lead with something worked otherwise.

A path starts at what was answered before: a part that came out right shows that its steps were right, and a wrong one
was judged there. Only the steps behind it may have gone astray.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import combinations

from problemgen.model.expression import Expression
from problemgen.model.plan import Plan, Step, stale_steps
from problemgen.model.quantity import OVERALL_EXTENT, Quantity
from problemgen.plan.programs import Program
from problemgen.plan.tries import RANK, Try, Units, tries_of

__all__ = ["EXTENT", "PAIRS_UP_TO", "Path", "Way", "Ways", "ways_along"]

EXTENT = OVERALL_EXTENT.id
"""The extent of the reaction, by which the limiting reagent was chosen."""

PAIRS_UP_TO = RANK["common"]
"""Pairs are made of tries of this rank or a nearer one alone: of all there are too many to tell anything."""


@dataclass(frozen=True)
class Path:
    """What a student knows when they come to a part: by quantity id, and which reagent they hold to be the limiting.

    `chosen` is "" where nothing was said of it.
    """

    asked: str
    known: frozenset[str]
    chosen: str = ""


@dataclass(frozen=True)
class Way:
    """One explanation of an answer: the tries made together, and the steps that change by them, in order, as worked.

    The last step is that to what is asked: a path has none that does not lead there.
    """

    tries: tuple[Try, ...]
    steps: tuple[tuple[str, Expression], ...]

    @cached_property
    def rank(self) -> int:
        """How near at hand it is: that of its tries which is least so."""
        return max(one.rank for one in self.tries)


class Ways:
    """All ways along some steps to what is asked, in the order in which they are tried, and where they lead."""

    def __init__(self, plan: Plan, units: Units, asked: str, steps: Sequence[Step], chosen: str) -> None:
        """Work out what may have been worked otherwise, by a worker who holds that reagent to be the limiting one."""
        self._steps, self._chosen = steps, chosen
        tries = tries_of(plan, units)
        self._branches = [self._branch_at(plan, units, step) for step in self._steps]
        others = [_way(together, self._steps, (), self._chosen) for together in _grouped(self._steps, tries)]
        for route in plan.routes:
            if route.to.id == asked:
                off = [step for step in route.steps if plan.step(step.quantity) != step]
                others += (_way((one,), route.steps, route.steps, self._chosen) for step in off for one in tries[step])
        self._others, self._work_others = others, Program([way.steps for way in others])
        self.alone = (*(way for branch in self._branches for way in (*branch.near, *branch.far)), *others)
        """Those with one thing worked otherwise: at one step, or the same at every step along the path."""

    def _branch_at(self, plan: Plan, units: Units, step: Step) -> _Branch:
        names = tuple(one.quantity.id for one in stale_steps(self._steps, [step.quantity.id]))
        return _branch(plan, units, names, self._chosen if EXTENT in names else "")

    @cached_property
    def pairs(self) -> tuple[Way, ...]:
        """Those with two things worked otherwise, at two steps of the path; of near tries alone."""
        near = [one for branch in self._branches for way in branch.near for one in way.tries]
        pairs = (pair for pair in combinations(near, 2) if pair[0].step != pair[1].step)
        return tuple(_way(pair, self._steps, (), self._chosen) for pair in pairs)

    def reached(self, values: Mapping[str, float]) -> list[float]:
        """Where the ways with one thing worked otherwise lead from some values (engine units); nan for no value."""
        works = (*(branch.work for branch in self._branches), self._work_others)
        return [value for work in works for value in work.lasts(values)]

    def compared(self, values: Mapping[str, float]) -> Iterator[tuple[Way, dict[str, float]]]:
        """The ways of near tries alone, and what the steps of each yield from some values; nan for no value."""
        works = [(branch.near, _work_near((branch,))) for branch in self._branches]
        for ways, work in (*works, (self._others, self._work_others)):
            for way, run in zip(ways, work.each(values), strict=True):
                if way.rank <= PAIRS_UP_TO:
                    yield way, {name: value for (name, _), value in zip(way.steps, run, strict=True)}

    def reached_by_pairs(self, values: Mapping[str, float]) -> list[float]:
        """Where the pairs lead from some values (engine units); nan for no value.

        The second thing is worked from what the first one led to: no step is worked before those that it needs.
        """
        found: list[float] = []
        for place, branch in enumerate(self._branches):
            later = tuple(other for other in self._branches[place + 1 :] if other.near)
            for state in branch.near_states(values) if later else ():
                found += _work_near(later).lasts(state)
        return found


class _Branch:
    """The ways that go astray at one step of a path: those that pairs are made of, and the others behind them."""

    def __init__(self, ways: Sequence[Way]) -> None:
        self.near = [way for way in ways if way.rank <= PAIRS_UP_TO]
        self.far = [way for way in ways if way.rank > PAIRS_UP_TO]
        self.work = Program([way.steps for way in (*self.near, *self.far)])
        self._names = [name for name, _ in ways[0].steps] if ways else []

    def near_states(self, values: Mapping[str, float]) -> Iterator[dict[str, float]]:
        """All values after each of the near ways."""
        for run in _work_near((self,)).each(values):
            yield {**values, **dict(zip(self._names, run, strict=True))}


@lru_cache(maxsize=4096)
def _work_near(branches: tuple[_Branch, ...]) -> Program:
    """The near ways of some branches, one branch after another: paths that end alike share them."""
    return Program([way.steps for branch in branches for way in branch.near])


@lru_cache(maxsize=4096)
def _branch(plan: Plan, units: Units, changed: tuple[str, ...], chosen: str) -> _Branch:
    """The ways that err at the first of the steps that change by it: paths that go on alike share them, worked once."""
    steps = [step for step in plan.steps if step.quantity.id in changed]
    return _Branch([_way((one,), steps, steps, chosen) for one in tries_of(plan, units)[steps[0]]])


@lru_cache(maxsize=4096)
def ways_along(plan: Plan, units: Units, path: Path) -> Ways:
    """All ways with something worked otherwise along a path."""
    steps = plan.steps_since(path.asked, path.known)
    routes = (route.steps for route in plan.routes if route.to.id == path.asked)
    names = {step.quantity.id for some in (steps, *routes) for step in some}
    chosen = path.chosen if EXTENT in names and path.asked != EXTENT else ""
    return _ways(plan, units, path.asked, tuple(step.quantity.id for step in steps), chosen)


@lru_cache(maxsize=4096)
def _ways(plan: Plan, units: Units, asked: str, names: tuple[str, ...], chosen: str) -> Ways:
    """The ways along the steps to some quantities (ids): paths from knowing more come by the same steps."""
    return Ways(plan, units, asked, [step for step in plan.steps if step.quantity.id in names], chosen)


def _grouped(steps: Sequence[Step], tries: Mapping[Step, Sequence[Try]]) -> Iterator[tuple[Try, ...]]:
    """The same error at every step that it applies to, where there are several."""
    groups: dict[str, dict[str, Try]] = {}
    for step in steps:
        for one in tries[step]:
            if one.group:
                groups.setdefault(one.group, {}).setdefault(one.step, one)
    yield from (tuple(group.values()) for group in groups.values() if len(group) > 1)


def _way(together: tuple[Try, ...], steps: Sequence[Step], anew: Sequence[Step], chosen: str) -> Way:
    """The way of some tries: the steps that change by them, or all those that are worked `anew`.

    Who has named a limiting reagent goes on with that one, unless it is there that they err.
    """
    instead = {one.step: one.expression for one in together}
    as_worked: dict[str, Expression] = {EXTENT: Quantity("extent", chosen).id} if chosen else {}
    as_worked |= instead
    changed = anew or stale_steps(steps, instead)
    return Way(together, tuple((s.quantity.id, as_worked.get(s.quantity.id, s.expression)) for s in changed))
