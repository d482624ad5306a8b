"""What several attempts of a student come to: the last, the best, or the mean of those handed in.

The best is the one with the most points in all, of equals the first. The mean is exact, of the sums as of each part
over the attempts that have it; it is rounded only where it is shown.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import chain

from problemgen.language.messages import _
from problemgen.model.policy import Counts
from problemgen.model.total import StudentTotal, total_of
from problemgen.model.verdict import StudentResult

__all__ = ["AttemptsTally", "counted"]


def counted(counts: Counts, attempts: Sequence[StudentTotal]) -> StudentTotal:
    """What a student's attempts come to; they are in ascending order, at least one, and all handed in."""
    if counts == "last" or len(attempts) == 1:
        return attempts[-1]
    if counts == "best":
        return max(attempts, key=lambda attempt: attempt.points or 0)
    labels = dict.fromkeys(label for attempt in attempts for label in attempt.parts)
    return replace(
        attempts[0],
        attempt=_("mean of {attempts}").format(attempts=", ".join(attempt.attempt for attempt in attempts)),
        points=_mean([attempt.points or Fraction(0) for attempt in attempts]),
        of=_mean([attempt.of for attempt in attempts]),
        parts={label: _mean([one.parts[label] for one in attempts if label in one.parts]) for label in labels},
        problems=_means([one.problems for one in attempts]),
        of_problems=_means([one.of_problems for one in attempts]),
        open=frozenset[str]().union(*(attempt.open for attempt in attempts)),
    )


def _mean(points: Sequence[Fraction]) -> Fraction:
    return sum(points, Fraction(0)) / len(points)


def _means(points: Sequence[Mapping[str, Fraction]]) -> dict[str, Fraction]:
    """The mean of each problem over the attempts that have it."""
    return {name: _mean([one[name] for one in points if name in one]) for name in dict.fromkeys(chain(*points))}


class AttemptsTally:
    """Takes the attempts of a class in any order, and keeps of each what the gradebook needs."""

    def __init__(self, counts: Counts) -> None:
        """`counts` tells which attempts count."""
        self._counts = counts
        self._attempts: dict[str, dict[int, StudentTotal]] = {}

    def take(self, result: StudentResult, more: Mapping[str, str]) -> None:
        """Take one attempt, and what the roster has of the student beside."""
        self._attempts.setdefault(result.student, {})[result.attempt] = total_of(result, more)

    def totals(self) -> Iterator[StudentTotal]:
        """What each student's attempts come to, in the order in which the students were first met."""
        for attempts in self._attempts.values():
            yield counted(self._counts, [attempts[number] for number in sorted(attempts)])
