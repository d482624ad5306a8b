from __future__ import annotations

from fractions import Fraction
from typing import Any

from problemgen.plan.laws.gas_states import LAWS
from tests.support.law_table import LawTable

F = Fraction


def of(*letters: str) -> dict[str, Any]:
    """A gas of which these letters change."""
    kinds = {"p": "pressure", "V": "volume", "n": "amount", "T": "temperature"}
    return {"others": ["N2"], "given": [f"{kinds[x]}(N2,{state})" for x in letters for state in ("initial", "final")]}


T1, T2, ZERO = F("293.15"), F("263.15"), F("273.15")
START = {"p1": "101.0 kPa", "V1": "60.0 mL", "T1": "20.0 °C"}
END = {"p2": "85.0 kPa", "V2": "64.0 mL", "T2": "-10.0 °C"}
ALL = {**START, **END}


def without(letter: str) -> dict[str, str]:
    return {name: value for name, value in ALL.items() if name != letter}


def case(letter: str, unit: str, expected: Fraction, mistakes: dict[str, Fraction]) -> Any:
    return ("change-of-state", of("p", "V", "T"), letter, without(letter), expected, unit, mistakes)


# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    case(
        "V2",
        "mL",
        60 * F(101) / 85 * T2 / T1,
        {
            "pressure-ratio-inverted": 60 * F(85) / 101 * T2 / T1,
            "temperature-ratio-inverted": 60 * F(101) / 85 * T1 / T2,
            "celsius-for-kelvin": 60 * F(101) / 85 * F(-10) / 20,
        },
    ),
    case(
        "V1",
        "mL",
        64 * F(85) / 101 * T1 / T2,
        {
            "pressure-ratio-inverted": 64 * F(101) / 85 * T1 / T2,
            "temperature-ratio-inverted": 64 * F(85) / 101 * T2 / T1,
            "celsius-for-kelvin": 64 * F(85) / 101 * F(20) / -10,
        },
    ),
    case(
        "p2",
        "kPa",
        101 * F(60) / 64 * T2 / T1,
        {
            "volume-ratio-inverted": 101 * F(64) / 60 * T2 / T1,
            "temperature-ratio-inverted": 101 * F(60) / 64 * T1 / T2,
            "celsius-for-kelvin": 101 * F(60) / 64 * F(-10) / 20,
        },
    ),
    case(
        "p1",
        "kPa",
        85 * F(64) / 60 * T1 / T2,
        {
            "volume-ratio-inverted": 85 * F(60) / 64 * T1 / T2,
            "temperature-ratio-inverted": 85 * F(64) / 60 * T2 / T1,
            "celsius-for-kelvin": 85 * F(64) / 60 * F(20) / -10,
        },
    ),
    case(
        "T2",
        "K",
        T1 * F(85) / 101 * F(64) / 60,
        {
            "pressure-ratio-inverted": T1 * F(101) / 85 * F(64) / 60,
            "volume-ratio-inverted": T1 * F(85) / 101 * F(60) / 64,
            "celsius-for-kelvin": 20 * F(85) / 101 * F(64) / 60 + ZERO,
        },
    ),
    case(
        "T1",
        "K",
        T2 * F(101) / 85 * F(60) / 64,
        {
            "pressure-ratio-inverted": T2 * F(85) / 101 * F(60) / 64,
            "volume-ratio-inverted": T2 * F(101) / 85 * F(64) / 60,
            "celsius-for-kelvin": -10 * F(101) / 85 * F(60) / 64 + ZERO,
        },
    ),
    (
        "change-of-state",
        of("V", "n"),
        "n2",
        {"V1": "2.00 L", "n1": "0.100 mol", "V2": "5.00 L"},
        F("0.25"),
        "mol",
        {"volume-ratio-inverted": F("0.04")},
    ),
    (
        "change-of-state",
        of("V", "n"),
        "n1",
        {"V1": "2.00 L", "n2": "0.250 mol", "V2": "5.00 L"},
        F("0.1"),
        "mol",
        {"volume-ratio-inverted": F("0.625")},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


def test_what_is_told_once_is_the_same_before_and_afterwards(problems: Any) -> None:
    given = {"volume(N2)": "5.00 L", "pressure(N2,initial)": "1.00 atm", "temperature(N2,initial)": "25.0 °C"}
    given["temperature(N2,final)"] = "100.0 °C"
    plan = problems.plan(given, {"pressure(N2,final)": "atm", "amount(N2)": "mol"}, others=["N2"])
    assert problems.answers(plan, given)["pressure(N2,final)"] == F("373.15") / F("298.15")
    assert [step.law for step in plan.steps] == ["change-of-state", "ideal-gas"]


def test_a_dilution_is_no_change_of_state(problems: Any) -> None:
    given = ["concentration(HCl,initial)", "volume(HCl,initial)", "concentration(HCl,final)"]
    plan = problems.plan(given, {"volume(HCl,final)": "mL"}, others=["HCl"])
    assert {step.law for step in plan.steps} == {"concentration", "dilution"}
