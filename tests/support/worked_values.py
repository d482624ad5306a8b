"""Exact values of a plan, without windows: what windows, variants and variations are compared with."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Any

from problemgen.model.plan import Mistake, Plan, Step, rewrites_of
from problemgen.plan.arithmetic import Arithmetic, Exact
from problemgen.plan.evaluate import evaluate

__all__ = ["exact_values", "mistaken_values", "run_steps"]


def run_steps(steps: Iterable[Step], values: Mapping[str, Any], arithmetic: Arithmetic) -> dict[str, Any]:
    """All values in an arithmetic without rounding; what `values` holds already is not worked again."""
    known = dict(values)
    for step in steps:
        if step.quantity.id not in known:
            known[step.quantity.id] = evaluate(step.expression, known, arithmetic)
    return known


def exact_values(plan: Plan, given: Mapping[str, Fraction]) -> dict[str, Fraction]:
    """All exact values of a plan, by quantity id, in engine units; `given` may override steps as well."""
    constants = {constant.quantity.id: constant.value for constant in plan.constants}
    return run_steps(plan.steps, {**constants, **given}, Exact())


def mistaken_values(
    plan: Plan, mistakes: Iterable[Mistake], values: Mapping[str, Any], arithmetic: Arithmetic
) -> dict[str, Any]:
    """All values after mistakes, without rounding; `values` are the right ones.

    A mistake may take what is worked later (the other product's share): it has the right value there.
    """
    rewrites, changed = rewrites_of(mistakes), dict(values)
    for step in plan.stale(rewrites):
        name = step.quantity.id
        changed[name] = evaluate(rewrites.get(name, step.expression), changed, arithmetic)
    return changed
