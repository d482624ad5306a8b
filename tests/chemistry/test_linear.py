"""Exact null spaces and positive solutions, against sympy and against constructed cases."""

from __future__ import annotations

from math import gcd

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sympy import Matrix

from problemgen.chemistry.linear import has_positive_solution, null_space

SMALL = st.integers(-4, 4)
MATRICES = st.tuples(st.integers(1, 5), st.integers(1, 6)).flatmap(
    lambda shape: st.lists(st.lists(SMALL, min_size=shape[1], max_size=shape[1]), min_size=shape[0], max_size=shape[0])
)


def product(matrix: list[list[int]], vector: list[int]) -> list[int]:
    return [sum(a * b for a, b in zip(row, vector, strict=True)) for row in matrix]


@pytest.mark.source("sympy: the null space")
@given(MATRICES)
def test_null_space_agrees_with_sympy(matrix: list[list[int]]) -> None:
    basis = null_space(matrix)
    theirs = Matrix(matrix).nullspace()
    assert len(basis) == len(theirs)
    for vector, other in zip(basis, theirs, strict=True):
        assert not any(product(matrix, vector))
        assert gcd(*vector) == 1
        assert Matrix.hstack(Matrix(vector), other).rank() == 1


@given(MATRICES, st.data())
def test_a_positive_solution_that_exists_is_found(matrix: list[list[int]], data: st.DataObject) -> None:
    size = len(matrix[0])
    solution = data.draw(st.lists(st.integers(1, 9), min_size=size, max_size=size))
    # One more column for each row takes up what is missing in it.
    rests = product(matrix, solution)
    square = [
        [*row, *(-rest if i == j else 0 for j in range(len(rests)))]
        for i, (row, rest) in enumerate(zip(matrix, rests, strict=True))
    ]
    assert not any(product(square, [*solution, *[1] * len(rests)]))
    assert has_positive_solution(square)


@given(MATRICES, st.data())
def test_a_row_of_one_sign_forbids_it(matrix: list[list[int]], data: st.DataObject) -> None:
    size = len(matrix[0])
    row = data.draw(st.lists(st.integers(0, 3), min_size=size, max_size=size).filter(any))
    times = data.draw(st.lists(SMALL, min_size=len(matrix), max_size=len(matrix)))
    # The row of one sign is hidden as a combination: it is added to the sum of the others.
    mixed = [sum(t * line[j] for t, line in zip(times, matrix, strict=True)) + row[j] for j in range(size)]
    assert not has_positive_solution([*matrix, mixed])


@given(MATRICES)
def test_a_single_basis_vector_decides(matrix: list[list[int]]) -> None:
    basis = null_space(matrix)
    if len(basis) == 1:
        assert has_positive_solution(matrix) == (min(basis[0]) > 0)
    if not basis:
        assert not has_positive_solution(matrix)


@pytest.mark.parametrize(
    ("matrix", "expected"),
    [
        ([[0, 0]], True),
        ([[1, -1]], True),
        ([[1, 1]], False),
        ([[1, -1, 0], [0, 0, 1]], False),
        ([[2, 0, -2, 0, 0, 0], [1, 2, 0, -2, 0, -2], [0, 1, 0, -1, 0, 0], [0, 0, 0, 0, -2, 0]], False),
    ],
)
def test_cases(matrix: list[list[int]], expected: bool) -> None:
    assert has_positive_solution(matrix) == expected
