from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from problemgen.plan.laws import LAWS_BY_ID
from problemgen.plan.laws.amounts import LAWS, has_mass
from tests.support.law_table import LawTable

F = Fraction

ANHYDRIDE = {"others": ["C4H6O3"]}
SALT = {"equation": "2 Na + Cl2 -> 2 NaCl", "product": "NaCl", "of": "Na"}
"""Sodium is a reagent with the coefficient 2; by mistake its molar mass is taken for sodium chloride's."""

MADE = {"equation": "2 Na + Cl2 -> 2 NaCl", "product": "NaCl", "of": "NaCl"}
VITRIOL = {"others": ["CuSO4", "CuSO4.5H2O"], "stands_for": {"CuSO4.5H2O": "CuSO4"}}
MARBLE = {"others": ["CaCO3"]}

# Atomic weights, as in banks/elements.toml: Na 22.990, Cl 35.45, H 1.0080, O 15.999, S 32.06, Cu 63.546.
M_NA, M_NACL = F("22.990"), F("22.990") + F("35.45")
N_A = F("6.02214076e23")

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "density",
        ANHYDRIDE,
        "m",
        {"V": "2.50 mL", "rho": "1.082 g/mL"},
        F("2.705"),
        "g",
        {"density-divided": F("2.50") / F("1.082"), "density-forgotten": F("2.50")},
    ),
    (
        "density",
        ANHYDRIDE,
        "V",
        {"m": "2.705 g", "rho": "1.082 g/mL"},
        F("2.5"),
        "mL",
        {"density-divided": F("2.705") * F("1.082"), "density-forgotten": F("2.705")},
    ),
    (
        "density",
        ANHYDRIDE,
        "rho",
        {"m": "2.705 g", "V": "2.50 mL"},
        F("1.082"),
        "g/mL",
        {"density-divided": F("2.50") / F("2.705")},
    ),
    ("molar-mass", SALT, "M", {}, F("22.990"), "g/mol", {}),
    ("molar-mass", MADE, "M", {}, F("58.44"), "g/mol", {}),
    (
        "molar-mass",
        {**VITRIOL, "of": "CuSO4.5H2O"},
        "M",
        {},
        F("63.546") + F("32.06") + 9 * F("15.999") + 10 * F("1.0080"),
        "g/mol",
        {"water-left-out": F("63.546") + F("32.06") + 4 * F("15.999")},
    ),
    (
        "amount",
        SALT,
        "n",
        {"m": "1.15 g", "M": "22.990 g/mol"},
        F("1.15") / M_NA,
        "mol",
        {
            "molar-mass-inverted": F("1.15") * M_NA,
            "coefficient-in-amount": F("1.15") / (2 * M_NA),
            "other-molar-mass": F("1.15") / M_NACL,
        },
    ),
    (
        "amount",
        SALT,
        "m",
        {"n": "0.0500 mol", "M": "22.990 g/mol"},
        F("1.1495"),
        "g",
        {
            "molar-mass-inverted": F("0.05") / M_NA,
            "coefficient-in-amount": 2 * F("1.1495"),
            "other-molar-mass": F("2.922"),
        },
    ),
    (
        "amount",
        MADE,
        "n",
        {"m": "5.844 g", "M": "58.44 g/mol"},
        F("0.1"),
        "mol",
        {
            "molar-mass-inverted": F("5.844") * M_NACL,
            "coefficient-in-amount": F("0.05"),
            "other-molar-mass": F("5.844") / M_NA,
        },
    ),
    ("amount", SALT, "M", {"m": "1.1495 g", "n": "50.0 mmol"}, F("22.99"), "g/mol", {}),
    (
        "purity",
        MARBLE,
        "m",
        {"sample": "0.400 g", "w": "92.5 %"},
        F("0.37"),
        "g",
        {"purity-left-out": F("0.4"), "purity-divided": F("0.4") / F("0.925")},
    ),
    (
        "purity",
        MARBLE,
        "sample",
        {"m": "0.370 g", "w": "92.5 %"},
        F("0.4"),
        "g",
        {"purity-left-out": F("0.37"), "purity-divided": F("0.37") * F("0.925")},
    ),
    ("purity", MARBLE, "w", {"m": "0.370 g", "sample": "0.400 g"}, F("92.5"), "%", {}),
    (
        "particles",
        MARBLE,
        "N",
        {"n": "0.500 mol", "L": "6.02214076e23 molecules/mol"},
        N_A / 2,
        "molecules",
        {"avogadro-inverted": F("0.5") / N_A},
    ),
    (
        "particles",
        MARBLE,
        "n",
        {"N": "3.011e23 molecules", "L": "6.02214076e23 molecules/mol"},
        F("3.011e23") / N_A,
        "mol",
        {"avogadro-inverted": F("3.011e23") * N_A},
    ),
    ("hydrate", VITRIOL, "n", {"hydrate": "10.0 mmol"}, F(10), "mmol", {}),
    ("hydrate", VITRIOL, "hydrate", {"n": "10.0 mmol"}, F(10), "mmol", {}),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES

    def test_every_letter_that_has_words_is_worked_above(self, bench: Any) -> None:
        """Whole units are counted by themselves below."""
        assert bench.letters_told(LAWS) - {("whole-units", "N")} == {(case[0], case[2]) for case in CASES}


@pytest.mark.parametrize(
    ("counted", "expected"),
    [
        ((6, 6), 4),  # hydrogen is used up: 6 / 3 = 2 rounds, two ammonia molecules each
        ((2, 30), 4),
        ((5, 8), 4),  # 8 / 3 = 2 whole rounds
        ((5, 2), 0),
    ],
)
def test_whole_molecules_from_counted_ones(bench: Any, counted: tuple[int, int], expected: int) -> None:
    given = ["count(N2)", "count(H2)"]
    instance = bench.instance("whole-units", {"given": given, "equation": "N2 + 3 H2 -> 2 NH3"})
    values = {name: f"{number} molecules" for name, number in zip(given, counted, strict=True)}
    assert bench.value(instance, instance.solution("N"), values, "molecules") == expected


def test_whole_molecules_need_every_reagent_counted(bench: Any) -> None:
    with pytest.raises(AssertionError, match="no instance of whole-units"):
        bench.instance("whole-units", {"given": ["count(N2)"], "equation": "N2 + 3 H2 -> 2 NH3"})


@pytest.mark.parametrize(("formula", "weighable"), [("H2O", True), ("Na+", True), ("e-", False)])
def test_everything_with_atoms_has_a_molar_mass(problems: Any, formula: str, weighable: bool) -> None:
    (species,) = problems.scene((), others=[formula]).species.values()
    assert has_mass(species) is weighable


@pytest.mark.parametrize(
    "roles",
    [
        ("", "", ""),
        ("actual", "actual", ""),
        ("theoretical", "theoretical", ""),
        ("solution", "solution", "solution"),
        ("initial solution", "initial", "initial"),
    ],
)
def test_masses_and_volumes_meet_in_the_density_of_what_is_measured(problems: Any, roles: tuple[str, str, str]) -> None:
    law = LAWS_BY_ID["density"]
    bound = [instance.binding for instance in law.instances(law, problems.scene((), others=["HCl"]))]
    assert roles in {(b["m"].role, b["V"].role, b["rho"].role) for b in bound}
