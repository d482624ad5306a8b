"""How a run tells how far it is."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

__all__ = ["Progress", "silent"]

Progress: TypeAlias = Callable[[str, int, int], None]
"""Called with what is being done, how much of it is done, and how much there is."""


def silent(_what: str, _done: int, _total: int) -> None:
    """Tell nothing."""
