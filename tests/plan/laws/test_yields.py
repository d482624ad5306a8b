from __future__ import annotations

from fractions import Fraction
from typing import Any

from problemgen.plan.laws import LAWS_BY_ID
from problemgen.plan.laws.yields import LAWS
from tests.support.law_table import LawTable

F = Fraction

MADE = {"equation": "Zn + I2 -> ZnI2", "product": "ZnI2", "sources": ["Zn", "I2"]}
PLANNED = {"equation": "Zn + I2 -> ZnI2", "product": "ZnI2"}

# law, scene, letter, values, expected in the unit, unit, what each error gives
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


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


def test_only_products_have_a_yield(problems: Any) -> None:
    law = LAWS_BY_ID["percent-yield"]
    instances = law.instances(law, problems.scene((), "Zn + I2 -> ZnI2"))
    assert [instance.binding["Y"].of for instance in instances] == ["ZnI2"]


def test_a_yield_in_amounts_where_amounts_are_told(problems: Any) -> None:
    law = LAWS_BY_ID["percent-yield"]
    scene = problems.scene(["amount(ZnI2,actual)"], "Zn + I2 -> ZnI2")
    kinds = [instance.binding["actual"].kind for instance in law.instances(law, scene)]
    assert kinds == ["mass", "amount"]


def test_a_yield_needs_no_equation(problems: Any) -> None:
    given = {"mass(ZnI2,theoretical)": "12.5 g", "mass(ZnI2,actual)": "9.85 g"}
    plan = problems.plan(given, {"percent_yield(ZnI2)": "%"}, others=["ZnI2"])
    assert problems.answers(plan, given) == {"percent_yield(ZnI2)": F("78.8")}
    assert [mistake.id for mistake in plan.mistakes] == ["yield-inverted:percent_yield(ZnI2)"]
