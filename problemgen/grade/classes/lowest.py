"""The problems of a student that do not count, where a set leaves out the lowest."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from problemgen.model.total import StudentTotal

__all__ = ["left_out", "lowest_of"]


def left_out(points: Mapping[str, Fraction], of: Mapping[str, Fraction], number: int) -> tuple[str, ...]:
    """The problems that are left out of a student's sum: each time the one without which the share is greatest.

    `points` and `of` are those earned and to be had, by problem. Of equals the later is left out; one always counts.

    >>> left_out({"1": Fraction(3), "2": Fraction(1)}, {"1": Fraction(4), "2": Fraction(4)}, 1)
    ('2',)
    """
    counted = {problem: (points[problem], of[problem]) for problem in of if of[problem] > 0}
    gone: list[str] = []
    while len(gone) < number and len(counted) > 1:
        earned, most = (sum((pair[place] for pair in counted.values()), Fraction(0)) for place in (0, 1))
        rest = {problem: (earned - mine) / (most - its) for problem, (mine, its) in counted.items()}
        best = max(rest.values())
        gone.append([problem for problem, share in rest.items() if share == best][-1])
        del counted[gone[-1]]
    return tuple(gone)


def lowest_of(total: StudentTotal, number: int) -> tuple[str, ...]:
    """The problems, by number, that are left out of a student's total; () where there is no mark."""
    return left_out(total.problems, total.of_problems, number) if total.problems else ()
