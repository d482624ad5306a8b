"""Verdicts: how each part was marked, and why."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

__all__ = ["VERDICTS", "PartResult", "StudentResult"]

VERDICTS = {
    "right": "inside the acceptance window",
    "slip": "right but for a slip of unit, sign or power of ten",
    "follows": "consistent with an earlier answer that was wrong",
    "mistake": "what a usual mistake leads to",
    "wrong": "none of these",
    "unit": "a unit of another kind of quantity",
    "unread": "not readable as an answer",
    "blank": "no answer",
}
"""The verdicts, in the order in which they are tried; the last three before all others."""


@dataclass(frozen=True)
class PartResult:
    """One part of one student.

    `reason` is a code ("in-window", a mistake's id, "power-of-ten:3", …), `sentence` what the student is told;
    `remarks` are further sentences that cost nothing or what the policy says. `read` is what was read, as text.
    """

    problem: str
    part: str
    label: str
    verdict: str
    reason: str
    sentence: str
    remarks: tuple[str, ...]
    points: Fraction
    of: Fraction
    wrote: str
    read: str


@dataclass(frozen=True)
class StudentResult:
    """All parts of one student."""

    student: str
    name: str
    section: str
    code: str
    parts: tuple[PartResult, ...]

    @property
    def points(self) -> Fraction:
        """The points earned."""
        return sum((part.points for part in self.parts), Fraction(0))

    @property
    def of(self) -> Fraction:
        """The points to be had."""
        return sum((part.of for part in self.parts), Fraction(0))
