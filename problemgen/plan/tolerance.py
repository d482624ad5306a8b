"""Acceptance windows that an instructor has widened or replaced."""

from __future__ import annotations

from dataclasses import replace

from problemgen.model.policy import Tolerance
from problemgen.model.variant import Answer

__all__ = ["tolerated"]


def tolerated(answer: Answer, tolerance: Tolerance) -> Answer:
    """An answer with the window that is accepted; one that is no number is left as it is."""
    if tolerance.window == "derived" or answer.choice or answer.text:
        return answer
    low, high = tolerance.bounds(answer.value, answer.low, answer.high)
    return replace(answer, low=low, high=high)
