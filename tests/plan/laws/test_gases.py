from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from problemgen.exact.rounding import figures_text
from problemgen.plan.constants import MOLAR_VOLUMES
from problemgen.plan.laws.gases import LAWS
from tests.support.law_table import LawTable

F = Fraction

GAS = {"others": ["H2"]}
DENSE = {"others": ["CO2"], "given": ["pressure(CO2)", "temperature(CO2)"], "wanted": ["density(CO2)"]}
MOLAR = {"others": ["CO2"], "wanted": ["molar_volume(CO2)"]}
DENSE_MOLAR = {"others": ["CO2"], "given": ["molar_volume(CO2)"], "wanted": ["density(CO2)"]}
R = F("8.31446261815324")  # kPa L/(mol K), exact since the SI of 2019
R_TEXT = "8.31446261815324 kPa L/(mol K)"
T = F("298.15")

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "ideal-gas",
        GAS,
        "n",
        {"p": "100.5 kPa", "V": "48.0 mL", "T": "25.0 °C", "R": R_TEXT},
        F("100.5") * F("48.0") / (R * T),
        "mmol",
        {"celsius-for-kelvin": F("100.5") * F("48.0") / (R * 25), "standard-molar-volume": 48 / F("22.414")},
    ),
    (
        "ideal-gas",
        GAS,
        "V",
        {"p": "100.5 kPa", "n": "1.95 mmol", "T": "25.0 °C", "R": R_TEXT},
        F("1.95") * R * T / F("100.5"),
        "mL",
        {"celsius-for-kelvin": F("1.95") * R * 25 / F("100.5"), "standard-molar-volume": F("1.95") * F("22.414")},
    ),
    (
        "ideal-gas",
        GAS,
        "p",
        {"V": "48.0 mL", "n": "1.95 mmol", "T": "25.0 °C", "R": R_TEXT},
        F("1.95") * R * T / 48,
        "kPa",
        {"celsius-for-kelvin": F("1.95") * R * 25 / 48},
    ),
    (
        "ideal-gas",
        GAS,
        "T",
        {"p": "100.5 kPa", "V": "48.0 mL", "n": "1.95 mmol", "R": R_TEXT},
        F("100.5") * 48 / (F("1.95") * R),
        "K",
        {},
    ),
    (
        "gas-density",
        DENSE,
        "rho",
        {"p": "100.5 kPa", "M": "44.009 g/mol", "T": "25.0 °C", "R": R_TEXT},
        F("100.5") * F("44.009") / (R * T),
        "g/L",
        {
            "celsius-for-kelvin": F("100.5") * F("44.009") / (R * 25),
            "standard-molar-volume": F("44.009") / F("22.414"),
        },
    ),
    (
        "gas-density",
        DENSE,
        "M",
        {"p": "100.5 kPa", "rho": "1.784 g/L", "T": "25.0 °C", "R": R_TEXT},
        F("1.784") * R * T / F("100.5"),
        "g/mol",
        {
            "celsius-for-kelvin": F("1.784") * R * 25 / F("100.5"),
            "standard-molar-volume": F("1.784") * F("22.414"),
        },
    ),
    (
        "gas-density",
        DENSE,
        "p",
        {"rho": "1.784 g/L", "M": "44.009 g/mol", "T": "25.0 °C", "R": R_TEXT},
        F("1.784") * R * T / F("44.009"),
        "kPa",
        {"celsius-for-kelvin": F("1.784") * R * 25 / F("44.009")},
    ),
    (
        "gas-density",
        DENSE,
        "T",
        {"rho": "1.784 g/L", "M": "44.009 g/mol", "p": "100.5 kPa", "R": R_TEXT},
        F("100.5") * F("44.009") / (F("1.784") * R),
        "K",
        {},
    ),
    (
        "molar-volume",
        MOLAR,
        "V",
        {"n": "1.50 mmol", "Vm": "22.711 L/mol"},
        F("1.5") * F("22.711"),
        "mL",
        {"molar-volume-inverted": F("1.5") / F("22.711")},
    ),
    (
        "molar-volume",
        MOLAR,
        "n",
        {"V": "48.0 mL", "Vm": "22.711 L/mol"},
        48 / F("22.711"),
        "mmol",
        {"molar-volume-inverted": 48 * F("22.711")},
    ),
    ("molar-volume", MOLAR, "Vm", {"V": "48.0 mL", "n": "2.00 mmol"}, F(24), "L/mol", {}),
    (
        "molar-volume-at-conditions",
        MOLAR,
        "Vm",
        {"p": "100.5 kPa", "T": "25.0 °C", "R": R_TEXT},
        R * T / F("100.5"),
        "L/mol",
        {"celsius-for-kelvin": R * 25 / F("100.5")},
    ),
    ("density-and-molar-volume", DENSE_MOLAR, "rho", {"M": "44.0 g/mol", "Vm": "22.0 L/mol"}, F(2), "g/L", {}),
    ("density-and-molar-volume", DENSE_MOLAR, "M", {"rho": "2.00 g/L", "Vm": "22.0 L/mol"}, F(44), "g/mol", {}),
    ("density-and-molar-volume", DENSE_MOLAR, "Vm", {"rho": "2.00 g/L", "M": "44.0 g/mol"}, F(22), "L/mol", {}),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


@pytest.mark.source("codata-2022: molar volumes of the ideal gas at 273.15 K, in L/mol")
@pytest.mark.parametrize(
    ("pressure", "expected"),
    [
        ("101.325 kPa", "22.4139695"),
        ("1.00000 bar", "22.7109546"),
    ],
)
def test_the_molar_volume_is_the_published_one(bench: Any, pressure: str, expected: str) -> None:
    values = {"p": pressure, "n": "1 mol", "T": "273.15 K", "R": R_TEXT}
    instance = bench.instance("ideal-gas", GAS)
    assert figures_text(bench.value(instance, instance.solution("V"), values, "L"), 9) == expected


def test_a_molar_mass_that_measurements_tell_is_not_taken_from_the_formula(problems: Any) -> None:
    given = {"mass(CHCl3)": "0.494 g", "volume(CHCl3)": "129 mL", "pressure(CHCl3)": "98.94 kPa"}
    given["temperature(CHCl3)"] = "99.6 °C"
    plan = problems.plan(given, {"molar_mass(CHCl3)": "g/mol"}, others=["CHCl3"])
    expected = F("0.494") * R * (F("99.6") + F("273.15")) / (F("98.94") * F("0.129"))
    assert problems.answers(plan, given) == {"molar_mass(CHCl3)": expected}
    assert [step.law for step in plan.steps] == ["ideal-gas", "amount"]


def test_a_molar_mass_beside_other_data_is_the_formulas(problems: Any) -> None:
    given = ["mass(CO2)", "pressure(CO2)", "temperature(CO2)"]
    plan = problems.plan(given, {"molar_mass(CO2)": "g/mol", "volume(CO2)": "L"}, others=["CO2"])
    assert plan.steps[0].law == "molar-mass"


@pytest.mark.parametrize("name", ["0 °C and 1 bar", "0 °C and 1 atm", "25 °C and 1 bar"])
def test_the_named_molar_volumes_follow_from_the_gas_constant(name: str) -> None:
    celsius, pressure = {"0": 0, "25": 25}[name.split()[0]], {"bar": F(100), "atm": F("101.325")}[name.split()[-1]]
    assert figures_text(R * (celsius + F("273.15")) / pressure, 5) == MOLAR_VOLUMES[name]
