"""What an instructor decided about parts, problems or whole sheets, against the marking."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

__all__ = ["ALL", "Decision", "DecisionKind", "Decisions"]

ALL = "*"
"""Stands for every student."""

DecisionKind: TypeAlias = Literal["points", "bonus", "drop"]
"""Points in the place of those of the marking, points added to them, or what does not count at all."""


@dataclass(frozen=True)
class Decision:
    """A decision about one student or `ALL`, and the reason that the student is told.

    `part` is a part's label ("1a"), a problem's number ("1"), or "" for the whole sheet. `points` are what is earned
    there or is added, 0 where it is dropped. `attempt` is the number of the attempt, None for all.
    """

    student: str
    part: str
    points: Fraction
    reason: str
    attempt: int | None = None
    kind: DecisionKind = "points"


@dataclass(frozen=True)
class Decisions:
    """All decisions for a set, in the order in which they were written."""

    every: tuple[Decision, ...] = ()

    def of(self, student: str, attempt: int = 1, *, handed_in: bool = True) -> tuple[Decision, ...]:
        """Those about an attempt of a student, what goes before something else behind it.

        One about this student goes before one about all, and then one about this attempt before one about all. Who
        handed nothing in is given no points that all are given.
        """
        mine = [
            one
            for one in self.every
            if one.attempt in (None, attempt)
            and (one.student == student or (one.student == ALL and (handed_in or one.kind == "drop")))
        ]
        return tuple(sorted(mine, key=lambda one: (one.student == student, one.attempt is not None)))
