"""Two products of one reagent: yields, selectivity and what became of the reagent, worked by hand."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from problemgen.plan.laws.pair_yields import LAWS
from tests.support.law_table import LawTable

F = Fraction

ALKENE, ETHER = "C4H10O -> C4H8 + H2O", "2 C4H10O -> C8H18O + H2O"
ISOMER = "C4H10O -> CH3CHCHCH3 + H2O"
GIVEN = ["mass(C4H10O)", "relative_amount(C4H8)", "mass(C4H8,both)"]
UNEQUAL: dict[str, Any] = {
    "equation": ALKENE,
    "parallel": ETHER,
    "product": "C4H8",
    "given": GIVEN,
    "sources": ["C4H10O"],
    "wanted": ["selectivity(C4H8)"],
}
ISOMERS: dict[str, Any] = {**UNEQUAL, "parallel": ISOMER}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        # Two of the alcohol make one ether: 40/2 = 20 mmol; without coefficients 40 mmol, upside down 80 mmol
        "other-product-in-theory",
        UNEQUAL,
        "n",
        {"extent()": "40 mmol"},
        F(20),
        "mmol",
        {"ratio-left-out": F(40), "ratio-inverted": F(80), "equation-of-the-other": F(40)},
    ),
    ("isomer-in-theory", ISOMERS, "other", {"one": "4.00 g"}, F(4), "g", {}),
    ("isomer-in-theory", ISOMERS, "one", {"other": "4.00 g"}, F(4), "g", {}),
    (
        "total-yield-of-isomers",
        ISOMERS,
        "Y",
        {"both": "3.00 g", "theoretical": "4.00 g", "percent_yield(C4H8)": "63 %", "percent_yield(CH3CHCHCH3)": "12 %"},
        F(75),
        "%",
        {"pair-yields-averaged": F("37.5")},
    ),
    ("total-yield-of-isomers", ISOMERS, "both", {"Y": "75 %", "theoretical": "4.00 g"}, F(3), "g", {}),
    (
        # 45 % + 15 % = 60 %; their average 30 %; 3.00 g of both over 4.00 g of one 75 %
        "total-yield",
        UNEQUAL,
        "Y",
        {"one": "45 %", "other": "15 %", "mass(C4H8,both)": "3.00 g", "mass(C4H8,theoretical)": "4.00 g"},
        F(60),
        "%",
        {"pair-yields-averaged": F(30), "mixture-against-one": F(75)},
    ),
    (
        # 18 mmol + 2 × 3 mmol = 24 mmol; without coefficients 21 mmol; of the first product alone 18 mmol
        "converted-into-products",
        UNEQUAL,
        "converted",
        {"amount(C4H8,actual)": "18 mmol", "amount(C8H18O,actual)": "3 mmol"},
        F(24),
        "mmol",
        {"converted-coefficients-left-out": F(21), "one-product-only": F(18)},
    ),
    (
        # 18/(18 + 2 × 3) = 75 %; 18/21 without coefficients; 18 of the 40 mmol that were taken: 45 %
        "selectivity-of-two-products",
        UNEQUAL,
        "S",
        {"one": "18 1", "other": "3 1", "amount(C4H8,actual)": "18 mmol", "amount(C4H10O)": "40 mmol"},
        F(75),
        "%",
        {"selectivity-ratio-left-out": F(600, 7), "selectivity-against-all": F(45)},
    ),
    (
        "not-converted",
        UNEQUAL,
        "back",
        {"n": "40 mmol", "converted": "24 mmol"},
        F(16),
        "mmol",
        {"converted-for-unconverted": F(24)},
    ),
    ("not-converted", UNEQUAL, "converted", {"n": "40 mmol", "back": "16 mmol"}, F(24), "mmol", {}),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


@pytest.mark.source("common-practice: yields on the limiting reagent, selectivity of what was converted")
def test_peak_areas_with_response_factors_worked_by_hand(problems: Any) -> None:
    """Relative amounts 4800/0.400 = 12000 of C4H8 and 2100/0.700 = 3000 of C8H18O: four to one.

    Mean molar mass (4 × 56.108 + 130.231)/5 = 70.9326 g/mol; 3.547 g of the mixture are 50.0052 mmol, 40.0042 mmol of
    the alkene and 10.0010 mmol of the ether. 7.412 g of C4H10O (4 × 12.011 + 10 × 1.008 + 15.999 = 74.123) are
    99.9960 mmol: yields 40.0058 % and 10.0010/(99.9960/2) = 20.0029 %, together 60.0086 %. 40.0042 + 2 × 10.0010 =
    60.0063 mmol were converted, 39.9897 mmol were not; 4/(4 + 2) = 66.6667 % of the converted alcohol became alkene.
    """
    given = {
        "mass(C4H10O)": "7.412 g",
        "mass(C4H8,both)": "3.547 g",
        "peak_area(C4H8)": "4800 1",
        "response_factor(C4H8)": "0.400 1",
        "peak_area(C8H18O)": "2100 1",
        "response_factor(C8H18O)": "0.700 1",
    }
    asked = {
        "percent_yield(C4H8)": "%",
        "percent_yield(C8H18O)": "%",
        "percent_yield(C4H8,both)": "%",
        "amount(C4H10O,converted)": "mmol",
        "amount(C4H10O,unconverted)": "mmol",
        "selectivity(C4H8)": "%",
    }
    plan = problems.plan(given, asked, ALKENE, product="C4H8", parallel=ETHER)
    found = {name: float(value) for name, value in problems.answers(plan, given).items()}
    expected = dict(zip(asked, (40.0058, 20.0029, 60.0086, 60.0063, 39.9897, 66.6667), strict=True))
    assert found == pytest.approx(expected, rel=1e-5)


@pytest.mark.source("common-practice: conversion and selectivity beside what is left of the reagent")
def test_an_internal_standard_worked_by_hand(problems: Any) -> None:
    """0.2846 g of decane (10 × 12.011 + 22 × 1.008 = 142.286 g/mol) are 2.000197 mmol, with a peak of 2500.

    Alkene 4000/0.400 = 10000, so 4 × 2.000197 = 8.000787 mmol; ether 1050/0.700 = 1500, 0.6 × 2.000197 = 1.200118 mmol;
    alcohol 850/0.340 = 2500, 2.000197 mmol left. Of 0.9265 g, 12.499494 mmol, 10.499298 mmol were converted: 83.9978 %.
    Of these the alkene has 8.000787/10.499298 = 76.2030 %, the ether 2 × 1.200118/10.499298 = 22.8609 %.
    """
    given = {
        "mass(C4H10O)": "0.9265 g",
        "mass(C10H22)": "0.2846 g",
        "peak_area(C10H22)": "2500 1",
        "peak_area(C4H8)": "4000 1",
        "response_factor(C4H8)": "0.400 1",
        "peak_area(C8H18O)": "1050 1",
        "response_factor(C8H18O)": "0.700 1",
        "peak_area(C4H10O)": "850 1",
        "response_factor(C4H10O)": "0.340 1",
    }
    asked = {
        "amount(C4H8,actual)": "mmol",
        "amount(C8H18O,actual)": "mmol",
        "amount(C4H10O,recovered)": "mmol",
        "conversion(C4H10O)": "%",
        "selectivity(C4H8)": "%",
        "selectivity(C8H18O)": "%",
    }
    about = {"others": ["C10H22"], "product": "C4H8", "parallel": ETHER, "standard": "C10H22"}
    plan = problems.plan(given, asked, ALKENE, **about)
    found = {name: float(value) for name, value in problems.answers(plan, given).items()}
    expected = dict(zip(asked, (8.000787, 1.200118, 2.000197, 83.9978, 76.2030, 22.8609), strict=True))
    assert found == pytest.approx(expected, rel=1e-5)


def test_what_was_measured_of_the_reagent_goes_before_what_the_products_tell(problems: Any) -> None:
    given = ["mass(C4H10O)", "mass(C4H10O,recovered)", *GIVEN[1:], "relative_amount(C8H18O)"]
    plan = problems.plan(given, {"selectivity(C4H8)": "%"}, ALKENE, product="C4H8", parallel=ETHER)
    assert [step.law for step in plan.steps][-2:] == ["converted", "selectivity"]


def test_the_mixture_taken_for_one_product_is_a_mistake_of_its_yield(problems: Any) -> None:
    given = [*GIVEN, "relative_amount(C8H18O)"]
    asked = {"mass(C4H8,theoretical)": "g", "percent_yield(C4H8)": "%"}
    plan = problems.plan(given, asked, ALKENE, product="C4H8", parallel=ETHER)
    mistake = next(one for one in plan.mistakes if one.id.startswith("mixture-for-product"))
    assert dict(mistake.rewrites) == {"percent_yield(C4H8)": ("div", "mass(C4H8,both)", "mass(C4H8,theoretical)")}
