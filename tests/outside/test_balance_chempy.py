"""Equations that general courses balance, balanced by chempy as well: the same coefficients."""

from __future__ import annotations

import pytest
from chempy import balance_stoichiometry

from problemgen.chemistry.equation import balance, read_equation
from problemgen.chemistry.formula import read_formula

EQUATIONS = [
    "C3H8 + O2 -> CO2 + H2O",
    "C8H18 + O2 -> CO2 + H2O",
    "C2H5OH + O2 -> CO2 + H2O",
    "C6H12O6 + O2 -> CO2 + H2O",
    "FeS2 + O2 -> Fe2O3 + SO2",
    "NH3 + O2 -> NO + H2O",
    "Fe2O3 + CO -> Fe + CO2",
    "Cu + HNO3 -> Cu(NO3)2 + NO + H2O",
    "KMnO4 + HCl -> KCl + MnCl2 + Cl2 + H2O",
    "MnO4- + Fe^2+ + H+ -> Mn^2+ + Fe^3+ + H2O",
    "MnO4- + C2O4^2- + H+ -> Mn^2+ + CO2 + H2O",
    "Cr2O7^2- + Fe^2+ + H+ -> Cr^3+ + Fe^3+ + H2O",
    "S2O3^2- + I2 -> S4O6^2- + I-",
    "Zn + NO3- + H+ -> Zn^2+ + NH4+ + H2O",
    "Al + OH- + H2O -> [Al(OH)4]- + H2",
]


def in_their_spelling(text: str) -> str:
    """A formula as chempy reads it: the sign in front of the size of the charge ("SO4-2")."""
    formula = read_formula(text)
    if not formula.charge:
        return formula.text
    body = formula.text.rstrip("+-").split("^")[0].replace("[", "").replace("]", "")
    return f"{body}{formula.charge:+d}"


@pytest.mark.source("chempy: the coefficients; common-practice: equations of general courses")
@pytest.mark.parametrize("text", EQUATIONS)
def test_same_coefficients(text: str) -> None:
    equation = balance(read_equation(text))
    ours = [
        {in_their_spelling(term.formula.text): term.coefficient for term in side}
        for side in (equation.left, equation.right)
    ]
    theirs = balance_stoichiometry(set(ours[0]), set(ours[1]))
    assert [{name: int(count) for name, count in side.items()} for side in theirs] == ours
