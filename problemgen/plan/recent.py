"""The last results of a function whose arguments have no hash, such as scenes: found by what they are equal to."""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Callable
from typing import Generic, TypeVar

__all__ = ["Recent"]

R = TypeVar("R")


class Recent(Generic[R]):
    """Results with what they are results of, the last ones alone."""

    def __init__(self, kept: int) -> None:
        """Keep so many."""
        self._found: deque[tuple[object, R]] = deque(maxlen=kept)
        self._guard = threading.Lock()

    def of(self, asked: object, make: Callable[[], R]) -> R:
        """The result for what is asked: one that is kept, or made now. Raises what `make` raises, which is not kept."""
        with self._guard:
            before = tuple(self._found)
        for one, result in before:
            if one == asked:
                return result
        made = make()
        with self._guard:
            self._found.append((asked, made))
        return made
