from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from problemgen.plan.laws.mixtures import LAWS
from tests.support.law_table import LawTable

F = Fraction

ABOUT = {"others": ["C2H6O2", "H2O"], "solvent": "H2O", "of": "C2H6O2"}
DISSOLVED = {**ABOUT, "wanted": ["mole_fraction(C2H6O2)", "molality(C2H6O2)"]}
PARTS = {"others": ["C6H6", "C7H8"], "wanted": ["mole_fraction(C6H6)"], "given": ["mass(C6H6)", "mass(C7H8)"]}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "amount-of-solvent",
        DISSOLVED,
        "n",
        {"m": "90.0 g", "M": "18.0 g/mol", "molar_mass(C2H6O2)": "60.0 g/mol"},
        F(5),
        "mol",
        {"other-molar-mass": F("1.5")},  # 90.0 / 60.0
    ),
    (
        "amount-of-solvent",
        DISSOLVED,
        "m",
        {"n": "5.00 mol", "M": "18.0 g/mol", "molar_mass(C2H6O2)": "60.0 g/mol"},
        F(90),
        "g",
        {"other-molar-mass": F(300)},
    ),
    (
        "mass-of-solvent",
        {**ABOUT, "given": ["volume(C2H6O2,solvent)"]},
        "m",
        {"V": "250.0 mL", "rho": "0.998 g/mL"},
        F("249.5"),
        "g",
        {},
    ),
    (
        "mass-of-solvent",
        {**ABOUT, "given": ["volume(C2H6O2,solvent)"]},
        "V",
        {"m": "249.5 g", "rho": "0.998 g/mL"},
        F(250),
        "mL",
        {},
    ),
    (
        "amount-of-solution",
        DISSOLVED,
        "total",
        {"n": "1.0 mol", "solvent": "4.0 mol"},
        F(5),
        "mol",
        {"solute-left-out": F(4)},
    ),
    ("amount-of-solution", DISSOLVED, "solvent", {"n": "1.0 mol", "total": "5.0 mol"}, F(4), "mol", {}),
    ("amount-of-solution", DISSOLVED, "n", {"solvent": "4.0 mol", "total": "5.0 mol"}, F(1), "mol", {}),
    ("mixture-amount", PARTS, "total", {"amount(C6H6)": "0.20 mol", "amount(C7H8)": "0.30 mol"}, F("0.5"), "mol", {}),
    (
        "mole-fraction",
        DISSOLVED,
        "x",
        {"n": "1.0 mol", "total": "5.0 mol", "mass(C2H6O2)": "60.0 g", "mass(C2H6O2,solvent)": "90.0 g"},
        F("0.2"),
        "1",
        {"fraction-of-masses": F("0.4")},  # 60 / 150
    ),
    ("mole-fraction", DISSOLVED, "n", {"x": "0.20 1", "total": "5.0 mol"}, F(1), "mol", {}),
    ("mole-fraction", DISSOLVED, "total", {"x": "0.20 1", "n": "1.0 mol"}, F(5), "mol", {}),
    (
        "molality",
        DISSOLVED,
        "b",
        {
            "n": "1.00 mol",
            "solvent": "500.0 g",
            "mass(C2H6O2)": "125.0 g",
            "volume(C2H6O2,solution)": "400.0 mL",
        },
        F(2),
        "mol/kg",
        {
            "solution-for-solvent": F("1.6"),  # 1.00 / 0.6250
            "litres-for-kilograms": F("2.5"),  # 1.00 / 0.4000
            "grams-as-kilograms": F("0.002"),  # 1.00 / 500.0
        },
    ),
    (
        "molality",
        DISSOLVED,
        "n",
        {"b": "2.00 mol/kg", "solvent": "500.0 g"},
        F(1),
        "mol",
        {"grams-as-kilograms": F(1000)},
    ),
    (
        "molality",
        DISSOLVED,
        "solvent",
        {"b": "2.00 mol/kg", "n": "1.00 mol"},
        F(500),
        "g",
        {"grams-as-kilograms": F("0.5")},
    ),
    ("basis", {**DISSOLVED, "given": ["mass_fraction(C2H6O2)"]}, "solution", {}, F(100), "g", {}),
    ("basis", {**DISSOLVED, "given": ["molality(C2H6O2)"]}, "solvent", {}, F(1), "kg", {}),
    ("basis", {**DISSOLVED, "given": ["mole_fraction(C2H6O2)"]}, "total", {}, F(1), "mol", {}),
    ("basis", {**DISSOLVED, "given": ["concentration(C2H6O2)"]}, "V", {}, F(1), "L", {}),
    (
        "share-of-portion",
        {**DISSOLVED, "given": ["mass_fraction(C2H6O2)"]},
        "m",
        {"w": "32.5 %", "solution": "100 g"},
        F("32.5"),
        "g",
        {},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


@pytest.mark.parametrize(
    "told",
    [
        {"given": ["mass_fraction(C2H6O2)", "mass(C2H6O2,solution)"]},  # a portion is told
        {"given": ["mass_fraction(C2H6O2)", "pressure(H2O)"]},  # gases
        {"given": ["density(C2H6O2,solution)"]},  # no content is told
    ],
)
def test_a_portion_is_chosen_only_where_contents_alone_are_told(bench: Any, told: dict[str, Any]) -> None:
    with pytest.raises(AssertionError, match="no instance of basis"):
        bench.instance("basis", {**DISSOLVED, **told})


def test_without_a_wanted_content_a_label_needs_no_portion(problems: Any) -> None:
    given = ["mass_fraction(HCl)", "density(HCl,solution)"]
    plan = problems.plan(given, {"concentration(HCl)": "mol/L"}, others=["HCl"])
    assert [step.law for step in plan.steps] == ["bottle", "molar-mass", "between-concentrations"]
