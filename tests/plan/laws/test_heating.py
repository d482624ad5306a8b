"""Losses on heating and water of crystallisation, worked by hand with invented masses."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from problemgen.plan.laws.heating import LAWS
from tests.support.law_table import LawTable

F = Fraction

BAKED = "2 NaHCO3 -> Na2CO3 + H2O + CO2"
HEATED: dict[str, Any] = {"equation": BAKED, "driven_off": ["H2O", "CO2"]}
HYDRATE: dict[str, Any] = {"others": ["MgSO4", "H2O"], "wanted": ["crystal_water(MgSO4)"]}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "loss-on-heating",
        HEATED,
        "lost",
        {"before": "2.700 g", "after": "1.900 g"},
        F("0.8"),
        "g",
        {"rest-for-loss": F("1.9")},
    ),
    ("loss-on-heating", HEATED, "after", {"before": "2.700 g", "lost": "0.800 g"}, F("1.9"), "g", {}),
    ("loss-on-heating", HEATED, "before", {"after": "1.900 g", "lost": "0.800 g"}, F("2.7"), "g", {}),
    (
        "loss-of-reaction",
        HEATED,
        "xi",
        {"lost": "0.62024 g", "molar_mass(H2O)": "18.015 g/mol", "molar_mass(CO2)": "44.009 g/mol"},
        F(10),
        "mmol",
        {"only-one-gas-1": F("620.24") / F("44.009"), "only-one-gas-2": F("620.24") / F("18.015")},
    ),
    (
        "loss-of-reaction",
        HEATED,
        "lost",
        {"xi": "10.0 mmol", "molar_mass(H2O)": "18.015 g/mol", "molar_mass(CO2)": "44.009 g/mol"},
        F("0.62024"),
        "g",
        {},
    ),
    (
        "residue",
        HYDRATE,
        "n",
        {"mass(,heated)": "1.20361 g", "molar_mass(MgSO4)": "120.361 g/mol", "mass(,sample)": "2.40722 g"},
        F(10),
        "mmol",
        {"hydrate-for-salt": F(20)},
    ),
    (
        "water-of-crystallisation",
        HYDRATE,
        "x",
        {
            "amount(H2O)": "69.3 mmol",
            "amount(MgSO4)": "10.0 mmol",
            "mass(H2O)": "1.248 g",
            "mass(,heated)": "1.204 g",
        },
        F(7),
        "1",
        {"hydrate-masses-compared": F(1), "hydrate-ratio-inverted": F(0)},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


def test_baking_soda_from_its_loss(problems: Any) -> None:
    """10.00 mmol of water and carbon dioxide each are 620.24 mg, and come from 20.00 mmol of hydrogencarbonate."""
    given = {"mass(,sample)": "2.0000 g", "mass(,heated)": "1.37976 g"}
    plan = problems.plan(given, {"amount(NaHCO3)": "mmol"}, BAKED, driven_off=["H2O", "CO2"])
    assert problems.answers(plan, given) == {"amount(NaHCO3)": 20}


@pytest.mark.parametrize("waters", [1, 2, 4, 5, 6, 7])
def test_the_waters_of_a_hydrate(problems: Any, waters: int) -> None:
    salt, water = (
        sum(times * problems.weights[symbol].value for symbol, times in formula)
        for formula in ((("Mg", 1), ("S", 1), ("O", 4)), (("H", 2), ("O", 1)))
    )
    given = {"mass(,sample)": F(2), "mass(,heated)": 2 * salt / (salt + waters * water) + F(1, 500)}
    plan = problems.plan(given, {"crystal_water(MgSO4)": "1"}, others=["MgSO4", "H2O"])
    assert problems.values(plan, given)["crystal_water(MgSO4)"] == waters


def test_nothing_is_heated_in_a_problem_that_tells_of_nothing_driven_off(problems: Any) -> None:
    scene = problems.scene(["mass(,sample)"], BAKED)
    assert [instance for law in LAWS for instance in law.instances(law, scene)] == []
