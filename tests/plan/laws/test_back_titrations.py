"""Back titrations, worked by hand with invented volumes."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from problemgen.plan.laws.back_titrations import LAWS, titrated_back
from tests.support.law_table import LawTable

F = Fraction

DISSOLVED, TITRATED = "CaCO3 + 2 HCl -> CaCl2 + H2O + CO2", "HCl + NaOH -> NaCl + H2O"
ABSORBED, BY_BASE = "2 NH3 + H2SO4 -> (NH4)2SO4", "H2SO4 + 2 NaOH -> Na2SO4 + 2 H2O"
TABLET: dict[str, Any] = {"equation": DISSOLVED, "then": [TITRATED], "in_excess": ["HCl"]}
AMMONIA: dict[str, Any] = {"equation": ABSORBED, "then": [BY_BASE], "in_excess": ["H2SO4"]}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "titrated-rest",
        AMMONIA,
        "rest",
        {"titrant": "3.00 mmol"},
        F("1.5"),
        "mmol",
        {"titrant-ratio-left-out": F(3)},
    ),
    ("titrated-rest", AMMONIA, "titrant", {"rest": "1.50 mmol"}, F(3), "mmol", {"titrant-ratio-left-out": F("1.5")}),
    ("titrated-rest", TABLET, "rest", {"titrant": "3.00 mmol"}, F(3), "mmol", {"main-coefficient": F(6)}),
    (
        "taken-less-rest",
        TABLET,
        "used",
        {"taken": "12.50 mmol", "rest": "4.00 mmol"},
        F("8.5"),
        "mmol",
        {"excess-forgotten": F("12.5"), "rest-taken-as-used": F(4), "rest-added": F("16.5")},
    ),
    (
        "taken-less-rest",
        TABLET,
        "rest",
        {"taken": "12.50 mmol", "used": "8.50 mmol"},
        F(4),
        "mmol",
        {"rest-taken-as-used": F("8.5")},
    ),
    ("taken-less-rest", TABLET, "taken", {"used": "8.50 mmol", "rest": "4.00 mmol"}, F("12.5"), "mmol", {}),
    (
        "used-by-sample",
        TABLET,
        "xi",
        {"used": "8.50 mmol"},
        F("4.25"),
        "mmol",
        {"ratio-left-out": F("8.5"), "ratio-inverted": F(17)},
    ),
    (
        "used-by-sample",
        TABLET,
        "used",
        {"xi": "4.25 mmol"},
        F("8.5"),
        "mmol",
        {"ratio-left-out": F("4.25"), "ratio-inverted": F("2.125")},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES

    def test_a_common_error_gives_what_a_student_gets_who_makes_it(self, bench: Any, case: tuple[Any, ...]) -> None:
        found = bench.mistaken(case)
        assert {error: value for error, value in found.items() if value != case[4]} == case[6]


def test_a_tablet_titrated_back(problems: Any) -> None:
    given = {
        "volume(HCl,solution)": "50.00 mL",
        "concentration(HCl)": "0.2500 mol/L",
        "volume(NaOH,solution)": "40.00 mL",
        "concentration(NaOH)": "0.1000 mol/L",
        "mass(CaCO3,impure)": "0.5000 g",
    }
    plan = problems.plan(given, {"mass_fraction(CaCO3)": "%"}, **TABLET)
    assert problems.answers(plan, given) == {"mass_fraction(CaCO3)": 100 * F("4.25") * F("100.086") / 500}


def test_how_much_titrant_is_to_be_expected(problems: Any) -> None:
    given = {"amount(HCl)": "12.5 mmol", "amount(CaCO3)": "4.25 mmol"}
    plan = problems.plan(given, {"amount(NaOH)": "mmol"}, **TABLET)
    assert problems.answers(plan, given) == {"amount(NaOH)": 4}


@pytest.mark.parametrize("about", [{**TABLET, "in_excess": []}, {**TABLET, "then": []}, {**TABLET, "then": [BY_BASE]}])
def test_nothing_is_titrated_back_without_an_excess_and_its_titrant(problems: Any, about: Any) -> None:
    scene = problems.scene((), **about)
    assert titrated_back(scene) == ()
    assert [instance for law in LAWS for instance in law.instances(law, scene)] == []
