from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from problemgen.plan.laws.solutions import LAWS
from tests.support.law_table import LawTable

F = Fraction

ACID = {"equation": "Mg + 2 HCl -> MgCl2 + H2", "of": "HCl"}
"""Hydrogen chloride is a reagent with the coefficient 2."""

SALT = {"others": ["NaCl"]}
LABEL = {"others": ["HCl"], "wanted": ["concentration(HCl)"]}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "concentration",
        ACID,
        "n",
        {"c": "0.100 mol/L", "V": "25.00 mL"},
        F("2.5"),
        "mmol",
        {
            "millilitres-as-litres": F("2500"),  # 25.00 × 0.100 = 2.5, taken for mol
            "concentration-divided": 1000 * F("0.025") / F("0.1"),
            "coefficient-in-concentration": F("5"),
        },
    ),
    (
        "concentration",
        ACID,
        "V",
        {"n": "2.50 mmol", "c": "0.100 mol/L"},
        F("25"),
        "mL",
        {
            "millilitres-as-litres": F("0.025"),  # 0.00250 / 0.100 = 0.025, taken for mL
            "concentration-divided": 1000 * F("0.0025") * F("0.1"),
            "coefficient-in-concentration": F("12.5"),
        },
    ),
    (
        "concentration",
        ACID,
        "c",
        {"n": "2.50 mmol", "V": "25.00 mL"},
        F("0.1"),
        "mol/L",
        {
            "millilitres-as-litres": F("0.0001"),  # 0.00250 / 25.00
            "coefficient-in-concentration": F("0.05"),
        },
    ),
    (
        "mass-percent",
        SALT,
        "m",
        {"w": "37.0 %", "solution": "5.90 g"},
        F("2.183"),
        "g",
        {"percent-left-out": F("5.9"), "percent-divided": F("5.9") / F("0.37")},
    ),
    (
        "mass-percent",
        SALT,
        "solution",
        {"w": "37.0 %", "m": "2.183 g"},
        F("5.9"),
        "g",
        {"percent-left-out": F("2.183"), "percent-divided": F("2.183") * F("0.37")},
    ),
    ("mass-percent", SALT, "w", {"m": "2.183 g", "solution": "5.90 g"}, F(37), "%", {}),
    (
        "solvent",
        SALT,
        "solution",
        {"m": "5.00 g", "solvent": "95.0 g"},
        F(100),
        "g",
        {"solvent-for-solution": F(95)},
    ),
    ("solvent", SALT, "solvent", {"m": "5.00 g", "solution": "100.0 g"}, F(95), "g", {}),
    ("solvent", SALT, "m", {"solvent": "95.0 g", "solution": "100.0 g"}, F(5), "g", {}),
    ("mass-concentration", SALT, "gamma", {"m": "4.50 g", "V": "500.0 mL"}, F(9), "g/L", {}),
    ("mass-concentration", SALT, "m", {"gamma": "9.00 g/L", "V": "500.0 mL"}, F("4.5"), "g", {}),
    ("mass-concentration", SALT, "V", {"gamma": "9.00 g/L", "m": "4.50 g"}, F(500), "mL", {}),
    ("between-concentrations", LABEL, "gamma", {"c": "12.0 mol/L", "M": "36.458 g/mol"}, F("437.496"), "g/L", {}),
    ("between-concentrations", LABEL, "c", {"gamma": "437.496 g/L", "M": "36.458 g/mol"}, F(12), "mol/L", {}),
    ("between-concentrations", LABEL, "M", {"gamma": "437.496 g/L", "c": "12.0 mol/L"}, F("36.458"), "g/mol", {}),
    (
        "bottle",
        LABEL,
        "gamma",
        {"w": "37.0 %", "rho": "1.18 g/mL"},
        F("436.6"),
        "g/L",
        {"percent-left-out": F(1180)},
    ),
    ("bottle", LABEL, "w", {"gamma": "436.6 g/L", "rho": "1.18 g/mL"}, F(37), "%", {}),
    ("bottle", LABEL, "rho", {"gamma": "436.6 g/L", "w": "37.0 %"}, F("1.18"), "g/mL", {}),
    ("dilution", SALT, "second", {"first": "20.0 mmol"}, F(20), "mmol", {}),
    ("dilution", SALT, "first", {"second": "20.0 mmol"}, F(20), "mmol", {}),
    (
        "addition",
        {"others": ["HCl"], "wanted": ["volume(HCl,added)"]},
        "added",
        {"first": "20.00 mL", "second": "250.0 mL"},
        F(230),
        "mL",
        {"final-for-added": F(250)},
    ),
    (
        "addition",
        {"others": ["HCl"], "given": ["volume(HCl,added)"]},
        "second",
        {"first": "20.00 mL", "added": "230.0 mL"},
        F(250),
        "mL",
        {},
    ),
    (
        "addition",
        {"others": ["HCl"], "given": ["volume(HCl,added)"]},
        "first",
        {"second": "250.0 mL", "added": "230.0 mL"},
        F(20),
        "mL",
        {},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


# A dilution turned round: c1 V2 = c2 V1 in the place of c1 V1 = c2 V2.
TURNED = [
    (  # 6.00 mol/L × 250.0 mL / 20.00 mL
        {
            "concentration(HCl,initial)": "6.00 mol/L",
            "volume(HCl,initial)": "20.00 mL",
            "volume(HCl,final)": "250.0 mL",
        },
        {"concentration(HCl,final)": "mol/L"},
        F("0.48"),
        F(75),
    ),
    (  # 20.00 mL × 0.480 mol/L / 6.00 mol/L
        {
            "concentration(HCl,initial)": "6.00 mol/L",
            "volume(HCl,initial)": "20.00 mL",
            "concentration(HCl,final)": "0.480 mol/L",
        },
        {"volume(HCl,final)": "mL"},
        F(250),
        F("1.6"),
    ),
    (  # 6.00 mol/L × 250.0 mL / 0.480 mol/L
        {
            "concentration(HCl,initial)": "6.00 mol/L",
            "concentration(HCl,final)": "0.480 mol/L",
            "volume(HCl,final)": "250.0 mL",
        },
        {"volume(HCl,initial)": "mL"},
        F(20),
        F(3125),
    ),
]


@pytest.mark.parametrize(("given", "asked", "right", "wrong"), TURNED)
def test_a_dilution_turned_round(
    problems: Any, after_mistake: Any, given: dict[str, str], asked: dict[str, str], right: Fraction, wrong: Fraction
) -> None:
    plan = problems.plan(given, asked, others=["HCl"])
    (mistake,) = [m.id for m in plan.mistakes if m.id.startswith("dilution-inverted")]
    assert list(problems.answers(plan, given).values()) == [right]
    assert list(after_mistake(plan, given, mistake).values()) == [wrong]


def test_a_concentration_wanted_without_a_volume_comes_from_the_label(bench: Any) -> None:
    measured = {**LABEL, "given": ["volume(HCl,solution)"]}
    assert bench.instance("bottle", LABEL).binding["w"].id == "mass_fraction(HCl)"
    with pytest.raises(AssertionError, match="no instance of bottle"):
        bench.instance("bottle", measured)
