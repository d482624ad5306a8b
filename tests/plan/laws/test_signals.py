"""Peak areas, integrals and an internal standard: each law worked by hand."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from problemgen.errors import UnderivableError
from problemgen.plan.laws.signals import LAWS
from tests.support.law_table import LawTable

F = Fraction

ALKENE, ETHER = "C4H10O -> C4H8 + H2O", "2 C4H10O -> C8H18O + H2O"
ISOMER = "C4H10O -> CH3CHCHCH3 + H2O"
PAIR: dict[str, Any] = {"equation": ALKENE, "parallel": ETHER, "product": "C4H8"}
BY_AREA = {**PAIR, "given": ["peak_area(C4H8)", "response_factor(C4H8)"]}
ISOMERS = {"equation": ALKENE, "parallel": ISOMER, "product": "C4H8", "given": ["peak_area(C4H8)"]}
BY_NMR = {**PAIR, "given": ["integral(C4H8)", "protons(C4H8)"]}
WEIGHED_IN = ["peak_area(C4H8)", "response_factor(C4H8)", "peak_area(C10H22)", "mass(C10H22)"]
STANDARD = {**PAIR, "given": WEIGHED_IN, "others": ["C10H22"], "standard": "C10H22"}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        # 4960/0.62 = 8000; 4960 × 0.62 = 3075.2; taken as grams of a substance of 80 g/mol: 4960/80 = 62
        "area-by-response",
        BY_AREA,
        "a",
        {"area": "4960 1", "f": "0.62 1", "molar_mass(C4H8)": "80 g/mol"},
        F(8000),
        "1",
        {"response-left-out": F(4960), "response-inverted": F("3075.2"), "areas-as-masses": F(62)},
    ),
    ("area-by-response", BY_AREA, "f", {"area": "4960 1", "a": "8000 1"}, F("0.62"), "1", {}),
    ("area-by-response", BY_AREA, "area", {"a": "8000 1", "f": "0.62 1"}, F(4960), "1", {}),
    ("area-alone", ISOMERS, "a", {"area": "8120 1"}, F(8120), "1", {}),
    ("area-alone", ISOMERS, "area", {"a": "8120 1"}, F(8120), "1", {}),
    (
        # The standard's factor is 1; its area taken as grams of decane, 142 g/mol: 2840/142 = 20
        "area-alone",
        {**STANDARD, "of": "C10H22"},
        "a",
        {"area": "2840 1", "molar_mass(C10H22)": "142 g/mol"},
        F(2840),
        "1",
        {"areas-as-masses": F(20)},
    ),
    (
        # 5.10/3 = 1.70; with the number of protons upside down 5.10 × 3 = 15.3
        "integral-by-protons",
        BY_NMR,
        "a",
        {"integral": "5.10 1", "N": "3 1"},
        F("1.7"),
        "1",
        {"protons-left-out": F("5.1"), "protons-inverted": F("15.3")},
    ),
    ("integral-by-protons", BY_NMR, "N", {"integral": "5.10 1", "a": "1.70 1"}, F(3), "1", {}),
    ("integral-by-protons", BY_NMR, "integral", {"N": "3 1", "a": "1.70 1"}, F("5.1"), "1", {}),
    (
        # 1.30 mmol × 7200/2400 = 3.90 mmol; upside down 1.30 × 2400/7200 = 13/30;
        # 0.260 g × 3 = 0.780 g, over 156 g/mol 5.00 mmol
        "internal-standard",
        STANDARD,
        "n",
        {
            "standard_n": "1.30 mmol",
            "own": "7200 1",
            "standard_a": "2400 1",
            "mass(C10H22)": "0.260 g",
            "molar_mass(C4H8)": "156 g/mol",
        },
        F("3.9"),
        "mmol",
        {"standard-amount-taken": F("1.3"), "standard-inverted": F(13, 30), "standard-by-mass": F(5)},
    ),
    (
        "internal-standard",
        STANDARD,
        "own",
        {"standard_n": "1.30 mmol", "n": "3.90 mmol", "standard_a": "2400 1"},
        F(7200),
        "1",
        {},
    ),
    (
        "internal-standard",
        STANDARD,
        "standard_n",
        {"own": "7200 1", "n": "3.90 mmol", "standard_a": "2400 1"},
        F("1.3"),
        "mmol",
        {},
    ),
    (
        "internal-standard",
        STANDARD,
        "standard_a",
        {"own": "7200 1", "n": "3.90 mmol", "standard_n": "1.30 mmol"},
        F(2400),
        "1",
        {},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


def test_what_is_left_of_a_reagent_came_back(problems: Any) -> None:
    """Its peak tells how much was recovered, not how much was taken."""
    given = ["mass(C10H22)", "peak_area(C10H22)", "peak_area(C4H10O)", "response_factor(C4H10O)"]
    about = {"others": ["C10H22"], "product": "C4H8", "parallel": ETHER, "standard": "C10H22"}
    plan = problems.plan(given, {"amount(C4H10O,recovered)": "mmol"}, ALKENE, **about)
    assert [step.law for step in plan.steps][-1] == "internal-standard"


def test_areas_of_products_of_unequal_mass_need_response_factors(problems: Any) -> None:
    about = {"product": "C4H8", "parallel": ETHER}
    with pytest.raises(UnderivableError, match="the share of C4H8 cannot be derived from what is given"):
        problems.plan(["peak_area(C4H8)", "peak_area(C8H18O)"], {"share(C4H8)": "%"}, ALKENE, **about)


def test_without_two_products_or_a_standard_an_area_is_no_relative_amount(problems: Any) -> None:
    scene = problems.scene(["peak_area(C4H8)", "response_factor(C4H8)"], ALKENE)
    assert [instance for law in LAWS for instance in law.instances(law, scene)] == []
