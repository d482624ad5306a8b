from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from problemgen.plan.laws import LAWS_BY_ID
from problemgen.plan.laws.yields import LAWS

F = Fraction

MADE = {"equation": "Zn + I2 -> ZnI2", "product": "ZnI2", "sources": ["Zn", "I2"]}
PLANNED = {"equation": "Zn + I2 -> ZnI2", "product": "ZnI2"}

# law, scene, letter, values, expected in the unit, unit, what each misuse gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "percent-yield",
        MADE,
        "Y",
        {"actual": "3.60 g", "theoretical": "4.80 g", "mass(Zn)": "1.20 g"},
        F(75),
        "%",
        {
            "yield-inverted": 100 * F("4.80") / F("3.60"),
            "yield-against-reagent": F(300),  # 3.60 g / 1.20 g
        },
    ),
    (
        "percent-yield",
        MADE,
        "actual",
        {"Y": "75.0 %", "theoretical": "4.80 g"},
        F("3.6"),
        "g",
        {"yield-inverted": F("6.4")},  # 4.80 g / 0.750
    ),
    (
        "percent-yield",
        PLANNED,
        "theoretical",
        {"Y": "75.0 %", "actual": "3.60 g"},
        F("4.8"),
        "g",
        {"yield-inverted": F("2.7")},  # 3.60 g × 0.750
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


def test_only_products_have_a_yield(problems: Any) -> None:
    law = LAWS_BY_ID["percent-yield"]
    instances = law.instances(law, problems.scene((), "Zn + I2 -> ZnI2"))
    assert [instance.binding["Y"].of for instance in instances] == ["ZnI2"]


def test_a_yield_in_amounts_where_amounts_are_told(problems: Any) -> None:
    law = LAWS_BY_ID["percent-yield"]
    scene = problems.scene(["amount(ZnI2,actual)"], "Zn + I2 -> ZnI2")
    kinds = [instance.binding["actual"].kind for instance in law.instances(law, scene)]
    assert kinds == ["mass", "amount"]
