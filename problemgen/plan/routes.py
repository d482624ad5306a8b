"""Routes: other ways than the plan's own that lead from what a student knows to what is asked.

A student knows what is given, the constants, and what was answered before. The plan's chain is the shortest way from
there; the pressure of one gas is its mole fraction times the total pressure as well, and what is left over follows from
the mass of product that was just worked out. An honest answer may come by any of them, and so may one that follows from
an earlier wrong answer.

A route departs from the plan at one quantity: that is worked by another law, and the plan's own steps lead on from it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from problemgen.model.expression import names_in
from problemgen.model.plan import Plan, Rounding, Route, Step
from problemgen.model.quantity import Role
from problemgen.plan.forms import form_of
from problemgen.plan.law import Instance

__all__ = ["with_routes"]

_MOST = 4
"""Routes to one asked quantity, the shortest first; of those of the shipped templates, none has more that differ."""

_FARTHEST = 3
"""Steps off the plan at most: a student who goes farther has another plan altogether."""


def with_routes(plan: Plan, instances: Iterable[Instance], fixed: Collection[str]) -> Plan:
    """The plan with the routes to each quantity that is asked; `fixed` are the ids of the constants at hand."""
    others = _Others(plan, instances, fixed)
    answered: set[str] = set()
    routes: list[Route] = []
    for asked in plan.asked:
        name = asked.quantity.id
        if form_of(asked).rests_on_plan and plan.step(asked.quantity) is not None:
            routes += sorted(others.routes(name, answered), key=lambda route: len(route.steps))[:_MOST]
        if form_of(asked).has_window:
            answered.add(name)
    return replace(plan, routes=tuple(routes))


@dataclass(frozen=True)
class _Reached:
    """How a quantity was reached: by which step, and whether that or anything before it is off the plan."""

    step: Step
    off_plan: bool


class _Others:
    """The other steps that lead to the plan's quantities, or to one that is a single step beside it."""

    def __init__(self, plan: Plan, instances: Iterable[Instance], fixed: Collection[str]) -> None:
        self.plan = plan
        self.given = {*fixed, *(quantity.id for quantity in plan.given)}
        self.own = {step.quantity.id: step for step in plan.steps}
        self.molar_masses = {name for name, step in self.own.items() if step.rounding == "molar mass"}
        self.names = self.given | self.own.keys()
        self.steps = self._steps(list(instances))
        self.needed_by: dict[str, list[Step]] = {}
        for step in (*plan.steps, *self.steps):
            for name in step.needs:
                self.needed_by.setdefault(name, []).append(step)

    def _steps(self, instances: Sequence[Instance]) -> list[Step]:
        """The steps among the plan's quantities, and those by way of one quantity beside them."""
        outside: dict[str, int] = {}
        near: list[tuple[Instance, frozenset[str]]] = []
        for instance in instances:
            ids = [quantity.id for quantity in instance.binding.values()]
            beside = frozenset(name for name in ids if name not in self.names)
            if len(beside) <= 1 and len(ids) > 1:
                near.append((instance, beside))
                for name in beside:
                    outside[name] = outside.get(name, 0) + 1
        # Where one law alone speaks of a quantity beside the plan, it leads to it and not back.
        both_ways = {name for name, laws in outside.items() if laws > 1}
        picked = (instance for instance, beside in near if beside <= both_ways)
        return [step for instance in picked for step in self._solved(instance)]

    def _solved(self, instance: Instance) -> Iterator[Step]:
        for letter, quantity in instance.binding.items():
            if quantity.id in self.given:
                continue
            if any(other.role is Role.FROM for other in instance.binding.values() if other != quantity):
                continue  # which reagent could give how much is carried over as it is answered
            expression = instance.solution(letter)
            if expression is None or quantity.id in set(names_in(expression)):
                continue
            rounding: Rounding = "none" if isinstance(expression, str) else instance.law.rounding
            step = Step(quantity, instance.law.id, letter, expression, rounding)
            own = self.own.get(quantity.id)
            if own is None or own.expression != expression:
                yield step

    def routes(self, name: str, answered: Collection[str]) -> Iterator[Route]:
        """The routes to one asked quantity, from what is given and what was answered before."""
        way = self.plan.steps_since(name, answered)
        seen: set[tuple[Step, ...]] = set()
        for departed in way:
            if departed.rounding == "molar mass":
                continue  # a formula has one
            onward = [s for s in self.plan.stale([departed.quantity.id]) if s in way and s is not departed]
            again = {step.quantity.id for step in onward}
            for off in self._off(departed.quantity.id, name, answered):
                steps = (*off, *onward)
                # What comes back to where another route departs goes on as that one.
                if steps not in seen and again.isdisjoint(step.quantity.id for step in off):
                    seen.add(steps)
                    yield Route(steps)

    def _off(self, departed: str, asked: str, answered: Collection[str]) -> list[tuple[Step, ...]]:
        """The chains off the plan to a quantity, the shortest first, from what is known when the part is reached."""
        behind = {step.quantity.id for step in self.plan.stale([departed])}
        before = {step.quantity.id for step in self.plan.steps_to(asked)} - behind
        known = (self.given | self.molar_masses | before | set(answered)) - {departed, asked}
        chains: dict[str, tuple[Step, ...]] = dict.fromkeys(known, ())
        found: dict[Step, tuple[Step, ...]] = {}
        front = sorted(known)  # the order of a set differs from run to run, and with it which route comes first
        while front:
            reached: dict[str, tuple[Step, ...]] = {}
            for step, chain in self._onward(front, chains):
                target = step.quantity.id
                if target == departed:
                    if step is not self.own.get(departed):
                        found.setdefault(step, chain)
                elif target != asked and (target not in reached or len(chain) < len(reached[target])):
                    reached[target] = chain
            chains |= reached
            front = list(reached)
        return list(found.values())

    def _onward(
        self, front: Iterable[str], chains: Mapping[str, tuple[Step, ...]]
    ) -> Iterator[tuple[Step, tuple[Step, ...]]]:
        """The steps that some quantities lead to where all that they need is reached, with the chains to them."""
        for name in front:
            for step in self.needed_by.get(name, ()):
                if step.quantity.id not in chains and step.needs <= chains.keys():
                    first = dict.fromkeys(one for need in sorted(step.needs) for one in chains[need])
                    if len(first) < _FARTHEST:
                        yield step, (*first, step)
