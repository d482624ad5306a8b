"""How gaps are filled: by a question where somebody sits at a terminal, else by the proposal."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

__all__ = ["Ask", "proposal"]

Ask: TypeAlias = Callable[[str, str], str]
"""Takes a question and the answer that is proposed, "" for none, and gives the answer."""


def proposal(_question: str, proposed: str) -> str:
    """The answer of nobody: what is proposed."""
    return proposed
