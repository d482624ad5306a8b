"""How gaps are filled: by a question where somebody sits at a terminal, else by the proposal."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias, TypeVar

from problemgen.errors import FaultsError

__all__ = ["Ask", "answered", "proposal"]

T = TypeVar("T")

Ask: TypeAlias = Callable[[str, str], str]
"""Takes a question and the answer that is proposed, "" for none, and gives the answer."""

_TIMES = 3
"""How often a question is asked: who has mistyped twice will rather leave."""


def proposal(_question: str, proposed: str) -> str:
    """The answer of nobody: what is proposed."""
    return proposed


def answered(ask: Ask, question: str, proposed: str, read: Callable[[str], T]) -> T:
    """The answer as it is read; a question whose answer cannot be is asked again, with the fault above it.

    Raises FaultsError, as `read` does, where that does not help.
    """
    asked = question
    for _ in range(_TIMES - 1):
        try:
            return read(ask(asked, proposed))
        except FaultsError as error:
            asked = f"{error}\n{question}"
    return read(ask(asked, proposed))
