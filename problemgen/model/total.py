"""What a student earned in a set: one attempt, or what several come to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from problemgen.model.verdict import StudentResult

__all__ = ["StudentTotal", "total_of"]


@dataclass(frozen=True)
class StudentTotal:
    """One row of the gradebook.

    `attempt` tells what counts: "2", or "mean of 1, 3"; "" where nothing was handed in, and then there are points only
    where the instructor gave some: None is no mark, which is not the mark 0. `parts` are the points by the part's
    label; `open` are the labels of those that were not judged, earn nothing yet, and wait for a decision.
    """

    student: str
    name: str
    section: str
    attempt: str
    points: Fraction | None
    of: Fraction
    parts: Mapping[str, Fraction]
    open: frozenset[str] = frozenset()


def total_of(result: StudentResult) -> StudentTotal:
    """What one attempt comes to."""
    return StudentTotal(
        student=result.student,
        name=result.name,
        section=result.section,
        attempt=str(result.attempt) if result.handed_in else "",
        points=result.points if result.has_mark else None,
        of=result.of,
        parts={part.label: part.points for part in result.counted if result.handed_in or part.decision},
        open=frozenset(part.label for part in result.parts if part.is_open),
    )
