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
from problemgen.plan.plain import plain_value
from problemgen.plan.tries import Try, Units, tries_of

__all__ = ["EXTENT", "Path", "Way", "pairs_along", "ways_along", "worked_along"]

EXTENT = OVERALL_EXTENT.id
"""The extent of the reaction, by which the limiting reagent was chosen."""


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
    """One explanation of an answer: the tries made together, and the steps that change by them, in order, as worked."""

    tries: tuple[Try, ...]
    steps: tuple[tuple[str, Expression], ...]

    @cached_property
    def rank(self) -> int:
        """How near at hand it is: that of its tries which is least so."""
        return max(one.rank for one in self.tries)


def worked_along(way: Way, values: Mapping[str, float]) -> dict[str, float]:
    """The values after a way (engine units): those that it changes in the place of the others; nan for no value."""
    result = dict(values)
    for name, expression in way.steps:
        result[name] = plain_value(expression, result)
    return result


@lru_cache(maxsize=4096)
def ways_along(plan: Plan, units: Units, path: Path) -> tuple[Way, ...]:
    """All ways with one thing worked otherwise: at one step, or the same at every step along the path."""
    tries, chosen = tries_of(plan, units), path.chosen if path.asked != EXTENT else ""
    steps = plan.steps_since(path.asked, path.known)
    alone = ((one,) for step in steps for one in tries[step])
    found = [_way(together, steps, (), chosen) for together in (*alone, *_grouped(steps, tries))]
    for route in plan.routes:
        if route.to.id == path.asked:
            off = [step for step in route.steps if plan.step(step.quantity) != step]
            found += (_way((one,), route.steps, route.steps, chosen) for step in off for one in tries[step])
    return tuple(found)


@lru_cache(maxsize=1024)
def pairs_along(plan: Plan, units: Units, path: Path, most: int) -> tuple[Way, ...]:
    """All ways with two things worked otherwise, at two steps of the path; tries of a rank up to `most` alone."""
    tries, chosen = tries_of(plan, units), path.chosen if path.asked != EXTENT else ""
    steps = plan.steps_since(path.asked, path.known)
    near = [one for step in steps for one in tries[step] if one.rank <= most]
    return tuple(_way(pair, steps, (), chosen) for pair in combinations(near, 2) if pair[0].step != pair[1].step)


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
