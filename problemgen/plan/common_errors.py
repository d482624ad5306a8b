"""What usual errors answer in one part: for marking by hand, where a number is compared at a glance."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import isfinite

from problemgen.chemistry.units import read_unit
from problemgen.model.expression import Expression
from problemgen.model.plan import Plan, rewrites_of, stale_steps
from problemgen.model.problem import Asked
from problemgen.plan.plain import plain_value
from problemgen.plan.variations import as_float

__all__ = ["ErrorsAnswer", "common_errors"]

_AT_A_GLANCE = 100
"""An answer so many times too large or small is told last: whoever sees it looks for the error before handing in."""


@dataclass(frozen=True)
class ErrorsAnswer:
    """What an error is called, and the number that it leads to, in the unit asked for."""

    title: str
    value: Fraction


def common_errors(plan: Plan, asked: Asked, values: Mapping[str, Fraction]) -> list[ErrorsAnswer]:
    """The errors that change an answer, by one student's exact values (engine units); the likeliest to be met first.

    That is those made at the steps which no part before has asked for, in the order in which the laws list them, then
    those carried over from the parts before; what is far off at a glance comes last.
    """
    name, unit = asked.quantity.id, read_unit(asked.unit)
    known = {one: as_float(value) for one, value in values.items()}
    found: list[ErrorsAnswer] = []
    for title, steps in _ways(plan, name):
        worked = dict(known)
        for step, expression in steps:
            worked[step] = plain_value(expression, worked)
        if isfinite(worked[name]):
            found.append(ErrorsAnswer(title, unit.from_engine(Fraction(worked[name]))))
    right = unit.from_engine(values[name])
    return sorted(found, key=lambda one: not 1 / _AT_A_GLANCE <= abs(one.value / right) <= _AT_A_GLANCE if right else 0)


_Steps = tuple[tuple[str, Expression], ...]


@lru_cache(maxsize=4096)
def _ways(plan: Plan, name: str) -> tuple[tuple[str, _Steps], ...]:
    """The errors on the way to a quantity (by id), with the steps that change: those at its own steps first."""
    before = [one.quantity.id for one in plan.asked]
    known = frozenset(before[: before.index(name)])
    own = {step.quantity.id for step in plan.steps_since(name, known)}
    found = [(own.isdisjoint(rewritten), title, steps) for title, rewritten, steps in _changing(plan, name)]
    return tuple((title, steps) for _, title, steps in sorted(found, key=lambda one: one[0]))


def _changing(plan: Plan, name: str) -> Iterator[tuple[str, frozenset[str], _Steps]]:
    steps = plan.steps_to(name)
    for mistake in plan.mistakes:
        rewrites = rewrites_of([mistake])
        changed = [step for step in stale_steps(steps, rewrites) if step.quantity.id in {s.quantity.id for s in steps}]
        if changed:
            worked = tuple((s.quantity.id, rewrites.get(s.quantity.id, s.expression)) for s in changed)
            yield mistake.title, frozenset(rewrites), worked
