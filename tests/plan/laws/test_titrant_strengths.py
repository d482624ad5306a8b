"""Water hardness and Karl Fischer titrations, worked by hand with invented volumes."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from problemgen.plan.laws.titrant_strengths import LAWS
from tests.support.law_table import LawTable

F = Fraction

HARD: dict[str, Any] = {"others": ["CaCO3"], "given": ["hardness(CaCO3)"]}
REAGENT: dict[str, Any] = {"others": ["H2O", "I2"], "given": ["water_equivalent(I2)"]}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "hardness",
        HARD,
        "H",
        {"m": "20.00 mg", "V": "100.0 mL", "molar_mass(CaCO3)": "100.195 g/mol"},
        F(200),
        "mg/L",
        {"sample-not-scaled": F(20), "hardness-per-millilitre": F("0.2"), "calcium-for-carbonate": F(80)},
    ),
    ("hardness", HARD, "m", {"H": "200.0 mg/L", "V": "100.0 mL"}, F(20), "mg", {}),
    (
        "water-equivalent",
        REAGENT,
        "T",
        {"m": "30.0 mg", "V": "6.00 mL"},
        F(5),
        "mg/mL",
        {"equivalent-inverted": F("0.2")},
    ),
    (
        "water-found",
        REAGENT,
        "m",
        {"T": "5.00 mg/mL", "V": "4.00 mL"},
        F(20),
        "mg",
        {"equivalent-divided": F("0.8")},
    ),
    ("water-found", REAGENT, "V", {"T": "5.00 mg/mL", "m": "20.0 mg"}, F(4), "mL", {}),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


EDTA = "CaCO3 + Na2C10H14N2O8.2H2O -> CaNa2C10H12N2O8 + CO2 + 3 H2O"
SALT = "Na2C10H14N2O8.2H2O"


def test_a_litre_of_tap_water(problems: Any) -> None:
    """20.00 mL of 0.01000 mol/L take up 0.2000 mmol from 100 mL: 200.2 mg/L with 100.09 g/mol."""
    given = {f"volume({SALT},solution)": "20.00 mL", f"concentration({SALT})": "0.01000 mol/L"}
    given |= {"volume(CaCO3,solution)": "100.0 mL"}
    plan = problems.plan(given, {"hardness(CaCO3)": "mg/L"}, EDTA)
    assert float(problems.answers(plan, given)["hardness(CaCO3)"]) == pytest.approx(200.17, abs=0.01)


def test_a_reagent_is_standardised_and_used(problems: Any) -> None:
    given = {
        "mass(H2O,standardising)": "30.0 mg",
        "volume(I2,standardising)": "6.00 mL",
        "volume(I2)": "4.00 mL",
        "mass(,sample)": "2.000 g",
    }
    asked = {"water_equivalent(I2)": "mg/mL", "mass(H2O)": "mg", "mass_fraction(H2O)": "%"}
    plan = problems.plan(given, asked, others=("H2O", "I2"))
    assert list(problems.answers(plan, given).values()) == [F(5), F(20), F(1)]


def test_a_blank_is_taken_off(problems: Any) -> None:
    given = {
        "water_equivalent(I2)": "5.00 mg/mL",
        "volume(I2,with_sample)": "6.50 mL",
        "volume(I2,blank)": "0.50 mL",
        "mass(,sample)": "0.200 g",
    }
    plan = problems.plan(given, {"mass_fraction(H2O)": "%"}, others=("H2O", "I2"))
    assert problems.answers(plan, given) == {"mass_fraction(H2O)": F(15)}
