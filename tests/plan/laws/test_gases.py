from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from problemgen.exact.rounding import figures_text
from problemgen.plan.laws.gases import LAWS

F = Fraction

GAS = {"others": ["H2"]}
R = F("8.31446261815324")  # kPa L/(mol K), exact since the SI of 2019
R_TEXT = "8.31446261815324 kPa L/(mol K)"
T = F("298.15")

# law, scene, letter, values, expected in the unit, unit, what each misuse gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "ideal-gas",
        GAS,
        "n",
        {"p": "100.5 kPa", "V": "48.0 mL", "T": "25.0 °C", "R": R_TEXT},
        F("100.5") * F("48.0") / (R * T),
        "mmol",
        {"celsius-for-kelvin": F("100.5") * F("48.0") / (R * 25)},
    ),
    (
        "ideal-gas",
        GAS,
        "V",
        {"p": "100.5 kPa", "n": "1.95 mmol", "T": "25.0 °C", "R": R_TEXT},
        F("1.95") * R * T / F("100.5"),
        "mL",
        {"celsius-for-kelvin": F("1.95") * R * 25 / F("100.5")},
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
]


def name(case: Any) -> str:
    return f"{case[0]}-{case[2]}" if isinstance(case, tuple) else ""


@pytest.mark.parametrize("case", CASES, ids=name)
def test_the_law_gives_what_is_worked_by_hand(bench: Any, case: Any) -> None:
    assert bench.solved(case) == case[4]


@pytest.mark.parametrize("case", CASES, ids=name)
def test_a_misuse_gives_what_a_student_gets_who_makes_it(bench: Any, case: Any) -> None:
    assert bench.mistaken(case) == case[6]


def test_every_letter_that_has_words_is_worked_above(bench: Any) -> None:
    assert bench.letters_told(LAWS) == {(case[0], case[2]) for case in CASES}


@pytest.mark.parametrize(
    ("pressure", "expected"),
    [
        ("101.325 kPa", "22.4139695"),  # molar volume of the ideal gas, 273.15 K and 101.325 kPa: CODATA 2022
        ("1.00000 bar", "22.7109546"),  # the same at 273.15 K and 100 kPa: CODATA 2022
    ],
)
def test_the_molar_volume_is_the_published_one(bench: Any, pressure: str, expected: str) -> None:
    values = {"p": pressure, "n": "1 mol", "T": "273.15 K", "R": R_TEXT}
    instance = bench.instance("ideal-gas", GAS)
    assert figures_text(bench.value(instance, instance.solution("V"), values, "L"), 9) == expected
