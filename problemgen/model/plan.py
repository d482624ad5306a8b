"""A plan of quantities: named steps from the given to the asked, and the usual mistakes along it."""

from __future__ import annotations

from collections.abc import Container, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, TypeAlias

from problemgen.model.expression import Expression, ExpressionArrays, names_in
from problemgen.model.file_types import FilledText, InMemory, LeftOut
from problemgen.model.problem import Asked, Constant
from problemgen.model.quantity import OVERALL_EXTENT, Quantity, Role

__all__ = ["Mistake", "Plan", "Rounding", "Route", "Step", "rewrites_of", "stale_steps", "steps_back"]

Rounding: TypeAlias = Literal["figures", "molar mass", "whole", "none"]


@dataclass(frozen=True)
class Step:
    """One law solved for one quantity."""

    quantity: Quantity
    """What the step yields."""

    law: FilledText
    """The law's id."""

    solved_for: str
    """The law's own letter for the quantity, which picks the words of the worked solution."""

    expression: ExpressionArrays
    """How it is worked."""

    rounding: Rounding
    """How a worker may round the result: to three figures or more, or those of the data ("figures"); a molar mass to
    two decimals, or the figures of the data; a whole number not at all; "none" where nothing was calculated."""

    @cached_property
    def needs(self) -> frozenset[str]:
        """The quantities, by id, that the step looks up."""
        return frozenset(names_in(self.expression))


@dataclass(frozen=True)
class Route:
    """Another way to an asked quantity than the plan's own, from what is given and what was answered before."""

    steps: tuple[Step, ...]
    """The steps off the plan, then the plan's own from there; the last yields what is asked."""

    @property
    def to(self) -> Quantity:
        """What it leads to."""
        return self.steps[-1].quantity


@dataclass(frozen=True)
class Mistake:
    """An error of one law along a plan: the steps that it rewrites, and the sentence for the student."""

    id: FilledText
    """The error, and behind a colon where it applies: "density-divided:acetic-anhydride"."""

    title: str
    """What the mistake is called."""

    hint: str
    """A sentence that tells what to look at and gives no answer away."""

    rewrites: tuple[tuple[str, ExpressionArrays], ...]
    """Pairs of a quantity's id and the mistaken expression for it."""

    harmless: LeftOut[bool] = False
    """Whether nothing needs to show it where the step comes out as it should all the same."""

    @property
    def is_about_the_reagent(self) -> bool:
        """Whether it is made in telling which reagent limits, and in nothing else."""
        return all(name == OVERALL_EXTENT.id for name, _ in self.rewrites)


@dataclass(frozen=True)
class Plan:
    """The chain from the given to the asked. Steps stand in an order in which they can be worked."""

    given: tuple[Quantity, ...]
    """The given quantities that the chain uses."""

    constants: tuple[Constant, ...]
    """The constants that the chain uses."""

    steps: tuple[Step, ...]
    """The steps, in an order in which they can be worked."""

    asked: InMemory[tuple[Asked, ...]]
    """What the chain leads to."""

    sources: tuple[str, ...]
    """The ids of the reagents whose amounts compete, in the order of the equation."""

    mistakes: tuple[Mistake, ...] = ()
    """The usual mistakes along it."""

    routes: LeftOut[tuple[Route, ...]] = ()
    """Other ways to what is asked."""

    def __hash__(self) -> int:
        """A hash of the steps, worked once: what follows from a plan alone is kept by plan."""
        return self._hash

    @cached_property
    def _hash(self) -> int:
        return hash(self.steps)

    @cached_property
    def _by_id(self) -> dict[str, Step]:
        return {step.quantity.id: step for step in self.steps}

    @cached_property
    def _steps_to(self) -> dict[str, tuple[Step, ...]]:
        return {}  # filled as it is asked for: judging asks the same again and again

    @cached_property
    def _stale(self) -> dict[tuple[str, ...], tuple[Step, ...]]:
        return {}  # as well

    @cached_property
    def compares(self) -> bool:
        """Whether what each of the competing reagents could give is asked, so that the comparison is on paper."""
        asked = {one.quantity for one in self.asked}
        from_each = {one.source for one in asked if one.role is Role.FROM}
        reached = {one.of for one in asked if one.kind == OVERALL_EXTENT.kind}
        return len(self.sources) > 1 and (from_each | reached).issuperset(self.sources)

    def step(self, quantity: Quantity) -> Step | None:
        """The step that yields a quantity; None where it is given."""
        return self._by_id.get(quantity.id)

    def steps_to(self, name: str) -> tuple[Step, ...]:
        """The steps that one quantity (by id) needs, its own last, in order."""
        if name not in self._steps_to:
            self._steps_to[name] = self.steps_since(name, ())
        return self._steps_to[name]

    def steps_since(self, name: str, known: Container[str]) -> tuple[Step, ...]:
        """The steps that one quantity (by id) needs where some others are known already, its own last, in order."""
        return steps_back(self.steps, name, known)

    def routes_to(self, quantity: Quantity) -> tuple[Route, ...]:
        """The other ways to an asked quantity."""
        return tuple(route for route in self.routes if route.to == quantity)

    def needs_of(self, step: Step) -> frozenset[str]:
        """The quantities, by id, that a step rests on: those that it looks up, and what they are worked from."""
        before = (one for name in step.needs for one in self.steps_to(name))
        return frozenset[str]().union(step.needs, *(one.needs for one in before))

    def ways_need(self, quantity: Quantity) -> frozenset[str]:
        """The quantities, by id, that the plan's way and the other ways to an asked quantity rest on."""
        steps = [*self.steps_to(quantity.id), *(step for route in self.routes_to(quantity) for step in route.steps)]
        return frozenset[str]().union(*map(self.needs_of, steps))

    def stale(self, changed: Iterable[str]) -> tuple[Step, ...]:
        """The steps that change when the named quantities do, those quantities' own among them, in order."""
        names = tuple(changed)
        if names not in self._stale:
            self._stale[names] = stale_steps(self.steps, names)
        return self._stale[names]


def steps_back(steps: Sequence[Step], name: str, known: Container[str]) -> tuple[Step, ...]:
    """Of some steps in order, those that one quantity (by id) needs where some others are known already."""
    needed = {name}
    picked: list[Step] = []
    for step in reversed(steps):
        if step.quantity.id in needed:
            needed |= {one for one in step.needs if one not in known}
            picked.append(step)
    return tuple(reversed(picked))


def stale_steps(steps: Iterable[Step], changed: Iterable[str]) -> tuple[Step, ...]:
    """Of some steps in an order in which they can be worked, those that change when the named quantities do."""
    dirty = set(changed)
    picked: list[Step] = []
    for step in steps:
        if step.quantity.id in dirty or not dirty.isdisjoint(step.needs):
            dirty.add(step.quantity.id)
            picked.append(step)
    return tuple(picked)


def rewrites_of(mistakes: Iterable[Mistake]) -> dict[str, Expression]:
    """The steps that mistakes made together rewrite; where two rewrite one step, the first stands."""
    rewrites: dict[str, Expression] = {}
    for mistake in mistakes:
        for name, expression in mistake.rewrites:
            rewrites.setdefault(name, expression)
    return rewrites
