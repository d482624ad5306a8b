"""Equations: spellings, balancing with its three outcomes, comparing."""

from __future__ import annotations

import re
from math import gcd

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.chemistry.equation import (
    Equation,
    Term,
    balance,
    check_balanced,
    imbalance,
    read_equation,
    same_equation,
)
from problemgen.chemistry.formula import read_formula
from problemgen.errors import (
    EquationError,
    FormulaError,
    ImpossibleError,
    UnbalancedError,
    UnderdeterminedError,
)

BALANCED = [
    "2 H2 + O2 -> 2 H2O",
    "N2 + 3 H2 -> 2 NH3",
    "C3H8 + 5 O2 -> 3 CO2 + 4 H2O",
    "2 C8H18 + 25 O2 -> 16 CO2 + 18 H2O",
    "MnO4- + 5 Fe^2+ + 8 H+ -> Mn^2+ + 5 Fe^3+ + 4 H2O",
    "Cr2O7^2- + 14 H+ + 6 e- -> 2 Cr^3+ + 7 H2O",
    "3 Cu + 8 HNO3 -> 3 Cu(NO3)2 + 2 NO + 4 H2O",
    "Ca3(PO4)2 + 3 SiO2 + 5 C -> 3 CaSiO3 + 5 CO + 2 P",
    "CuSO4.5H2O -> CuSO4 + 5 H2O",
    "K4[Fe(CN)6] + 6 H2SO4 + 6 H2O -> 2 K2SO4 + FeSO4 + 3 (NH4)2SO4 + 6 CO",
    "2 S2O3^2- + I2 -> S4O6^2- + 2 I^-",
    "Ag+(aq) + Cl-(aq) -> AgCl(s)",
    "H2O(l) -> H2O(g)",
]


@pytest.mark.parametrize(
    ("text", "canonical"),
    [
        ("2 H2 + O2 -> 2 H2O", "2 H2 + O2 -> 2 H2O"),
        ("2H2+O2->2H2O", "2 H2 + O2 -> 2 H2O"),
        ("2H2 +O2 --> 2H2O", "2 H2 + O2 -> 2 H2O"),
        ("2H₂ + O₂ → 2H₂O", "2 H2 + O2 -> 2 H2O"),
        ("N2 + 3H2 <=> 2NH3", "N2 + 3 H2 -> 2 NH3"),
        ("N2 + 3H2 ⇌ 2NH3", "N2 + 3 H2 -> 2 NH3"),
        ("N2 + 3H2 = 2NH3", "N2 + 3 H2 -> 2 NH3"),
        ("N2 + 3H2 ⟶ 2NH3", "N2 + 3 H2 -> 2 NH3"),
        ("Na+ + Cl- -> NaCl", "Na+ + Cl- -> NaCl"),
        ("Na++Cl-->NaCl", "Na+ + Cl -> NaCl"),  # the long arrow takes the sign: charges want a space here
        ("Na++Cl- ->NaCl", "Na+ + Cl- -> NaCl"),
        ("Cu^2++Zn->Cu+Zn^2+", "Cu^2+ + Zn -> Cu + Zn^2+"),
        ("Cu²⁺+Zn→Cu+Zn²⁺", "Cu^2+ + Zn -> Cu + Zn^2+"),
        ("Na+(aq)+Cl-(aq)->NaCl(s)", "Na+(aq) + Cl-(aq) -> NaCl(s)"),
        ("Fe^3+ + e- -> Fe^2+", "Fe^3+ + e- -> Fe^2+"),
        ("H^+ + OH^- -> H2O", "H+ + OH- -> H2O"),
        ("CuSO4·5H2O -> CuSO4 + 5 H2O", "CuSO4.5H2O -> CuSO4 + 5 H2O"),
        ("CuSO4 · 5 H2O -> CuSO4 + 5 H2O", "CuSO4.5H2O -> CuSO4 + 5 H2O"),
        ("Ca+(OH)2 -> CaO2H2", "Ca + (OH)2 -> CaO2H2"),
        ("999999 H2 -> 999999 H2", "999999 H2 -> 999999 H2"),
    ],
)
def test_reads(text: str, canonical: str) -> None:
    assert read_equation(text).text == canonical
    assert read_equation(canonical).text == canonical


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "'' has no arrow; an equation has one, written ->"),
        ("H2 + O2", "'H2 + O2' has no arrow; an equation has one, written ->"),
        ("H2 -> H2 -> H2", "'H2 -> H2 -> H2' has 2 arrows; an equation has one, written ->"),
        ("H2 ->", "a term is missing in 'H2 ->'"),
        ("-> H2", "a term is missing in '-> H2'"),
        ("H2 + -> H2", "a term is missing in 'H2 + -> H2'"),
        ("H2 + + O2 -> H2O", "a term is missing in 'H2 + + O2 -> H2O'"),
        ("H2 + H2 -> H4", "H2 stands twice on one side of 'H2 + H2 -> H4'"),
        ("H2 + H₂ -> H4", "H2 stands twice on one side of 'H2 + H₂ -> H4'"),
        (
            "H2 + 1/2 O2 -> H2O",
            "'1/2 O2': coefficients are whole numbers; multiply the equation through",
        ),
        ("H2 + 0.5 O2 -> H2O", "'0.5 O2': coefficients are whole numbers; multiply the equation through"),
        ("H2 + ½ O2 -> H2O", "'½ O2': coefficients are whole numbers; multiply the equation through"),
        ("0 H2 -> H2", "'0 H2': a coefficient is a whole number from 1 to 999999"),
        ("1000000 H2 -> H2", "'1000000 H2': a coefficient is a whole number from 1 to 999999"),
        ("H2 -> " + "O" * 1000, "an equation of 1006 characters; at most 1000 are read"),
        (
            " + ".join(f"H{n}" for n in range(2, 26)) + " -> H",
            "an equation of 25 terms; at most 24 are read",
        ),
    ],
)
def test_refuses(text: str, message: str) -> None:
    with pytest.raises(EquationError, match=f"^{re.escape(message)}$"):
        read_equation(text)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("H2 + Xx -> HX", "formula 'Xx', character 1: no element has the symbol 'Xx'"),
        ("2 -> H2", "formula '', character 1: nothing is written"),
        ("H2 O2 -> H2O2", "formula 'H2 O2', character 3: a space does not belong in a formula"),
        ("Fe3+ + e- -> Fe", "formula 'Fe3+', character 3: the charge can be misread; write Fe^3+ or Fe3^+"),
    ],
)
def test_refuses_formulas(text: str, message: str) -> None:
    with pytest.raises(FormulaError, match=f"^{re.escape(message)}$"):
        read_equation(text)


