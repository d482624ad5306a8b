"""Running a plan: its expressions in one of the arithmetics, step after step."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from functools import reduce
from typing import Any

from problemgen.exact.rounding import trimmed
from problemgen.model.expression import Expression, names_in
from problemgen.model.plan import Mistake, Plan, Step
from problemgen.plan.arithmetic import EXACT_FIGURES, Arithmetic, Base, Exact, Window, Windows

__all__ = [
    "LEAST_FIGURES",
    "data_figures",
    "evaluate",
    "exact_values",
    "mistaken_values",
    "mistaken_windows",
    "run_steps",
    "window_values",
]

LEAST_FIGURES = 3
"""An honest worker keeps at least so many significant figures of an intermediate result."""

_TRIM = 15
"""Bounds of exact windows are rounded outwards to so many figures: shorter fractions, and never narrower."""

_HUNDREDTHS = Fraction(1, 200)
"""Half a unit of the second decimal: a molar mass is kept to two decimals or more (g/mol)."""


_FOLDED = {"add": "add", "mul": "multiply", "min": "lesser", "max": "greater"}
_SINGLE = {"div": "divide", "neg": "negate", "floor": "floor"}


def evaluate(expression: Expression, values: Mapping[str, Any], arithmetic: Arithmetic) -> Any:
    """The value of an expression; KeyError for a name without a value, or an operation outside the list."""
    if isinstance(expression, str):
        return values[expression]
    head, *rest = expression
    if head == "num":
        return arithmetic.number(Fraction(rest[0]))
    if head == "pow":
        return _power(evaluate(rest[0], values, arithmetic), int(rest[1]), arithmetic)
    if head == "least":
        return _least(rest, values, arithmetic)
    operands = [evaluate(operand, values, arithmetic) for operand in rest]
    if head in _FOLDED:
        return reduce(getattr(arithmetic, _FOLDED[head]), operands)
    return getattr(arithmetic, _SINGLE[head])(*operands)


def _power(base: Any, exponent: int, arithmetic: Arithmetic) -> Any:
    product = reduce(arithmetic.multiply, [base] * abs(exponent))
    return product if exponent > 0 else arithmetic.divide(arithmetic.number(Fraction(1)), product)


def _least(pairs: Iterable[Any], values: Mapping[str, Any], arithmetic: Arithmetic) -> Any:
    evaluated = [(evaluate(k, values, arithmetic), evaluate(v, values, arithmetic)) for k, v in pairs]
    key, value = evaluated[0]
    for other_key, other in evaluated[1:]:
        value = arithmetic.beside_lesser(key, value, other_key, other)
        key = arithmetic.beside_lesser(key, key, other_key, other_key)
    return value


def run_steps(steps: Iterable[Step], values: Mapping[str, Any], arithmetic: Arithmetic) -> dict[str, Any]:
    """All values of a plan in an arithmetic without rounding; what `values` holds already is not worked again."""
    known = dict(values)
    for step in steps:
        if step.quantity.id not in known:
            known[step.quantity.id] = evaluate(step.expression, known, arithmetic)
    return known


def exact_values(plan: Plan, given: Mapping[str, Fraction]) -> dict[str, Fraction]:
    """All exact values of a plan, by quantity id, in engine units; `given` may override steps as well."""
    constants = {constant.quantity.id: constant.value for constant in plan.constants}
    return run_steps(plan.steps, {**constants, **given}, Exact())


def window_values(plan: Plan, given: Mapping[str, Window], base: Base) -> dict[str, Window]:
    """All windows of a plan, by quantity id, each step rounded as a worker may round it.

    `given` holds a Window a given quantity (engine units); a step's quantity that it holds is taken as it is.
    """
    windows = Windows(base)
    known: dict[str, Window] = {**_constant_windows(plan, base), **given}
    least = data_figures(given.values(), base)
    for step in plan.steps:
        if step.quantity.id not in known:
            known[step.quantity.id] = _rounded(step, evaluate(step.expression, known, windows), least, windows)
    return known


def data_figures(given: Iterable[Window], base: Base) -> Any:
    """The fewest figures among the data, an int or an array a candidate."""
    return reduce(base.lesser, (window.figures for window in given), EXACT_FIGURES)


def _constant_windows(plan: Plan, base: Base) -> dict[str, Window]:
    return {
        c.quantity.id: Window(base.number(c.value), base.number(c.low), base.number(c.high)) for c in plan.constants
    }


def _rounded(step: Step, window: Window, least: Any, windows: Windows) -> Window:
    base = windows.base
    if step.rounding == "none":
        return window
    if step.rounding == "molar mass":
        half = base.half_unit(window.value, base.greater(least, LEAST_FIGURES))
        window = windows.widened(window, base.greater(half, base.number(_HUNDREDTHS)))
    else:
        window = windows.rounded(window, base.greater(window.figures, LEAST_FIGURES))
    return _trimmed(window) if isinstance(window.low, Fraction) else window


def _trimmed(window: Window) -> Window:
    low, high = trimmed(window.low, _TRIM, up=False), trimmed(window.high, _TRIM, up=True)
    return Window(window.value, low, high, window.figures)


def _reworked(
    plan: Plan,
    mistakes: Iterable[Mistake],
    known: Mapping[str, Any],
    work: Callable[[Step, Expression, Any], Any],
) -> dict[str, Any]:
    """`known` with the mistakes' steps rewritten and what follows from them worked again.

    Where several mistakes rewrite one step, the first stands.
    """
    rewrites: dict[str, Expression] = {}
    for mistake in mistakes:
        for name, expression in mistake.rewrites:
            rewrites.setdefault(name, expression)
    result = dict(known)
    dirty: set[str] = set()
    for step in plan.steps:
        name = step.quantity.id
        expression = rewrites.get(name, step.expression)
        if name in rewrites or not dirty.isdisjoint(names_in(expression)):
            result[name] = work(step, expression, result)
            dirty.add(name)
    return result


def mistaken_values(
    plan: Plan, mistakes: Iterable[Mistake], values: Mapping[str, Any], arithmetic: Arithmetic
) -> dict[str, Any]:
    """All values after mistakes, without rounding; `values` are the right ones."""

    def work(_step: Step, expression: Expression, known: Any) -> Any:
        return evaluate(expression, known, arithmetic)

    return _reworked(plan, mistakes, values, work)


def mistaken_windows(
    plan: Plan, mistakes: Iterable[Mistake], known: Mapping[str, Window], least: Any, base: Base
) -> dict[str, Window]:
    """All windows after mistakes, each step rounded as in `window_values`; `least` are the data's figures."""
    windows = Windows(base)

    def work(step: Step, expression: Expression, result: Any) -> Window:
        return _rounded(step, evaluate(expression, result, windows), least, windows)

    return _reworked(plan, mistakes, known, work)
