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

__all__ = ["beside_least", "divided", "nearest", "plain_value", "whole_number", "whole_part"]

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
    return lambda values: divided(over(values), under(values))


def divided(over: float, under: float) -> float:
    """The quotient; nan for none."""
    return over / under if under else math.nan


def _power(base: _Work, exponent: int) -> _Work:
    def work(values: Mapping[str, float]) -> float:
        number = base(values)
        product = number
        for _ in range(abs(exponent) - 1):
            product *= number
        return product if exponent > 0 else divided(1.0, product)

    return work


def _least(pairs: Sequence[tuple[_Work, _Work]]) -> _Work:
    return lambda values: beside_least([(key(values), value(values)) for key, value in pairs])


def beside_least(pairs: Sequence[tuple[float, float]]) -> float:
    """Of pairs of a key and a value, the value that stands with the least key."""
    return min(pairs, key=lambda pair: pair[0])[1]


def _whole(index: int, amounts: Sequence[_Work]) -> _Work:
    return lambda values: whole_number(index, [amount(values) for amount in amounts])


def whole_number(index: int, amounts: Sequence[float]) -> float:
    """One of the least whole numbers in the ratio of some amounts; nan for none."""
    least = min(amounts)
    ratios = [divided(amount, least) for amount in amounts]
    times = next((n for n in MULTIPLES if all(abs(n * r - nearest(n * r)) <= _NEAR_WHOLE for r in ratios)), 1)
    return nearest(times * ratios[index])


def whole_part(number: float) -> float:
    """The greatest whole number that is not above; nan for none."""
    return float(math.floor(number)) if math.isfinite(number) else math.nan


def nearest(number: float) -> float:
    """The nearest whole number, a half upwards; nan for none."""
    return whole_part(number + 0.5)


_OPERATIONS: Mapping[str, Callable[[Sequence[_Work]], _Work]] = {
    "add": _sum,
    "mul": _product,
    "div": _quotient,
    "neg": lambda operands: lambda values: -operands[0](values),
    "min": lambda operands: lambda values: min(operand(values) for operand in operands),
    "max": lambda operands: lambda values: max(operand(values) for operand in operands),
    "floor": lambda operands: lambda values: whole_part(operands[0](values)),
    "round": lambda operands: lambda values: nearest(operands[0](values)),
}
