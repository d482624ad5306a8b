"""Mixtures of two: from a known composition to what is measured, and back."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given as drawn
from hypothesis import strategies as st

from problemgen.plan.laws.two_components import LAWS, components
from tests.support.law_table import LawTable

F = Fraction

CARBONATE, BICARBONATE = "Na2CO3 + 2 HCl -> 2 NaCl + H2O + CO2", "NaHCO3 + HCl -> NaCl + H2O + CO2"
SILVER, POTASSIUM = "NaCl + AgNO3 -> AgCl + NaNO3", "KCl + AgNO3 -> AgCl + KNO3"
LIME, MAGNESIA = "CaCO3 -> CaO + CO2", "MgCO3 -> MgO + CO2"
M = {"Na2CO3": F("105.988"), "NaHCO3": F("84.006"), "CaCO3": F("100.086"), "MgCO3": F("84.313"), "CO2": F("44.009")}

ACID: dict[str, Any] = {"equation": CARBONATE, "beside": BICARBONATE, "given": ["mass(,sample)", "amount(HCl)"]}
BURNT: dict[str, Any] = {"equation": LIME, "beside": MAGNESIA, "driven_off": ["CO2"], "given": ["mass(,sample)"]}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "sample-of-one",
        ACID,
        "n",
        {"mass(,sample)": "10.5988 g", "molar_mass(Na2CO3)": "105.988 g/mol"},
        F(100),
        "mmol",
        {},
    ),
    (
        "total-of-one",
        ACID,
        "n",
        {"amount(Na2CO3,whole)": "2.50 mmol"},
        F(5),
        "mmol",
        {"ratio-left-out": F("2.5"), "coefficient-of-the-other": F("2.5")},
    ),
    (
        "loss-of-one",
        BURNT,
        "m",
        {"amount(CaCO3,whole)": "10.0 mmol", "molar_mass(CO2)": "44.009 g/mol"},
        F("440.09"),
        "mg",
        {},
    ),
    (
        "share-of-two",
        ACID,
        "w",
        {"x": "4.80 mmol", "all_one": "6.00 mmol", "all_other": "4.00 mmol"},
        F(40),
        "%",
        {"components-exchanged": F(60), "all-from-one": F(80)},
    ),
    (
        "share-of-two",
        ACID,
        "x",
        {"w": "40.0 %", "all_one": "6.00 mmol", "all_other": "4.00 mmol"},
        F("4.8"),
        "mmol",
        {},
    ),
    ("mass-in-mixture", ACID, "m", {"w": "40.0 %", "sample": "2.50 g"}, F(1), "g", {}),
    ("mass-in-mixture", ACID, "w", {"m": "1.00 g", "sample": "2.50 g"}, F(40), "%", {}),
    ("rest-of-mixture", ACID, "other", {"m": "1.00 g", "sample": "2.50 g"}, F("1.5"), "g", {}),
    ("rest-of-mixture", ACID, "m", {"other": "1.50 g", "sample": "2.50 g"}, F(1), "g", {}),
    ("rest-of-percent", ACID, "other", {"w": "40.0 %"}, F(60), "%", {}),
    ("rest-of-percent", ACID, "w", {"other": "60.0 %"}, F(40), "%", {}),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


@drawn(st.integers(50, 950), st.integers(1000, 9000))
def test_a_mixture_of_carbonates_is_found_again(problems: Any, share: int, milligrams: int) -> None:
    """The acid that a known mixture uses up leads back to its composition, exactly."""
    mass, w = F(milligrams, 1000), F(share, 1000)
    acid = 2 * w * mass / M["Na2CO3"] + (1 - w) * mass / M["NaHCO3"]
    asked = {"mass_fraction(NaHCO3)": "%", "mass(Na2CO3)": "g"}
    plan = problems.plan(["mass(,sample)", "amount(HCl)"], asked, CARBONATE, beside=BICARBONATE)
    values = problems.values(plan, {"mass(,sample)": mass, "amount(HCl)": acid})
    assert values["mass_fraction(NaHCO3)"] == 1 - w
    assert values["mass(Na2CO3)"] == w * mass


def test_two_chlorides_from_the_mass_of_silver_chloride(problems: Any) -> None:
    weights = {symbol: problems.weights[symbol].value for symbol in ("Na", "K", "Cl", "Ag")}
    halves = [F(1, 2) / (weights[metal] + weights["Cl"]) for metal in ("Na", "K")]
    given = {"mass(,sample)": F(1), "mass(AgCl,theoretical)": sum(halves) * (weights["Ag"] + weights["Cl"])}
    plan = problems.plan(given, {"mass(KCl)": "g"}, SILVER, beside=POTASSIUM, in_excess=["AgNO3"])
    assert problems.values(plan, given)["mass(KCl)"] == F(1, 2)


def test_two_carbonates_from_their_loss_on_heating(problems: Any) -> None:
    lost = (F(3) / M["CaCO3"] + F(1) / M["MgCO3"]) * M["CO2"]
    given = {"mass(,sample)": F(4), "mass(,heated)": 4 - lost}
    asked = {"mass_fraction(CaCO3)": "%", "mass(MgCO3)": "g"}
    plan = problems.plan(given, asked, LIME, beside=MAGNESIA, driven_off=["CO2"])
    values = problems.values(plan, given)
    assert (values["mass_fraction(CaCO3)"], values["mass(MgCO3)"]) == (F(3, 4), 1)


@pytest.mark.parametrize(
    "about",
    [
        {**ACID, "beside": ""},
        {**ACID, "given": ["amount(HCl)"]},
        {**ACID, "in_excess": ["NaHCO3"]},
    ],
)
def test_one_equation_or_no_sample_is_no_mixture_of_two(problems: Any, about: Any) -> None:
    scene = problems.scene(**about)
    assert components(scene) == ()
    assert [instance for law in LAWS for instance in law.instances(law, scene)] == []
