"""Balancing against integer programming (scipy's mixed-integer solver, HiGHS) and sympy's null space.

The least whole coefficients of an equation with one solution are those of the least sum, each at least 1.
"""

from __future__ import annotations

from functools import reduce
from math import gcd

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp
from sympy import Matrix

from problemgen.chemistry.equation import Equation, Term, balance, imbalance
from problemgen.chemistry.formula import read_formula
from problemgen.errors import UnderdeterminedError
from problemgen.load.banks.banks import load_banks
from problemgen.load.resources import banks_folder
from tests.support.every_row import for_every

BANKS = load_banks(banks_folder())
Atoms = dict[str, int]


def contents(equation: Equation) -> list[list[int]]:
    """A row an element, and one for charge; a column a species, products negative."""
    terms = [(1, term) for term in equation.left] + [(-1, term) for term in equation.right]
    elements = sorted({symbol for _, term in terms for symbol in term.formula.composition})
    rows = [[sign * term.formula.count(symbol) for sign, term in terms] for symbol in elements]
    return [*rows, [sign * term.formula.charge for sign, term in terms]]


def by_programming(equation: Equation) -> list[int]:
    """The coefficients of the least sum, each from 1 to 500."""
    matrix = np.array(contents(equation), dtype=float)
    columns = matrix.shape[1]
    nothing = np.zeros(len(matrix))
    found = milp(
        np.ones(columns),
        constraints=LinearConstraint(matrix, nothing, nothing),
        integrality=np.ones(columns),
        bounds=Bounds(1, 500),
    )
    assert found.success
    return [round(value) for value in found.x]


def coefficients(equation: Equation) -> list[int]:
    return [term.coefficient for term in (*equation.left, *equation.right)]


def bank_equation(name: str) -> Equation:
    sides: tuple[list[Term], list[Term]] = ([], [])
    for substance, nu in BANKS.reactions[name].coefficients.items():
        sides[nu > 0].append(Term(abs(nu), BANKS.substances[substance].formula))
    return Equation(tuple(sides[0]), tuple(sides[1]))


@pytest.mark.source("scipy: the coefficients of the least sum; sympy: how many are free")
@for_every(BANKS.reactions)
def test_every_bank_reaction_is_balanced_as_the_programme_does(name: str) -> None:
    equation = bank_equation(name)
    assert imbalance(equation) == {}
    if len(Matrix(contents(equation)).nullspace()) == 1:
        least = reduce(gcd, coefficients(equation))
        assert coefficients(balance(equation)) == by_programming(equation)
        assert [nu // least for nu in coefficients(equation)] == by_programming(equation)
    else:  # practice, not the count of atoms, settles the coefficients
        with pytest.raises(UnderdeterminedError):
            balance(equation)
        assert sum(by_programming(equation)) <= sum(coefficients(equation))


def written(atoms: Atoms) -> str:
    return "".join(symbol + (str(count) if count > 1 else "") for symbol, count in sorted(atoms.items()) if count)


def molecule(most: int) -> st.SearchStrategy[Atoms]:
    return st.dictionaries(
        st.sampled_from(["C", "H", "N", "O", "S", "Cl"]), st.integers(1, most), min_size=1, max_size=3
    )


@st.composite
def solvable(draw: st.DrawFn) -> Equation:
    """An equation that some whole coefficients balance: reagents in random amounts, their atoms shared out anew."""
    reagents = draw(st.lists(molecule(4), min_size=1, max_size=3))
    total: Atoms = {}
    for atoms in reagents:
        times = draw(st.integers(1, 4))
        for symbol, count in atoms.items():
            total[symbol] = total.get(symbol, 0) + times * count
    first = {symbol: draw(st.integers(0, count)) for symbol, count in total.items()}
    rest = {symbol: count - first[symbol] for symbol, count in total.items()}
    products = [atoms for atoms in (first, rest) if any(atoms.values())]
    shrunk = [{s: n // reduce(gcd, atoms.values()) for s, n in atoms.items()} for atoms in products]
    sides = [sorted({written(atoms) for atoms in side}) for side in (reagents, shrunk)]
    assume(not set(sides[0]) & set(sides[1]))
    left, right = (tuple(Term(1, read_formula(text)) for text in side) for side in sides)
    return Equation(left, right)


@pytest.mark.source("scipy: the coefficients of the least sum; sympy: how many are free")
@settings(max_examples=500)
@given(solvable())
def test_random_solvable_equations_are_balanced_as_the_programme_does(equation: Equation) -> None:
    free = len(Matrix(contents(equation)).nullspace())
    if free == 1:
        assert coefficients(balance(equation)) == by_programming(equation)
    else:
        with pytest.raises(UnderdeterminedError):
            balance(equation)
