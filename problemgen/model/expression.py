"""Expressions as data: nested tuples over a closed set of operations.

    expression = name                          a quantity's id, looked up in the values at hand
               | ("num", "3/2")                an exact number
               | ("add" | "mul" | "min" | "max", expression, expression, ...)
               | ("div", expression, expression)
               | ("neg", expression)
               | ("pow", expression, integer)               from -9 to 9
               | ("floor", expression)
               | ("round", expression)                         the nearest whole number
               | ("whole", i, expression, expression, ...)     the i-th of the least whole numbers in a ratio
               | ("least", (key, value), (key, value), ...)    the value that stands with the least key

They are written to answers.json as arrays, and run by `problemgen.plan.evaluate`: nothing else reads them. What is read
from a file is of this set, or refused.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType
from typing import Annotated, Any, TypeAlias

from pydantic import PlainSerializer, PlainValidator, WithJsonSchema
from typing_extensions import TypeAliasType

from problemgen.model.file_types import EXACT, read_exact
from problemgen.model.quantity import NAME

__all__ = ["OPERATIONS", "Expression", "ExpressionArrays", "expression_schema", "names_in", "read_expression"]

Expression: TypeAlias = str | tuple[Any, ...]

_NAME = re.compile(NAME)

_GREATEST_POWER = 9
"""Laws of the laboratory have squares and cubes; a greater power only makes numbers without end."""

_OPERANDS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "num": ("number",),
        **dict.fromkeys(("add", "mul", "min", "max"), ("expression", "expressions")),
        "div": ("expression", "expression"),
        **dict.fromkeys(("neg", "floor", "round"), ("expression",)),
        "pow": ("expression", "power"),
        "whole": ("place", "expression", "expressions"),
        "least": ("pair", "pairs"),
    }
)
"""What stands behind each operation; a plural stands for any number of the same, and for none."""

OPERATIONS = frozenset(_OPERANDS)


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


def read_expression(data: Any) -> Expression:
    """An expression out of arrays: only the closed set of operations is let in, each with what belongs behind it.

    Raises ValueError.
    """
    if isinstance(data, str):
        if not _NAME.match(data):
            raise ValueError(f"a quantity's name in place of {data!r}")
        return data
    head = data[0] if isinstance(data, list | tuple) and data else None
    if not isinstance(head, str) or head not in OPERATIONS:
        raise ValueError(f"one of {', '.join(sorted(OPERATIONS))} in place of {head!r}")
    shape, operands = _OPERANDS[head], data[1:]
    if shape[-1].endswith("s"):
        shape = (*shape[:-1], *[shape[-1].removesuffix("s")] * (len(operands) - len(shape) + 1))
    if len(shape) != len(operands):
        raise ValueError(f"{head!r} with other operands than {len(operands)}")
    if head == "whole" and _place(operands[0]) >= len(operands) - 1:
        raise ValueError(f"one of {len(operands) - 1} places in place of {operands[0]!r}")
    return (head, *(_READ[kind](operand) for kind, operand in zip(shape, operands, strict=True)))


def _number(data: Any) -> str:
    read_exact(data)
    return str(data)


def _power(data: Any) -> int:
    if not isinstance(data, int) or isinstance(data, bool) or abs(data) > _GREATEST_POWER:
        raise ValueError(f"a whole number from -{_GREATEST_POWER} to {_GREATEST_POWER}")
    return data


def _place(data: Any) -> int:
    if not isinstance(data, int) or isinstance(data, bool) or data < 0:
        raise ValueError("a place from 0")
    return data


def _pair(data: Any) -> tuple[Expression, Expression]:
    if not isinstance(data, list | tuple) or len(data) != 2:
        raise ValueError(f"a key and a value in place of {data!r}")
    return read_expression(data[0]), read_expression(data[1])


_READ: Mapping[str, Callable[[Any], Any]] = MappingProxyType(
    {"expression": read_expression, "number": _number, "power": _power, "place": _place, "pair": _pair}
)

ExpressionArrays = TypeAliasType(
    "ExpressionArrays",
    Annotated[Expression, PlainValidator(read_expression), PlainSerializer(lambda tuples: tuples), WithJsonSchema({})],
)
"""An expression as a file holds it."""


def expression_schema(itself: str) -> dict[str, Any]:
    """The JSON Schema of expressions; `itself` is the reference by which it refers to itself."""
    inside = {
        "expression": {"$ref": itself},
        "number": {"type": "string", "pattern": EXACT},
        "power": {"type": "integer", "minimum": -_GREATEST_POWER, "maximum": _GREATEST_POWER},
        "place": {"type": "integer", "minimum": 0},
        "pair": {"type": "array", "minItems": 2, "maxItems": 2, "items": {"$ref": itself}},
    }
    return {
        "description": "The name of a quantity, or an operation with its operands. Nothing else is ever run.",
        "oneOf": [{"type": "string", "pattern": _NAME.pattern}, *(_operation(h, inside) for h in _OPERANDS)],
    }


def _operation(head: str, inside: Mapping[str, Any]) -> dict[str, Any]:
    shape = _OPERANDS[head]
    single = [inside[kind] for kind in shape if kind in inside]
    rest = inside[shape[-1].removesuffix("s")] if shape[-1].endswith("s") else False
    return {"type": "array", "minItems": 1 + len(single), "prefixItems": [{"const": head}, *single], "items": rest}
