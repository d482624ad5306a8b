"""Recrystallising, worked by hand with invented solubilities."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from problemgen.plan.laws.recrystallising import LAWS
from tests.support.law_table import LawTable

F = Fraction

SCENE: dict[str, Any] = {"others": ["C7H6O2"], "given": ["solubility(C7H6O2,hot)", "solubility(C7H6O2,cold)"]}
HOT, COLD = SCENE["given"]

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "dissolved-hot",
        SCENE,
        "V",
        {"m": "4.00 g", "S": "5.00 g/dL", COLD: "0.50 g/dL"},
        F(80),
        "mL",
        {"cold-for-hot": F(800), "hundred-forgotten": F("0.8"), "solubility-multiplied": F(20)},
    ),
    (
        "dissolved-hot",
        SCENE,
        "m",
        {"V": "80.0 mL", "S": "5.00 g/dL", COLD: "0.50 g/dL"},
        F(4),
        "g",
        {"cold-for-hot": F("0.4"), "hundred-forgotten": F(400)},
    ),
    (
        "dissolved-cold",
        SCENE,
        "m",
        {"V": "80.0 mL", "S": "0.50 g/dL", HOT: "5.00 g/dL"},
        F("0.4"),
        "g",
        {"cold-for-hot": F(4), "hundred-forgotten": F(40)},
    ),
    (
        "dissolved-cold",
        SCENE,
        "V",
        {"m": "0.40 g", "S": "0.50 g/dL", HOT: "5.00 g/dL"},
        F(80),
        "mL",
        {"cold-for-hot": F(8), "hundred-forgotten": F("0.8")},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


GIVEN = {"mass(C7H6O2,crude)": "4.000 g", HOT: "5.00 g/dL", COLD: "0.500 g/dL"}


def test_what_stays_in_the_mother_liquor_is_lost(problems: Any) -> None:
    asked = {"mass(C7H6O2,lost)": "g", "mass(C7H6O2,pure)": "g", "recovery(C7H6O2)": "%"}
    plan = problems.plan(GIVEN, asked, others=("C7H6O2",))
    assert list(problems.answers(plan, GIVEN).values()) == [F("0.4"), F("3.6"), F(90)]


def test_more_solvent_than_needed_costs_more(problems: Any) -> None:
    told = {**GIVEN, "volume(C7H6O2,solvent)": "120.0 mL"}
    plan = problems.plan(told, {"recovery(C7H6O2)": "%"}, others=("C7H6O2",))
    assert problems.answers(plan, told) == {"recovery(C7H6O2)": F(85)}


@pytest.mark.parametrize(
    ("mistake", "expected"),
    [
        ("cold-for-hot:mass(C7H6O2,lost)", F(0)),  # all that was dissolved hot
        ("hundred-forgotten:volume(C7H6O2,solvent)", F("99.9")),
        ("loss-for-recovery:recovery(C7H6O2)", F(10)),
    ],
)
def test_mistakes_with_solubilities(problems: Any, after_mistake: Any, mistake: str, expected: Fraction) -> None:
    plan = problems.plan(GIVEN, {"recovery(C7H6O2)": "%"}, others=("C7H6O2",))
    assert after_mistake(plan, GIVEN, mistake) == {"recovery(C7H6O2)": expected}
