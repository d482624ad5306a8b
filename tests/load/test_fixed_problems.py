"""Problems with fixed numbers, in the shapes in which people type them: our own problems, worked by hand.

A line is written "quantity of [role] = value unit"; `of` is a formula, a name in small letters, or name:formula.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from problemgen.errors import FaultsError
from problemgen.load.banks import load_weights
from problemgen.load.fixed_problems import load_fixed_problems
from problemgen.plan.constants import constants
from problemgen.plan.solve import Solution, solve

WEIGHTS = load_weights(Path(__file__).parents[2] / "banks")[0]
ASPIRIN = "C7H6O3 + C4H6O3 -> C9H8O4 + C2H4O2"
ALUMINIUM = "2 Al + 3 Cl2 -> 2 AlCl3"
OXALATE = "2 KMnO4 + 5 Na2C2O4 + 8 H2SO4 -> 2 MnSO4 + 10 CO2 + K2SO4 + 5 Na2SO4 + 8 H2O"

Solve = Callable[..., Solution]


def line(text: str, key: str) -> dict[str, Any]:
    told, _, amount = text.partition(" = ")
    quantity, of, *role = told.split(" ")
    name, _, formula = of.partition(":")
    value, _, unit = (amount, "", "") if quantity.endswith("equation") else amount.partition(" ")
    if not formula and name[:1] in "[(" + "ABCDEFGHIJKLMNOPQRSTUVWXYZ":
        formula = name
    entry = {"of": name or None, "formula": formula or None, "quantity": quantity, "unit": unit or None}
    return {**entry, key: value or None, **({"role": role[0]} if role else {})}


def problem(equation: str, given: str, asked: str) -> dict[str, Any]:
    lines = {key: [one for one in text.split("; ") if one] for key, text in (("given", given), ("asked", asked))}
    return {
        "id": "p",
        "kind": "k",
        "equation": equation or None,
        "given": [line(one, "value") for one in lines["given"]],
        "asked": [line(one, "answer") for one in lines["asked"]],
    }


@pytest.fixture
def solved(tmp_path: Path) -> Solve:
    def work(equation: str, given: str, asked: str) -> Solution:
        path = tmp_path / "p.json"
        path.write_text(json.dumps([problem(equation, given, asked)]), encoding="utf-8")
        (one,) = load_fixed_problems(path, WEIGHTS)
        return solve(one, constants())

    return work


@pytest.mark.parametrize(
    ("equation", "given", "asked"),
    [
        # other units
        ("", "amount Fe2O3 = 12.5 kmol", "mass Fe2O3 = 1996 kg"),
        ("", "mass NaCl = 250 mg", "amount NaCl = 4.28 mmol"),
        ("", "volume ethanol = 350 µL; density ethanol = 0.789 g/mL", "mass ethanol = 276 mg"),
        ("", "mass Hg = 2.00 lb; density Hg = 13.6 g/cm3", "volume Hg = 66.7 mL"),
        ("", "mass Au = 1.00 oz; volume Au = 1.47 cm^3", "density Au = 19.3 g/mL"),
        ("", "density water = 62.4 lb/ft3", "density water = 1.00 g cm^-3"),
        ("", "concentration AgNO3 = 0.100 mol dm^-3; volume AgNO3 = 250 cm3", "mass AgNO3 = 4.25 g"),
        ("4 Fe(s) + 3 O2(g) -> 2 Fe2O3(s)", "mass Fe2O3 = 1.00 t", "mass Fe = 699 kg"),
        ("", "count ozone:O3 = 3.01e22 molecules", "mass ozone:O3 = 2.40 g"),
        # hydrates, however they are typed
        ("", "mass CuSO4*5H2O = 5.00 g", "amount CuSO4·5H2O = 0.0200 mol"),
        ("", "molecular_formula KAl(SO4)2·12H2O", "molar_mass KAl(SO4)2*12H2O = 474.4 g/mol"),
        ("CuSO4.5H2O -> CuSO4 + 5 H2O", "mass CuSO4•5H2O = 2.50 g", "mass CuSO4 = 1.60 g; mass H2O = 0.902 g"),
        ("2 HCl + Na2CO3 -> 2 NaCl + H2O + CO2", "mass Na2CO3.10H2O = 1.43 g; volume HCl = 50.0 mL",
         "concentration HCl = 0.200 M"),
        ("", "", "molar_mass [Fe(H2O)6]Cl3 = 270.3 g/mol; molar_mass Ca3(PO4)2 = 310.2 amu"),
        # without a formula
        ("", "amount brine = 2.00 mol; molar_mass brine = 18.02 g/mol", "mass brine = 36.0 g"),
        ("", "mass unknown = 4.60 g; amount unknown = 0.100 mol", "molar_mass unknown = 46.0 g/mol"),
        # solutions
        ("", "mass KMnO4 = 3.95 g; volume KMnO4 solution = 250.0 mL", "concentration KMnO4 = 0.100 mol/L"),
        ("", "mass KOH = 5.61 g; volume mixture solution = 0.250 L", "concentration KOH = 0.400 M"),
        ("", "volume CH3COOH = 5.00 mL; density CH3COOH = 1.049 g/mL; volume CH3COOH solution = 250.0 mL",
         "concentration CH3COOH = 0.349 M"),
        ("", "mass C6H12O6 = 15.0 g; mass H2O solvent = 285 g", "mass_fraction C6H12O6 = 5.00 %"),
        ("", "mass_fraction C6H12O6 = 5.00 %; mass syrup solution = 300 g",
         "mass C6H12O6 = 15.0 g; mass H2O solvent = 285 g"),
        ("", "mass_fraction HCl = 37.0 %; density HCl solution = 1.18 g/mL", "concentration HCl = 12.0 M"),
        ("", "mass_fraction HCl = 37.0 %; density HCl = 1.18 g/mL; volume HCl = 10.0 mL", "amount HCl = 0.120 mol"),
        ("", "mass_concentration NaCl = 9.00 g/L", "concentration NaCl = 0.154 M"),
        ("", ("mass_fraction NaOH purity = 97.0 %; mass_fraction NaOH = 10.0 %; density NaOH solution = 1.109 g/mL; "
         "volume NaOH solution = 1.00 L"), "mass NaOH impure = 114 g"),
        # dilutions
        ("", "concentration HCl initial = 12.0 M; concentration HCl final = 0.500 M; volume HCl final = 250 mL",
         "volume HCl = 10.4 mL"),
        ("", "concentration NaOH initial = 6.00 M; volume NaOH initial = 50.0 mL; concentration NaOH final = 0.750 M",
         "volume H2O added = 350 mL; volume NaOH = 400 mL"),
        ("", "concentration CuSO4 initial = 0.100 M; volume CuSO4 initial = 10.0 mL; volume H2O added = 90.0 mL",
         "concentration CuSO4 = 0.0100 M"),
        ("", ("mass_fraction HNO3 initial = 68.0 %; density HNO3 initial = 1.40 g/mL; mass_fraction HNO3 final = 10.0 "
         "%; mass HNO3 final = 400.0 g"), "volume HNO3 initial = 42.0 mL"),
        # impure samples
        ("CaCO3 -> CaO + CO2", "mass limestone sample = 12.5 g; mass CO2 = 4.95 g",
         "mass_fraction CaCO3 purity = 90.1 %"),
        ("CaCO3 -> CaO + CO2", "mass CaCO3 impure = 12.5 g; mass_fraction CaCO3 purity = 90.0 %", "mass CO2 = 4.95 g"),
        ("Na2CO3 + 2 HCl -> 2 NaCl + H2O + CO2", ("mass soda sample = 0.2500 g; volume HCl = 42.00 mL; "
         "concentration HCl = 0.1000 M"), "mass_fraction Na2CO3 = 89.03 %"),
        # forwards, backwards, several at once
        ("2 H2(g) + O2(g) -> 2 H2O(l)", "amount H2 = 3.00 mol", "amount O2 = 1.50 mol; amount H2O = 3.00 mol"),
        ("N2(g) + 3 H2(g) ⇌ 2 NH3(g)", "amount NH3 = 4.00 mol", "amount N2 = 2.00 mol; count H2 = 3.61e24 molecules"),
        ("Fe2O3 + 3 CO -> 2 Fe + 3 CO2", "mass Fe = 1.00 kg", "mass Fe2O3 = 1.43 kg; mass CO = 752 g"),
        (ALUMINIUM, "mass Al = 2.70 g; mass Cl2 = 4.05 g",
         "limiting_reactant  = Cl2; mass AlCl3 = 5.08 g; mass Al left = 1.67 g; amount AlCl3 = 38.1 mmol"),
        (ALUMINIUM, "mass aluminium:Al = 2.70 g; amount chlorine:Cl2 = 57.1 mmol", "limiting_reactant  = chlorine"),
        ("2 H2 + O2 -> 2 H2O", "count H2 = 10 molecules; count O2 = 7 molecules",
         "limiting_reactant  = H2; count H2O = 10 molecules"),
        (ASPIRIN, ("mass C7H6O3 = 2.00 g; volume C4H6O3 = 5.00 mL; density C4H6O3 = 1.08 g/mL; mass C9H8O4 actual = "
         "1.95 g"), "theoretical_mass C9H8O4 = 2.61 g; percent_yield C9H8O4 = 74.7 %"),
        (ASPIRIN, "mass C9H8O4 actual = 5.00 g; percent_yield C9H8O4 = 75.0 %", "mass C7H6O3 = 5.11 g"),
        (ASPIRIN, "mass C9H8O4 theoretical = 2.61 g; mass C9H8O4 actual = 1.95 g", "percent_yield C9H8O4 = 74.7 %"),
        (ASPIRIN, "mass C7H6O3 = 2.00 g; percent_yield C9H8O4 = 75.0 %", "mass C9H8O4 actual = 1.96 g"),
        # titrations
        ("H2SO4 + 2 NaOH -> Na2SO4 + 2 H2O", ("volume H2SO4 sample = 25.00 mL; volume NaOH = 31.40 mL; "
         "concentration NaOH = 0.1020 mol/L"), "concentration H2SO4 = 0.06406 mol/L; mass H2SO4 = 157.1 mg"),
        (OXALATE, "mass Na2C2O4 = 0.1340 g; volume KMnO4 = 20.00 mL", "concentration KMnO4 = 0.02000 M"),
        ("Ca(OH)2 + 2 HCl -> CaCl2 + 2 H2O", ("volume HCl = 25.00 mL; concentration HCl = 0.1000 M; "
         "concentration Ca(OH)2 = 0.02000 M"), "volume Ca(OH)2 = 62.50 mL"),
        ("HC2H3O2 + NaOH -> NaC2H3O2 + H2O", ("volume HC2H3O2 = 5.00 mL; density HC2H3O2 solution = 1.005 g/mL; "
         "volume NaOH = 42.10 mL; concentration NaOH = 0.1000 M"), "mass_fraction HC2H3O2 = 5.03 %"),
        # equations
        ("", "unbalanced_equation  = MnO4^- + Fe^2+ + H+ -> Mn^2+ + Fe^3+ + H2O",
         "balanced_equation  = MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O"),
    ],
)  # fmt: skip
def test_a_problem_is_solved(solved: Solve, equation: str, given: str, asked: str) -> None:
    solution = solved(equation, given, asked)
    assert solution.error is None
    assert [(answer.value or answer.text, answer.accepted) for answer in solution.answers] == [
        (answer.value or answer.text, True) for answer in solution.answers
    ]
    assert len(solution.answers) == len(asked.split("; "))


@pytest.mark.parametrize(
    ("equation", "given", "asked", "error"),
    [
        ("", "mass H2 = 1 g; mass H2 = 2 g", "amount H2 = 1 mol", ("mass(H2) is given twice; a role has to tell the "
         "two apart")),
        ("2 H2 + O2 -> 3 H2O", "mass H2 = 1 g", "mass H2O = 9 g", ("2 H2 + O2 -> 3 H2O is not balanced: H 4 on the "
         "left, 6 on the right; O 2, 3. Balanced: 2 H2 + O2 -> 2 H2O")),
        ("2 H2 + O2 -> 2 H2O", "mass H2 = 5.00 g", "limiting_reactant  = O2", ("the limiting reagent cannot be told; "
         "missing: the amounts of two reagents or more")),
        ("", "mass H2 = 5.00 g", "volume H2 = 1 L", ("the volume of H2 cannot be derived from what is given; missing: "
         "the density of H2 or ")),
        ("", "mass H2 = 5.00 mol", "amount H2 = 1 mol", "mass(H2): mol is no unit of mass (such as g)"),
        ("", "mass H2 = 5.00 g", "amount H2 = 1 g", "amount(H2): g is no unit of amount (such as mol)"),
        ("", "mass H2 = 5.00 gg", "amount H2 = 1 mol", "unknown unit 'gg'; "),
        ("", "mass H2 = 1,250 g", "amount H2 = 1 mol", "'1,250' is not a number"),
        ("", "mass H2 = 20. g", "amount H2 = 1 mol", "'20.' is not a number; write 20"),
        ("", "mass Xx2 = 2 g", "amount Xx2 = 1 mol", "formula 'Xx2', character 1: no element has the symbol 'Xx'"),
        ("A -> B", "mass H2 = 2 g", "amount H2 = 1 mol", "formula 'A', character 1: no element has the symbol 'A'"),
        ("", "mass Og = 2 g", "amount Og = 1 mol", "banks/elements.toml has no atomic weight of Og"),
        ("", "mass H2 = 2 g", "happiness H2 = 1", "no law leads to the quantity 'happiness'"),
        ("", "", "fewest_molecules  = H2", ("there is nothing to compare: no substance has a formula and a given "
         "quantity")),
        ("", "mass H2 = 2 g", "most_atoms_of_Xx  = H2", "no law leads to the quantity 'most_atoms_of_Xx'"),
        ("", "", "balanced_equation  = H2", "no unbalanced equation is given"),
        ("", "unbalanced_equation  = H2 -> O2", "balanced_equation  = H2", ("no positive coefficients balance H2 -> "
         "O2: H, O stand on one side only")),
        ("", "mass H2 = 0 g; volume H2 = 0 L", "density H2 = 1 g/L", "a division by zero"),
    ],
)  # fmt: skip
def test_what_cannot_be_solved_says_why(solved: Solve, equation: str, given: str, asked: str, error: str) -> None:
    solution = solved(equation, given, asked)
    assert solution.error is not None
    assert solution.error.startswith(error)
    assert [answer.accepted for answer in solution.answers] == [False]
    assert {answer.value for answer in solution.answers} == {None}


def test_an_answer_that_is_no_number_is_not_accepted(solved: Solve) -> None:
    solution = solved("", "mass H2 = 5.00 g", "amount H2 = about mol")
    assert solution.error is None
    assert [answer.accepted for answer in solution.answers] == [False]


def test_without_an_answer_nothing_is_accepted_or_refused(solved: Solve) -> None:
    (answer,) = solved("", "mass H2 = 5.000 g", "amount H2 =  mol").answers
    assert answer.accepted is None
    assert answer.value is not None
    assert Fraction(answer.value) == pytest.approx(Fraction(5) / Fraction("2.016"))


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("[", "found a slip in the notation: Expecting value: line 1 column 2 (char 1); expected valid JSON"),
        ("{}", "found {}; expected Input should be a valid tuple"),
        ('[{"id": "a"}]', "0.asked: found {'id': 'a'}; expected Field required"),
        ('[{"id": 3, "kind": "k", "asked": [{"quantity": "mass"}]}]', ("0.id: found 3; expected Input should be a "
         "valid string")),
        ('[{"id": "a", "kind": "k", "asked": [{"quantity": "mass", "answer": 3.5}]}]', ("0.asked.0.answer: found 3.5; "
         "expected Input should be a valid string")),
        ('[{"id": "a", "kind": "k", "asked": [{"quantity": "mass"}], "given": [{"qty": 1}]}]', ("0.given.0.qty: found "
         "1; expected Extra inputs are not permitted")),
    ],
)  # fmt: skip
def test_a_file_of_another_shape_is_refused(tmp_path: Path, text: str, expected: str) -> None:
    path = tmp_path / "p.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(FaultsError) as caught:
        load_fixed_problems(path, WEIGHTS)
    assert f"{path}: {expected}" in str(caught.value).splitlines()


def test_a_missing_file_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FaultsError, match="found no such file or directory; expected a readable JSON file"):
        load_fixed_problems(tmp_path / "none.json", WEIGHTS)
