"""Expressions as data: nested tuples over a closed set of operations.

    expression = name                          a quantity's id, looked up in the values at hand
               | ("num", "3/2")                an exact number
               | ("add" | "mul" | "min" | "max", expression, expression, ...)
               | ("div", expression, expression)
               | ("neg", expression)
               | ("pow", expression, integer)
               | ("floor", expression)
               | ("round", expression)                         the nearest whole number
               | ("whole", i, expression, expression, ...)     the i-th of the least whole numbers in a ratio
               | ("least", (key, value), (key, value), ...)    the value that stands with the least key

They are written to answers.json as arrays, and run by `problemgen.plan.evaluate`: nothing else reads them.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, TypeAlias

__all__ = ["OPERATIONS", "Expression", "names_in"]

Expression: TypeAlias = str | tuple[Any, ...]

OPERATIONS = frozenset({"num", "add", "mul", "min", "max", "div", "neg", "pow", "floor", "round", "whole", "least"})


def names_in(expression: Expression) -> Iterator[str]:
    """The names an expression looks up, in order, with repetitions."""
    if isinstance(expression, str):
        yield expression
    elif expression[0] == "least":
        for key, value in expression[1:]:
            yield from names_in(key)
            yield from names_in(value)
    elif expression[0] == "pow":
        yield from names_in(expression[1])
    elif expression[0] != "num":
        for operand in expression[2 if expression[0] == "whole" else 1 :]:
            yield from names_in(operand)
