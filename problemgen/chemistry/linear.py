"""Linear algebra for balancing: the null space is exact, on rows of fractions."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import gcd, lcm

from problemgen.late import late

__all__ = ["has_positive_solution", "null_space"]

scipy = late("scipy")  # hardly an equation wants it


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

    If so, it can be scaled until each number is at least 1: a linear programme that has a solution or none. Small
    whole numbers only, such as counts of atoms: it is worked in floats.
    """
    nothing = [0] * len(matrix[0])
    found = scipy.optimize.linprog(nothing, A_eq=matrix, b_eq=[0] * len(matrix), bounds=(1, None))
    return bool(found.success)
