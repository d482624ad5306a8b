"""Which keys of a template's file the page shows; all others it leaves as they are written."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from problemgen.model.quantity import PROBLEM_KINDS

__all__ = ["OBTAINED", "VALUE_KEYS", "WORDS", "left_alone", "simple_values", "single_yield"]

VALUE_KEYS = ("from", "to", "value", "choose", "unit", "read", "step")
"""The keys of a value, in the order in which they are written."""

WORDS = ("bottle", "weighed_as")
OBTAINED = "obtained"

_SHOWN = frozenset({*PROBLEM_KINDS, "purity"})


def simple_values(given: Mapping[str, Any]) -> dict[str, Mapping[str, Any]]:
    """The values of a substance that are drawn from a range or a list, or fixed, by their kind."""
    return {
        key: value
        for key, value in given.items()
        if key in _SHOWN and isinstance(value, Mapping) and set(value) <= {*VALUE_KEYS, "source"}
    }


def single_yield(given: Mapping[str, Any]) -> Mapping[str, Any] | None:
    """What is obtained of a substance, where that is one mass; None for nothing and for several."""
    told = given.get(OBTAINED)
    if isinstance(told, Mapping):
        return told
    return told[0] if isinstance(told, list) and len(told) == 1 and isinstance(told[0], Mapping) else None


def left_alone(given: Mapping[str, Any]) -> list[str]:
    """The keys of a substance that the page does not show."""
    shown = {*simple_values(given), *WORDS, "in_excess"}
    return [key for key in given if key not in shown and not (key == OBTAINED and single_yield(given) is not None)]
