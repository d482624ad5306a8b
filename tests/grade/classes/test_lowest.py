"""Which problems are left out of a sum."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.grade.classes.lowest import left_out, lowest_of
from problemgen.model.total import StudentTotal


def test_nothing_is_left_out_without_a_mark() -> None:
    total = StudentTotal("s1", "Ada", "A", "", None, Fraction(4), {}, of_problems={"1": Fraction(4), "2": Fraction(4)})
    assert lowest_of(total, 1) == ()
    marked = replace(total, points=Fraction(5), problems={"1": Fraction(4), "2": Fraction(1)})
    assert lowest_of(marked, 1) == ("2",)


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
