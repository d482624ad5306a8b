"""A plan of quantities: named steps from the given to the asked, and the usual mistakes along it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from problemgen.model.expression import Expression, names_in
from problemgen.model.problem import Asked, Constant
from problemgen.model.quantity import Quantity

__all__ = ["Mistake", "Plan", "Step"]


@dataclass(frozen=True)
class Step:
    """One law solved for one quantity.

    `rounding` tells how a worker may round the result: "figures" (three or more, or those of the data),
    "molar mass" (two decimals, or the figures of the data), "whole" (a whole number, which rounding leaves as it is),
    or "none" (nothing was calculated).
    `solved_for` is the law's own letter for the quantity, which picks the words of the worked solution.
    """

    quantity: Quantity
    law: str
    solved_for: str
    expression: Expression
    rounding: str

    @cached_property
    def needs(self) -> frozenset[str]:
        """The quantities, by id, that the step looks up."""
        return frozenset(names_in(self.expression))


@dataclass(frozen=True)
class Mistake:
    """A misuse of one law along a plan: the steps that it rewrites, and the sentence for the student."""

    id: str  # the misuse, and where it applies: "density-divided:acetic-anhydride"
    title: str
    hint: str
    rewrites: tuple[tuple[str, Expression], ...]  # quantity id -> mistaken expression
    harmless: bool = False  # where the step comes out as it should all the same, nothing needs to show it


@dataclass(frozen=True)
class Plan:
    """The chain from the given to the asked. Steps stand in an order in which they can be worked."""

    given: tuple[Quantity, ...]
    constants: tuple[Constant, ...]
    steps: tuple[Step, ...]
    asked: tuple[Asked, ...]
    sources: tuple[str, ...]  # the reagents whose amounts compete, in the order of the equation
    mistakes: tuple[Mistake, ...] = ()

    def __hash__(self) -> int:
        """A hash of the steps, worked once: what follows from a plan alone is kept by plan."""
        return self._hash

    @cached_property
    def _hash(self) -> int:
        return hash(self.steps)

    @cached_property
    def _by_id(self) -> dict[str, Step]:
        return {step.quantity.id: step for step in self.steps}

    def step(self, quantity: Quantity) -> Step | None:
        """The step that yields a quantity; None where it is given."""
        return self._by_id.get(quantity.id)

    def steps_to(self, name: str) -> tuple[Step, ...]:
        """The steps that one quantity (by id) needs, its own last, in order."""
        needed = {name}
        picked: list[Step] = []
        for step in reversed(self.steps):
            if step.quantity.id in needed:
                needed |= step.needs
                picked.append(step)
        return tuple(reversed(picked))

    def stale(self, changed: Iterable[str]) -> tuple[Step, ...]:
        """The steps that change when the named quantities do, those quantities' own among them, in order."""
        dirty = set(changed)
        picked = []
        for step in self.steps:
            if step.quantity.id in dirty or not dirty.isdisjoint(step.needs):
                dirty.add(step.quantity.id)
                picked.append(step)
        return tuple(picked)
