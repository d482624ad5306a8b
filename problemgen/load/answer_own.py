"""Reading what answers.json says of the values that students measure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Any

from problemgen.exact.digits import read_written
from problemgen.model.own_data import OwnKey, OwnValue
from problemgen.model.quantity import read_quantity

__all__ = ["read_own_keys"]


def read_own_keys(data: Iterable[Mapping[str, Any]]) -> tuple[OwnKey, ...]:
    """The own values of one problem.

    Raises:
        KeyError, TypeError, ValueError: for data of another shape.
    """
    return tuple(OwnKey(one["column"], one["words"], one["share_words"], _value(one)) for one in data)


def _value(data: Mapping[str, Any]) -> OwnValue:
    return OwnValue(
        name=data["name"],
        quantity=read_quantity(*data["quantity"]),
        unit=data["unit"],
        low=Fraction(data["low"]),
        high=Fraction(data["high"]),
        step=read_written(data["step"]) if data["step"] else None,
        instrument=data["instrument"],
        capacity=Fraction(data["capacity"]) if data["capacity"] else None,
        share_of=read_quantity(*data["share_of"]) if data["share_of"] else None,
    )
