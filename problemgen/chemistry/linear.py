"""Exact linear algebra for balancing, on rows of fractions."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import gcd, lcm

__all__ = ["has_positive_solution", "null_space"]


def null_space(matrix: Sequence[Sequence[int]]) -> list[list[int]]:
    """A basis of the vectors x with matrix · x = 0, each in least whole numbers, its first one positive."""
    columns = len(matrix[0])
    table = [[Fraction(number) for number in row] for row in matrix]
    pivots: list[int] = []
    for column in range(columns):
        row = next((i for i in range(len(pivots), len(table)) if table[i][column]), None)
        if row is not None:
            table[len(pivots)], table[row] = table[row], table[len(pivots)]
            _eliminate(table, len(pivots), column)
            pivots.append(column)
    return [_solution(table, pivots, free) for free in range(columns) if free not in pivots]


def _eliminate(table: list[list[Fraction]], pivot: int, column: int) -> None:
    """Make the pivot row 1 in a column and clear the column in all other rows, in place."""
    divisor = table[pivot][column]
    table[pivot] = [number / divisor for number in table[pivot]]
    for i, row in enumerate(table):
        if i != pivot and row[column]:
            multiple = row[column]
            table[i] = [a - multiple * b for a, b in zip(row, table[pivot], strict=True)]


def _solution(table: list[list[Fraction]], pivots: list[int], free: int) -> list[int]:
    """The basis vector of a free column of an eliminated table."""
    vector = [Fraction(0)] * len(table[0])
    vector[free] = Fraction(1)
    for row, column in zip(table, pivots, strict=False):
        vector[column] = -row[free]
    return _least_whole(vector)


def _least_whole(vector: list[Fraction]) -> list[int]:
    """A rational vector scaled to whole numbers without a common divisor, the first of them positive."""
    common = lcm(*(number.denominator for number in vector))
    whole = [int(number * common) for number in vector]
    first = next(number for number in whole if number)
    divisor = gcd(*whole) * (1 if first > 0 else -1)
    return [number // divisor for number in whole]


def has_positive_solution(matrix: Sequence[Sequence[int]]) -> bool:
    """Whether some x with matrix · x = 0 is positive throughout.

    If so, it can be scaled until each number is at least 1: x = 1 + y with y >= 0. The simplex method,
    phase one, with Bland's rule (R. G. Bland, Math. Oper. Res. 2 (1977) 103), finds such a y or shows
    that there is none; it always ends.
    """
    columns = len(matrix[0])
    signed = [([*row, -sum(row)], 1 if sum(row) <= 0 else -1) for row in matrix]
    table = [[Fraction(sign * number) for number in row] for row, sign in signed]
    basis = [columns + i for i in range(len(table))]  # these stand for what is still missing in each row
    while True:
        missing = [row for row, variable in zip(table, basis, strict=True) if variable >= columns]
        gains = [sum((row[j] for row in missing), Fraction(0)) for j in range(columns + 1)]
        if not gains[columns]:
            return True
        entering = next((j for j in range(columns) if gains[j] > 0), None)
        if entering is None:
            return False
        leaving = _leaving(table, basis, entering)
        _eliminate(table, leaving, entering)
        basis[leaving] = entering


def _leaving(table: list[list[Fraction]], basis: list[int], entering: int) -> int:
    """The row that limits the entering variable most; of several, that of the lowest variable."""
    limits = [(row[-1] / row[entering], basis[i], i) for i, row in enumerate(table) if row[entering] > 0]
    return min(limits)[2]
