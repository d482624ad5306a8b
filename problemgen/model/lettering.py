"""The letters that stand before choices: on a sheet, in its key, beside a blank."""

from __future__ import annotations

from collections.abc import Iterable
from string import ascii_uppercase
from typing import TypeVar

__all__ = ["lettered"]

T = TypeVar("T")


def lettered(choices: Iterable[T]) -> tuple[tuple[str, T], ...]:
    """Choices with their letters, from A on.

    >>> lettered(["zinc", "iodine"])
    (('A', 'zinc'), ('B', 'iodine'))
    """
    return tuple(zip(ascii_uppercase, choices, strict=False))
