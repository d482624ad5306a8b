"""What an instructor decided about a part, against the marking."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

__all__ = ["Decision", "Decisions"]


@dataclass(frozen=True)
class Decision:
    """The points of one part of one student, and the reason that the student is told.

    `part` is the part's label ("1a"). `attempt` is the number of the attempt, None for all.
    """

    student: str
    part: str
    points: Fraction
    reason: str
    attempt: int | None = None


Decisions: TypeAlias = Mapping[str, tuple[Decision, ...]]
"""All decisions, by student."""
