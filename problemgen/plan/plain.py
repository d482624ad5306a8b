"""Expressions worked in plain floats, for a look at many ways to work one problem: what cannot be worked is nan.

The same operations in the same order as on the practice page, so that both come to the same numbers to the last bit.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache
from typing import TypeAlias

from problemgen.model.expression import Expression
from problemgen.plan.arithmetic import LEAST_WHOLE, MULTIPLES

__all__ = ["plain_value"]

_Work: TypeAlias = Callable[[Mapping[str, float]], float]

_NEAR_WHOLE = float(LEAST_WHOLE)


def plain_value(expression: Expression, values: Mapping[str, float]) -> float:
    """The value of an expression; KeyError for a name without a value, or an operation outside the list."""
    return _ready(expression)(values)


@lru_cache(maxsize=65536)
def _ready(expression: Expression) -> _Work:
    """An expression made ready, once."""
    if isinstance(expression, str):
        return lambda values: values[expression]
    head, *rest = expression
    if head == "num":
        number = float(Fraction(rest[0]))
        return lambda _: number
    if head == "pow":
        return _power(_ready(rest[0]), int(rest[1]))
    if head == "least":
        return _least([(_ready(key), _ready(value)) for key, value in rest])
    if head == "whole":
        return _whole(int(rest[0]), [_ready(amount) for amount in rest[1:]])
    return _OPERATIONS[head]([_ready(operand) for operand in rest])


def _sum(operands: Sequence[_Work]) -> _Work:
    first, *others = operands

    def work(values: Mapping[str, float]) -> float:
        total = first(values)
        for operand in others:
            total += operand(values)
        return total

    return work


def _product(operands: Sequence[_Work]) -> _Work:
    first, *others = operands

    def work(values: Mapping[str, float]) -> float:
        product = first(values)
        for operand in others:
            product *= operand(values)
        return product

    return work


def _quotient(operands: Sequence[_Work]) -> _Work:
    over, under = operands
    return lambda values: _divided(over(values), under(values))


def _divided(over: float, under: float) -> float:
    return over / under if under else math.nan


def _power(base: _Work, exponent: int) -> _Work:
    def work(values: Mapping[str, float]) -> float:
        number = base(values)
        product = number
        for _ in range(abs(exponent) - 1):
            product *= number
        return product if exponent > 0 else _divided(1.0, product)

    return work


def _least(pairs: Sequence[tuple[_Work, _Work]]) -> _Work:
    def work(values: Mapping[str, float]) -> float:
        evaluated = [(key(values), value(values)) for key, value in pairs]
        return min(evaluated, key=lambda pair: pair[0])[1]

    return work


def _whole(index: int, amounts: Sequence[_Work]) -> _Work:
    def work(values: Mapping[str, float]) -> float:
        evaluated = [amount(values) for amount in amounts]
        least = min(evaluated)
        ratios = [_divided(amount, least) for amount in evaluated]
        times = next((n for n in MULTIPLES if all(abs(n * r - _nearest(n * r)) <= _NEAR_WHOLE for r in ratios)), 1)
        return _nearest(times * ratios[index])

    return work


def _floor(number: float) -> float:
    return float(math.floor(number)) if math.isfinite(number) else math.nan


def _nearest(number: float) -> float:
    return _floor(number + 0.5)


_OPERATIONS: Mapping[str, Callable[[Sequence[_Work]], _Work]] = {
    "add": _sum,
    "mul": _product,
    "div": _quotient,
    "neg": lambda operands: lambda values: -operands[0](values),
    "min": lambda operands: lambda values: min(operand(values) for operand in operands),
    "max": lambda operands: lambda values: max(operand(values) for operand in operands),
    "floor": lambda operands: lambda values: _floor(operands[0](values)),
    "round": lambda operands: lambda values: _nearest(operands[0](values)),
}
