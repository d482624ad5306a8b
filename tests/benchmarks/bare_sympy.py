"""A plan worked by substituting a variant's numbers into sympy expressions: the values of each step and mistake."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal, TypeAlias

import sympy

from problemgen.model.expression import Expression
from problemgen.model.plan import Plan

__all__ = ["SymbolicPlan", "Way"]

Way: TypeAlias = Literal["subs", "xreplace"]
"""The usual way of putting numbers in, and the quickest."""


def _symbolic(expression: Expression) -> Any:
    """A plan's expression in sympy."""
    if isinstance(expression, str):
        return sympy.Symbol(expression, positive=True)
    head = expression[0]
    if head == "num":
        return sympy.Rational(expression[1])
    if head == "least":
        return tuple((_symbolic(key), _symbolic(value)) for key, value in expression[1:])
    operands = [_symbolic(operand) for operand in expression[1:]]
    if head == "div":
        return operands[0] / operands[1]
    if head == "neg":
        return -operands[0]
    return {"add": sympy.Add, "mul": sympy.Mul, "min": sympy.Min, "max": sympy.Max}[head](*operands)


@dataclass(frozen=True)
class SymbolicPlan:
    """The steps in order, and for each mistake the steps that have to be worked again."""

    constants: Mapping[Any, Any]
    steps: tuple[tuple[Any, Any], ...]
    mistakes: tuple[tuple[tuple[Any, Any], ...], ...]

    @classmethod
    def of(cls, plan: Plan) -> SymbolicPlan:
        """A plan's expressions, made once."""
        mistakes = []
        for mistake in plan.mistakes:
            rewrites = dict(mistake.rewrites)
            stale = plan.stale(rewrites)
            mistakes.append(tuple(_step(s.quantity.id, rewrites.get(s.quantity.id, s.expression)) for s in stale))
        return cls(
            {_symbolic(c.quantity.id): _rational(c.value) for c in plan.constants},
            tuple(_step(step.quantity.id, step.expression) for step in plan.steps),
            tuple(mistakes),
        )

    def worked(self, given: Mapping[str, Fraction], way: Way) -> tuple[dict[Any, Any], list[dict[Any, Any]]]:
        """All values of one variant, and those after each mistake."""
        known = {**self.constants, **{_symbolic(name): _rational(value) for name, value in given.items()}}
        right = _substituted(self.steps, known, way)
        return right, [_substituted(steps, right, way) for steps in self.mistakes]


def _step(name: str, expression: Expression) -> tuple[Any, Any]:
    return _symbolic(name), _symbolic(expression)


def _rational(value: Fraction) -> Any:
    return sympy.Rational(value.numerator, value.denominator)


def _substituted(steps: tuple[tuple[Any, Any], ...], known: Mapping[Any, Any], way: Way) -> dict[Any, Any]:
    values = dict(known)
    for symbol, expression in steps:
        if isinstance(expression, tuple):
            values[symbol] = min((_put(key, values, way), _put(value, values, way)) for key, value in expression)[1]
        else:
            values[symbol] = _put(expression, values, way)
    return values


def _put(expression: Any, values: Mapping[Any, Any], way: Way) -> Any:
    """An expression with its own symbols replaced, and no others: `subs` sorts all that it is given."""
    own = {symbol: values[symbol] for symbol in expression.free_symbols}
    return expression.subs(own) if way == "subs" else expression.xreplace(own)
