from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from problemgen.errors import UnderivableError
from problemgen.plan.laws.gas_mixtures import LAWS
from tests.support.law_table import LawTable

F = Fraction

R = F("8.31446261815324")  # kPa L/(mol K), exact since the SI of 2019
R_TEXT = "8.31446261815324 kPa L/(mol K)"
T = F("298.15")

WET = {"others": ["H2"], "given": ["pressure(H2,total)", "pressure(H2,vapour)"], "wanted": ["volume(H2,dry)"]}
TWO = {
    "others": ["N2", "O2"],
    "given": ["mass(N2)", "mass(O2)", "temperature(,mixed)"],
    "wanted": ["pressure(,mixed)", "pressure(N2)", "mole_fraction(N2)"],
}
SODA = {
    "equation": "2 NaHCO3(s) -> Na2CO3(s) + H2O(g) + CO2(g)",
    "given": ["mass(NaHCO3)", "temperature(,mixed)"],
    "wanted": ["volume(,mixed)"],
}
M_N2, M_O2 = F("28.014"), F("31.998")

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "over-water",
        WET,
        "p",
        {"total": "100.50 kPa", "vapour": "2.34 kPa"},
        F("98.16"),
        "kPa",
        {"vapour-forgotten": F("100.5"), "vapour-wrong-way": F("102.84")},
    ),
    (
        "over-water",
        WET,
        "total",
        {"p": "98.16 kPa", "vapour": "2.34 kPa"},
        F("100.5"),
        "kPa",
        {"vapour-forgotten": F("98.16"), "vapour-wrong-way": F("95.82")},
    ),
    ("over-water", WET, "vapour", {"total": "100.50 kPa", "p": "98.16 kPa"}, F("2.34"), "kPa", {}),
    (
        "dried-gas",
        WET,
        "dry",
        {"V": "50.0 mL", "p": "98.0 kPa", "total": "100.0 kPa"},
        F(49),
        "mL",
        {"pressures-exchanged": 50 / F("0.98")},
    ),
    (
        "dried-gas",
        WET,
        "V",
        {"dry": "49.0 mL", "p": "98.0 kPa", "total": "100.0 kPa"},
        F(50),
        "mL",
        {"pressures-exchanged": F("48.02")},
    ),
    ("total-pressure", TWO, "total", {"part0": "80.0 kPa", "part1": "20.5 kPa"}, F("100.5"), "kPa", {}),
    ("total-pressure", TWO, "part0", {"total": "100.5 kPa", "part1": "20.5 kPa"}, F(80), "kPa", {}),
    ("total-pressure", TWO, "part1", {"total": "100.5 kPa", "part0": "80.0 kPa"}, F("20.5"), "kPa", {}),
    ("total-amount", TWO, "total", {"part0": "0.30 mol", "part1": "0.10 mol"}, F("0.4"), "mol", {}),
    (
        "total-amount",
        SODA,
        "total",
        {"part0": "0.02 mol", "part1": "0.02 mol", "amount(Na2CO3,theoretical)": "0.02 mol"},
        F("0.04"),
        "mol",
        {"residue-counted": F("0.06")},
    ),
    ("total-amount", TWO, "part0", {"total": "0.40 mol", "part1": "0.10 mol"}, F("0.3"), "mol", {}),
    ("total-amount", TWO, "part1", {"total": "0.40 mol", "part0": "0.30 mol"}, F("0.1"), "mol", {}),
    (
        "gas-mole-fraction",
        TWO,
        "x",
        {"n": "0.30 mol", "total": "0.40 mol", "amount(O2)": "0.10 mol"},
        F("0.75"),
        "1",
        {"part-over-rest": F(3), "mass-fraction-taken": 3 * M_N2 / (3 * M_N2 + M_O2)},
    ),
    ("gas-mole-fraction", TWO, "n", {"x": "0.75 1", "total": "0.40 mol"}, F("0.3"), "mol", {}),
    ("gas-mole-fraction", TWO, "total", {"x": "0.75 1", "n": "0.30 mol"}, F("0.4"), "mol", {}),
    (
        "partial-pressure",
        TWO,
        "p",
        {"x": "0.75 1", "total": "100.0 kPa"},
        F(75),
        "kPa",
        {"fraction-divided": F(100) / F("0.75")},
    ),
    ("partial-pressure", TWO, "x", {"p": "75.0 kPa", "total": "100.0 kPa"}, F("0.75"), "1", {}),
    (
        "partial-pressure",
        TWO,
        "total",
        {"p": "75.0 kPa", "x": "0.75 1"},
        F(100),
        "kPa",
        {"fraction-divided": F("56.25")},
    ),
    (
        "gas-in-mixture",
        TWO,
        "p",
        {"n": "0.300 mol", "V": "10.0 L", "T": "25.0 °C", "R": R_TEXT},
        F("0.03") * R * T,
        "kPa",
        {"celsius-for-kelvin": F("0.03") * R * 25},
    ),
    (
        "gas-in-mixture",
        TWO,
        "n",
        {"p": "75.0 kPa", "V": "10.0 L", "T": "25.0 °C", "R": R_TEXT},
        750 / (R * T),
        "mol",
        {"celsius-for-kelvin": 750 / (R * 25), "standard-molar-volume": 10 / F("22.414")},
    ),
    (
        "gas-in-mixture",
        TWO,
        "V",
        {"p": "75.0 kPa", "n": "0.300 mol", "T": "25.0 °C", "R": R_TEXT},
        F("0.3") * R * T / 75,
        "L",
        {"celsius-for-kelvin": F("0.3") * R * 25 / 75, "standard-molar-volume": F("0.3") * F("22.414")},
    ),
    (
        "gas-in-mixture",
        TWO,
        "T",
        {"p": "75.0 kPa", "n": "0.300 mol", "V": "10.0 L", "R": R_TEXT},
        750 / (F("0.3") * R),
        "K",
        {},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES

    def test_every_letter_that_has_words_is_worked_above(self, bench: Any) -> None:
        """The parts of a sum beyond the second are as the second."""
        told = {
            (law, letter) for law, letter in bench.letters_told(LAWS) if letter not in {f"part{i}" for i in range(2, 8)}
        }
        assert told == {(case[0], case[2]) for case in CASES}


def test_a_gas_over_water_is_worked_with_its_own_pressure(problems: Any) -> None:
    given = {"pressure(O2,total)": "100.0 kPa", "pressure(O2,vapour)": "3.0 kPa", "volume(O2)": "250 mL"}
    given["temperature(O2)"] = "25.0 °C"
    plan = problems.plan(given, {"amount(O2)": "mol"}, others=["O2"])
    assert problems.answers(plan, given) == {"amount(O2)": 97 * F("0.25") / (R * T)}
    ids = {mistake.id for mistake in plan.mistakes}
    assert ids >= {"vapour-forgotten:pressure(O2)", "vapour-wrong-way:pressure(O2)", "celsius-for-kelvin"}


def test_air_by_volume(problems: Any) -> None:
    given = {"volume_fraction(O2)": "20.9 %", "pressure(,mixed)": "100.0 kPa"}
    plan = problems.plan(given, {"pressure(O2)": "kPa"}, others=["O2"])
    assert problems.answers(plan, given) == {"pressure(O2)": F("20.9")}


def test_the_gases_that_a_reaction_leaves(problems: Any) -> None:
    """0.0200 mol of NH4HCO3 make 0.0600 mol of gases; with 0.0400 mol of argon 0.1000 mol, a fifth of it ammonia."""
    given = {"amount(NH4HCO3)": "0.0200 mol", "amount(Ar)": "0.0400 mol", "volume(,mixed)": "1.000 L"}
    given["temperature(,mixed)"] = "400.0 K"
    asked = {"amount(,mixed)": "mol", "pressure(,mixed)": "kPa", "mole_fraction(NH3)": "1", "pressure(NH3)": "kPa"}
    plan = problems.plan(given, asked, "NH4HCO3 -> NH3 + CO2 + H2O", others=["Ar"])
    assert list(problems.answers(plan, given).values()) == [F("0.1"), 40 * R, F("0.2"), 8 * R]


def test_what_may_be_left_of_a_reagent_leaves_no_mixture_to_be_told(problems: Any) -> None:
    given = {"amount(NH3)": "0.0200 mol", "amount(O2)": "0.0400 mol", "volume(,mixed)": "1.000 L"}
    given["temperature(,mixed)"] = "400.0 K"
    with pytest.raises(UnderivableError, match=r"the pressure \(mixed\) cannot be derived from what is given"):
        problems.plan(given, {"pressure(,mixed)": "kPa"}, "4 NH3 + 5 O2 -> 4 NO + 6 H2O")