def test_coefficient_of_a_species() -> None:
    equation = read_equation("CuSO4.5H2O(s) -> CuSO4(s) + 5 H2O(g)")
    assert equation.coefficient("H₂O") == 5
    assert equation.coefficient("H2O(g)") == 5
    assert equation.coefficient("CuSO4·5H2O") == 1
    with pytest.raises(EquationError, match=r"^H2O\(l\) does not occur in CuSO4.5H2O\(s\) -> "):
        equation.coefficient("H2O(l)")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("2 H2 + O2 -> 2 H2O", {}),
        ("H2 + O2 -> H2O", {"O": -1}),
        ("Zn + Ag+ -> Zn^2+ + Ag", {"charge": 1}),
        ("H2 -> O2", {"H": -2, "O": 2}),
        ("MnO4- + e- -> Mn^2+", {"O": -4, "charge": 4}),
    ],
)
def test_imbalance(text: str, expected: dict[str, int]) -> None:
    assert dict(imbalance(read_equation(text))) == expected


@pytest.mark.parametrize("text", BALANCED)
def test_balances_from_species_alone(text: str) -> None:
    equation = read_equation(text)
    bare = read_equation(re.sub(r"(^|(?<= ))[0-9]+ ", "", text))
    assert not imbalance(equation)
    assert balance(bare) == equation
    check_balanced(equation)


@given(st.sampled_from(BALANCED), st.integers(1, 60), st.booleans(), st.data())
def test_recovers_what_was_permuted_multiplied_and_turned(
    text: str, times: int, turned: bool, data: st.DataObject
) -> None:
    least = read_equation(text)
    left = tuple(data.draw(st.permutations(least.left)))
    right = tuple(data.draw(st.permutations(least.right)))
    many = Equation(*(tuple(Term(t.coefficient * times, t.formula) for t in side) for side in (left, right)))
    assert not imbalance(many)
    assert balance(many) == Equation(left, right)
    assert same_equation(many, least)
    if turned:
        assert balance(Equation(many.right, many.left)) == Equation(right, left)


