"""What a student earned in a set: one attempt, or what several come to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction

from problemgen.model.verdict import StudentResult

__all__ = ["StudentTotal", "total_of"]


@dataclass(frozen=True)
class StudentTotal:
    """One row of the gradebook.

    `attempt` tells what counts: "2", or "mean of 1, 3"; "" where nothing was handed in, and then there are points only
    where the instructor gave some: None is no mark, which is not the mark 0. `parts` are the points by the part's
    label; `open` are the labels of those that were not judged, earn nothing yet, and wait for a decision.
    `more` is what the roster has of the student beside; `problems` are the points by the problem's number,
    `of_problems` those to be had; `left_out` are the problems that are not in the sum.
    """

    student: str
    name: str
    section: str
    attempt: str
    points: Fraction | None
    of: Fraction
    parts: Mapping[str, Fraction]
    open: frozenset[str] = frozenset()
    more: Mapping[str, str] = field(default_factory=dict)
    problems: Mapping[str, Fraction] = field(default_factory=dict)
    of_problems: Mapping[str, Fraction] = field(default_factory=dict)
    left_out: tuple[str, ...] = ()

    @property
    def percent(self) -> Fraction | None:
        """The share of the points in percent; None without a mark, or without points to be had."""
        return None if self.points is None or not self.of else 100 * self.points / self.of

    def without(self, problems: tuple[str, ...]) -> StudentTotal:
        """The same with some problems left out of the sum."""
        if self.points is None or not problems:
            return self
        earned = sum((self.problems[one] for one in problems), Fraction(0))
        of = sum((self.of_problems[one] for one in problems), Fraction(0))
        return replace(self, points=self.points - earned, of=self.of - of, left_out=problems)


def total_of(result: StudentResult, more: Mapping[str, str]) -> StudentTotal:
    """What one attempt comes to; `more` is what the roster has of the student beside."""
    problems = tuple(dict.fromkeys(part.problem for part in result.parts))
    return StudentTotal(
        student=result.student,
        name=result.name,
        section=result.section,
        attempt=str(result.attempt) if result.handed_in else "",
        points=result.points if result.has_mark else None,
        of=result.of,
        parts={part.label: part.points for part in result.counted if result.handed_in or part.decision},
        open=frozenset(part.label for part in result.parts if part.is_open),
        more=more,
        problems={one.removeprefix("p"): result.points_of(one) for one in problems} if result.has_mark else {},
        of_problems={one.removeprefix("p"): result.of_problem(one) for one in problems},
    )
