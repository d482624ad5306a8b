"""Which problems are left out of a sum."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.grade.lowest import left_out


@pytest.mark.parametrize(
    ("points", "of", "number", "gone"),
    [
        ((3, 1, 4), (4, 4, 4), 1, ("2",)),
        ((3, 1, 4), (4, 4, 4), 2, ("2", "1")),
        ((3, 1, 4), (4, 4, 4), 9, ("2", "1")),  # one always counts
        ((3, 1, 4), (4, 4, 4), 0, ()),
        ((5, 0), (10, 1), 1, ("2",)),
        ((2, 2), (4, 4), 1, ("2",)),
        ((0, 2), (0, 4), 1, ()),  # a problem that was dropped counts for nobody
    ],
)
def test_the_problem_without_which_the_share_is_greatest(
    points: tuple[int, ...], of: tuple[int, ...], number: int, gone: tuple[str, ...]
) -> None:
    names = [str(place) for place in range(1, len(of) + 1)]
    found = left_out(
        dict(zip(names, map(Fraction, points), strict=True)), dict(zip(names, map(Fraction, of), strict=True)), number
    )
    assert found == gone


@given(st.lists(st.tuples(st.integers(0, 8), st.integers(8, 9)), min_size=2, max_size=6))
def test_nobody_has_a_smaller_share_for_it(pairs: list[tuple[int, int]]) -> None:
    points = {str(place): Fraction(earned) for place, (earned, _) in enumerate(pairs)}
    of = {str(place): Fraction(most) for place, (_, most) in enumerate(pairs)}
    (gone,) = left_out(points, of, 1)
    rest = (sum(points.values()) - points[gone]) / (sum(of.values()) - of[gone])
    assert rest >= Fraction(sum(points.values()), 1) / sum(of.values())