@given(
    st.lists(
        st.sampled_from(["H2", "O2", "H2O", "CO", "CO2", "CH4", "C", "H+", "e-", "OH-", "N2", "NO", "NH3"]),
        min_size=2,
        max_size=7,
        unique=True,
    ),
    st.integers(1, 6),
)
def test_whatever_comes_out_balanced_is_in_least_numbers(species: list[str], split: int) -> None:
    terms = tuple(Term(1, read_formula(text)) for text in species)
    split = min(split, len(terms) - 1)
    try:
        done = balance(Equation(terms[:split], terms[split:]))
    except (ImpossibleError, UnderdeterminedError):
        return
    assert not imbalance(done)
    assert gcd(*(term.coefficient for term in (*done.left, *done.right))) == 1


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("H2 + O2 -> CO2", "no positive coefficients balance H2 + O2 -> CO2: H, C stand on one side only"),
        ("Fe -> Fe^3+", "no positive coefficients balance Fe -> Fe^3+"),
        (
            "CO -> C + CO2 + H2O",
            "no positive coefficients balance CO -> C + CO2 + H2O: H stands on one side only",
        ),
        ("2 C + 2 CO2 -> CO2", "no positive coefficients balance C + CO2 -> CO2"),
        # Two free coefficients, none of them positive throughout.
        (
            "H2O + CO2 -> H2 + CO2 + N2 + O2",
            "no positive coefficients balance H2O + CO2 -> H2 + CO2 + N2 + O2: N stands on one side only",
        ),
    ],
)
def test_impossible(text: str, message: str) -> None:
    with pytest.raises(ImpossibleError, match=f"^{re.escape(message)}$"):
        balance(read_equation(text))


@pytest.mark.source("common-practice: equations known to balance in many ways")
@pytest.mark.parametrize(
    ("text", "sets"),
    [
        ("C + O2 -> CO + CO2", 2),
        ("MnO4- + H2O2 + H+ -> Mn^2+ + O2 + H2O", 2),
        ("KClO3 + HCl -> KCl + Cl2 + ClO2 + H2O", 2),
    ],
)
def test_underdetermined(text: str, sets: int) -> None:
    message = f"{text} is balanced by {sets} independent sets of coefficients: it is more than one reaction"
    with pytest.raises(UnderdeterminedError, match=f"^{re.escape(message)}$"):
        balance(read_equation(text))


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            "N2 + 3 H2 -> NH3",
            ("N2 + 3 H2 -> NH3 is not balanced: N 2 on the left, 1 on the right; H 6, 3. Balanced: N2 + 3 H2 -> 2 NH3"),
        ),
        (
            "Zn + Ag+ -> Zn^2+ + Ag",
            (
                "Zn + Ag+ -> Zn^2+ + Ag is not balanced: charge +1 on the left, +2 on the right. "
                "Balanced: Zn + 2 Ag+ -> Zn^2+ + 2 Ag"
            ),
        ),
        (
            "H2 -> H2O",
            (
                "H2 -> H2O is not balanced: O 0 on the left, 1 on the right. "
                "No positive coefficients balance it: O stands on one side only"
            ),
        ),
        (
            "C + O2 -> CO + CO2",
            (
                "C + O2 -> CO + CO2 is not balanced: C 1 on the left, 2 on the right; O 2, 3. "
                "Several independent sets of coefficients balance it"
            ),
        ),
        (
            "Fe -> Fe^3+",
            ("Fe -> Fe^3+ is not balanced: charge 0 on the left, +3 on the right. No positive coefficients balance it"),
        ),
    ],
)
def test_check_balanced(text: str, message: str) -> None:
    with pytest.raises(UnbalancedError, match=f"^{re.escape(message)}$"):
        check_balanced(read_equation(text))


@pytest.mark.parametrize(
    ("first", "second", "same"),
    [
        ("2 H2 + O2 -> 2 H2O", "2 O2 + 4 H2 -> 4 H2O", True),
        ("2 H2 + O2 -> 2 H2O", "2 H2(g) + O2(g) -> 2 H2O(l)", True),
        ("2 H2(g) + O2(g) -> 2 H2O(g)", "2 H2(g) + O2(g) -> 2 H2O(l)", False),
        ("2 H2 + O2 -> 2 H2O", "H2 + O2 -> 2 H2O", False),
        ("2 H2 + O2 -> 2 H2O", "2 H2O -> 2 H2 + O2", False),
        ("2 H2 + O2 -> 2 H2O", "2 H2 + O2 -> 2 H2O2", False),
        ("CuSO4·5H2O -> CuSO4 + 5 H2O", "CuSO4*5H2O = 5H2O + CuSO4", True),
    ],
)
def test_same_equation(first: str, second: str, same: bool) -> None:
    assert same_equation(read_equation(first), read_equation(second)) == same
    assert same_equation(read_equation(second), read_equation(first)) == same


def test_an_equation_of_many_terms_is_decided() -> None:
    species = [f"C{n}H{2 * n + 2}" for n in range(2, 24)]
    text = " + ".join(species[:11]) + " -> " + " + ".join([*species[11:], "H2"])
    with pytest.raises(UnderdeterminedError, match="21 independent sets"):
        balance(read_equation(text))
