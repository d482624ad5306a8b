"""Libraries that are loaded when they are first used: many runs never ask anything of them, and each takes its time."""

from __future__ import annotations

from importlib import import_module
from typing import Any

__all__ = ["late"]


class _Late:
    """Stands in a library's place until something is asked of it."""

    def __init__(self, name: str) -> None:
        self._name = name

    def __getattr__(self, attribute: str) -> Any:
        found = getattr(import_module(self._name), attribute)
        setattr(self, attribute, found)  # asked again, it is here
        return found


def late(name: str) -> Any:
    """A library by its full name, at the top of a module and nowhere else.

    >>> late("fractions").Fraction(1, 2)
    Fraction(1, 2)
    """
    return _Late(name)
