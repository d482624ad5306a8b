"""Two products of one reagent: shares, amounts and masses, worked by hand."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from problemgen.plan.laws.two_products import LAWS, are_of_one_mass, products_of
from tests.support.law_table import LawTable

F = Fraction

ALKENE, ETHER = "C4H10O -> C4H8 + H2O", "2 C4H10O -> C8H18O + H2O"
ISOMER = "C4H10O -> CH3CHCHCH3 + H2O"
GIVEN = ["relative_amount(C4H8)", "mass(C4H8,both)"]
UNEQUAL: dict[str, Any] = {"equation": ALKENE, "parallel": ETHER, "product": "C4H8", "given": GIVEN}
ISOMERS: dict[str, Any] = {**UNEQUAL, "parallel": ISOMER}
BY_MASS = {**UNEQUAL, "wanted": ["mass_fraction(C8H18O)"]}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        # 94/(94 + 6) = 94 %; 94/6 = 1566.7 %; the other's 6 %
        "share-of-two-products",
        ISOMERS,
        "x",
        {"one": "94 1", "other": "6 1"},
        F(94),
        "%",
        {"product-over-other": F(9400, 6), "other-product": F(6)},
    ),
    ("other-of-two-products", ISOMERS, "x", {"rest": "6 %"}, F(94), "%", {}),
    ("other-of-two-products", ISOMERS, "rest", {"x": "94 %"}, F(6), "%", {}),
    (
        # 0.75 × 56 + 0.25 × 130 = 74.5; plainly (56 + 130)/2 = 93; crossed 0.75 × 130 + 0.25 × 56 = 111.5
        "mean-molar-mass",
        UNEQUAL,
        "Mean",
        {
            "share(C4H8)": "75 %",
            "share(C8H18O)": "25 %",
            "molar_mass(C4H8)": "56 g/mol",
            "molar_mass(C8H18O)": "130 g/mol",
        },
        F("74.5"),
        "g/mol",
        {"plain-average": F(93), "shares-crossed": F("111.5")},
    ),
    (
        # 3.725 g/74.5 g/mol = 50 mmol; over the 50 g/mol of one product 74.5 mmol
        "amount-of-both-products",
        UNEQUAL,
        "n",
        {"both": "3.725 g", "Mean": "74.5 g/mol", "molar_mass(C4H8)": "50 g/mol"},
        F(50),
        "mmol",
        {"one-molar-mass-for-both": F("74.5")},
    ),
    (
        "amount-of-both-products",
        UNEQUAL,
        "both",
        {"n": "50 mmol", "Mean": "74.5 g/mol", "molar_mass(C4H8)": "50 g/mol"},
        F("3.725"),
        "g",
        {"one-molar-mass-for-both": F("2.5")},
    ),
    (
        # 0.75 × 50 mmol = 37.5 mmol; 0.25 × 50 = 12.5; 50/0.75 = 66.7;
        # the share taken of the mass: 0.75 × 3.725 g/55.875 g/mol = 50 mmol
        "amount-of-one-product",
        UNEQUAL,
        "own",
        {
            "x": "75 %",
            "both": "50 mmol",
            "share(C8H18O)": "25 %",
            "mass(C4H8,both)": "3.725 g",
            "molar_mass(C4H8)": "55.875 g/mol",
        },
        F("37.5"),
        "mmol",
        {
            "product-share-left-out": F(50),
            "share-of-the-other": F("12.5"),
            "product-share-divided": F(200, 3),
            "mole-share-of-mass": F(50),
        },
    ),
    ("amount-of-one-product", UNEQUAL, "both", {"x": "75 %", "own": "37.5 mmol"}, F(50), "mmol", {}),
    (
        # 0.75 × 56/70 = 60 %
        "mass-percent-of-one-product",
        BY_MASS,
        "w",
        {"x": "75 %", "M": "56 g/mol", "Mean": "70 g/mol"},
        F(60),
        "%",
        {"mole-share-for-mass-percent": F(75)},
    ),
    (
        # 0.94 × 4.00 g = 3.76 g; 4.00 g; 0.06 × 4.00 g = 0.24 g; 4.00/0.94 = 4.2553 g
        "mass-of-one-product",
        ISOMERS,
        "own",
        {"x": "94 %", "both": "4.00 g", "share(CH3CHCHCH3)": "6 %"},
        F("3.76"),
        "g",
        {"product-share-left-out": F(4), "share-of-the-other": F("0.24"), "product-share-divided": F(200, 47)},
    ),
    ("mass-of-one-product", ISOMERS, "both", {"x": "94 %", "own": "3.76 g"}, F(4), "g", {}),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


def test_isomers_are_told_by_their_atoms(problems: Any) -> None:
    assert are_of_one_mass(problems.scene((), ALKENE, product="C4H8", parallel=ISOMER))
    assert not are_of_one_mass(problems.scene((), ALKENE, product="C4H8", parallel=ETHER))
    assert not are_of_one_mass(problems.scene((), ALKENE))


def test_each_product_has_its_own_equation(problems: Any) -> None:
    one, other = products_of(problems.scene((), ALKENE, product="C4H8", parallel=ETHER))
    assert (one.id, one.ratio("C4H10O"), other.id, other.ratio("C4H10O")) == ("C4H8", 1, "C8H18O", 2)
    assert products_of(problems.scene((), ALKENE, product="C4H8")) == ()


@pytest.mark.source("derived: the masses of both products make the mass of the mixture")
def test_integrals_of_two_products_worked_by_hand(problems: Any) -> None:
    """Relative amounts 5.00/2 = 2.50 of C4H8 and 3.00/6 = 0.500 of C8H18O; a share of 0.500/3.00 = 16.667 %.

    C4H8 4 × 12.011 + 8 × 1.008 = 56.108; C8H18O 8 × 12.011 + 18 × 1.008 + 15.999 = 130.231; their mean
    (5 × 56.108 + 130.231)/6 = 68.46183. 3.423 g are 3.423/68.46183 = 49.9987 mmol, a sixth of it 8.33311 mmol of the
    ether, which are 8.33311 × 130.231 = 1085.23 mg, 31.704 % of the mixture.
    """
    given = {
        "integral(C4H8)": "5.00 1",
        "protons(C4H8)": "2 1",
        "integral(C8H18O)": "3.00 1",
        "protons(C8H18O)": "6 1",
        "mass(C4H8,both)": "3.423 g",
    }
    asked = {
        "share(C8H18O)": "%",
        "molar_mass(C4H8,both)": "g/mol",
        "amount(C8H18O,actual)": "mmol",
        "mass(C8H18O,actual)": "mg",
        "mass_fraction(C8H18O)": "%",
    }
    plan = problems.plan(given, asked, ALKENE, product="C4H8", parallel=ETHER)
    found = {name: float(value) for name, value in problems.answers(plan, given).items()}
    expected = dict(zip(asked, (16.6667, 68.46183, 8.33311, 1085.23, 31.704), strict=True))
    assert found == pytest.approx(expected, rel=1e-5)


def test_of_unequal_products_amounts_lead_where_no_mass_percent_is_asked(problems: Any) -> None:
    given = [*GIVEN, "relative_amount(C8H18O)"]
    plan = problems.plan(given, {"mass(C8H18O,actual)": "g"}, ALKENE, product="C4H8", parallel=ETHER)
    assert [step.law for step in plan.steps][-2:] == ["amount-of-one-product", "amount"]
