"""How a run tells how far it is."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

__all__ = ["Progress"]

Progress: TypeAlias = Callable[[str, int, int], None]
"""Called with what is being done, how much of it is done, and how much there is."""
