from __future__ import annotations

from fractions import Fraction
from typing import Any

from problemgen.model.quantity import Role
from problemgen.plan.laws.aliquots import LAWS
from tests.support.law_table import LawTable

F = Fraction

FLASK = {"others": ["Na2CO3"], "given": ["volume(Na2CO3,flask)", "volume(Na2CO3,aliquot)"]}
STRENGTH = {**FLASK, "wanted": ["concentration(Na2CO3)"]}
SERIES = {"others": ["KMnO4"], "wanted": ["concentration(KMnO4,step_three)"]}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "aliquot",
        FLASK,
        "n",
        {"flask": "12.0 mmol", "aliquot": "25.0 mL", "made_up": "250.0 mL"},
        F("1.2"),
        "mmol",
        {"aliquot-forgotten": F(12), "aliquot-inverted": F(120)},
    ),
    (
        "aliquot",
        FLASK,
        "flask",
        {"n": "1.20 mmol", "aliquot": "25.0 mL", "made_up": "250.0 mL"},
        F(12),
        "mmol",
        {"aliquot-forgotten": F("1.2"), "aliquot-inverted": F("0.12")},
    ),
    ("aliquot", FLASK, "aliquot", {"n": "1.20 mmol", "flask": "12.0 mmol", "made_up": "250.0 mL"}, F(25), "mL", {}),
    ("flask-concentration", STRENGTH, "c", {"n": "12.0 mmol", "V": "250.0 mL"}, F("0.048"), "mol/L", {}),
    ("flask-concentration", STRENGTH, "n", {"c": "0.0480 mol/L", "V": "250.0 mL"}, F(12), "mmol", {}),
    (
        "serial-dilution",
        SERIES,
        "after",
        {"before": "0.0200 mol/L", "aliquot": "10.0 mL", "made_up": "100.0 mL"},
        F(2),
        "mmol/L",
        {"factor-inverted": F(200), "flask-filled-beside": F(20, 11), "step-left-out": F(20)},
    ),
    (
        "serial-dilution",
        SERIES,
        "before",
        {"after": "2.00 mmol/L", "aliquot": "10.0 mL", "made_up": "100.0 mL"},
        F("0.02"),
        "mol/L",
        {"factor-inverted": F("0.0002"), "flask-filled-beside": F("0.022"), "step-left-out": F("0.002")},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


def test_a_series_runs_as_far_as_it_is_asked(problems: Any) -> None:
    given = {
        "concentration(KMnO4,initial)": "0.0200 mol/L",
        "volume(KMnO4,aliquot)": "5.00 mL",
        "volume(KMnO4,flask)": "50.0 mL",
    }
    plan = problems.plan(given, {"concentration(KMnO4,step_four)": "µmol/L"}, others=["KMnO4"])
    assert [(step.quantity.role, step.quantity.stage) for step in plan.steps] == [
        (Role.DILUTED, n) for n in (1, 2, 3, 4)
    ]
    assert list(problems.answers(plan, given).values()) == [F(2)]  # 0.0200 mol/L over ten thousand


def test_from_the_titre_of_an_aliquot_back_to_the_sample(problems: Any) -> None:
    given = {
        "volume(HCl,solution)": "20.00 mL",
        "concentration(HCl)": "0.1000 mol/L",
        "volume(Na2CO3,flask)": "250.0 mL",
        "volume(Na2CO3,aliquot)": "25.00 mL",
        "mass(Na2CO3,impure)": "1.500 g",
    }
    equation = "Na2CO3 + 2 HCl -> 2 NaCl + H2O + CO2"
    plan = problems.plan(given, {"amount(Na2CO3,flask)": "mmol", "mass_fraction(Na2CO3)": "%"}, equation)
    amount, share = problems.answers(plan, given).values()
    assert amount == 10  # 2.000 mmol of acid, 1.000 mmol in a tenth of the flask
    assert abs(share - F("70.66")) < F("0.01")  # 1.0599 g in 1.500 g
