from __future__ import annotations

from fractions import Fraction
from typing import Any

from problemgen.plan.laws import LAWS_BY_ID
from problemgen.plan.laws.reactions import LAWS
from tests.support.law_table import LawTable

F = Fraction

EQUATION = "2 Al + 6 HCl -> 2 AlCl3 + 3 H2"
PAIR = {"equation": EQUATION, "sources": ["Al", "HCl"]}
METAL = {**PAIR, "of": "Al"}
ACID = {**PAIR, "of": "HCl"}
GAS = {**PAIR, "of": "H2"}
SOLE = {"equation": EQUATION, "sources": ["Al"]}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "extent",
        ACID,
        "xi",
        {"n": "24.0 mmol"},
        F(4),
        "mmol",
        {"ratio-left-out": F(24), "ratio-inverted": F(144), "reagent-ratio-left-out": F(24)},
    ),
    (
        "product-from-reagent",
        {**GAS, "of": "H2"},
        "n",
        {"xi": "4.00 mmol"},
        F(12),
        "mmol",
        {"ratio-left-out": F(4), "ratio-inverted": F(4) / 3, "product-ratio-left-out": F(4)},
    ),
    (
        "equivalent-amounts",
        {**SOLE, "of": "H2"},
        "n",
        {"xi": "4.00 mmol"},
        F(12),
        "mmol",
        {"ratio-left-out": F(4), "ratio-inverted": F(4) / 3, "product-ratio-left-out": F(4)},
    ),
    (
        "equivalent-amounts",
        {**SOLE, "of": "Al"},
        "xi",
        {"n": "8.00 mmol"},
        F(4),
        "mmol",
        {"ratio-left-out": F(8), "ratio-inverted": F(16), "product-ratio-left-out": F(8)},
    ),
    (
        "left-over",
        ACID,
        "left",
        {"n": "30.0 mmol", "xi": "4.00 mmol"},
        F(6),
        "mmol",
        {"ratio-left-out": F(26), "ratio-inverted": 30 - F(4) / 6, "consumed-for-left": F(24)},
    ),
    (
        "excess-left-over",
        {**PAIR, "given": ["amount(Al,left)", "amount(HCl,left)"]},
        "left",
        {"amount(Al,left)": "0.00 mmol", "amount(HCl,left)": "6.00 mmol"},
        F(6),
        "mmol",
        {},
    ),
    (
        "used-up",
        ACID,
        "left",
        {"xi": "4.00 mmol"},
        F(24),
        "mmol",
        {"ratio-left-out": F(4), "ratio-inverted": F(4) / 6},
    ),
    (
        "mixture",
        {
            "equation": "HCl + NaOH -> NaCl + H2O",
            "sources": ["HCl", "NaOH"],
            "given": ["volume(HCl,solution)", "volume(NaOH,solution)"],
        },
        "V",
        {"volume(HCl,solution)": "50.00 mL", "volume(NaOH,solution)": "20.00 mL"},
        F(70),
        "mL",
        {},
    ),
    (
        "mixed-concentration",
        {
            "equation": "HCl + NaOH -> NaCl + H2O",
            "sources": ["HCl", "NaOH"],
            "given": ["volume(HCl,solution)", "volume(NaOH,solution)"],
        },
        "c",
        {"n": "3.50 mmol", "V": "70.00 mL", "volume(HCl,solution)": "50.00 mL", "amount(HCl)": "5.60 mmol"},
        F("0.05"),
        "mol/L",
        {"own-volume-alone": F("0.07"), "all-in-the-mixture": F("0.08")},
    ),
    (
        # 13.49 g of aluminium (0.5 mol) against 36.458 g of hydrogen chloride (1 mol): the acid limits.
        "limiting",
        PAIR,
        "xi",
        {
            "amount(Al)": "0.500 mol",
            "amount(HCl)": "1.00 mol",
            "extent(Al)": "0.250 mol",
            "extent(HCl)": "0.160 mol",
        },
        F("0.16"),
        "mol",
        {"excess-taken": F("0.25"), "least-amount-taken": F("0.25"), "least-mass-taken": F("0.25")},
    ),
    (
        # 2.0235 g of aluminium (0.075 mol) against 1.8229 g of hydrogen chloride (0.05 mol): the mass tells it by luck.
        "limiting",
        PAIR,
        "xi",
        {
            "amount(Al)": "0.075 mol",
            "amount(HCl)": "0.0500 mol",
            "extent(Al)": "0.0375 mol",
            "extent(HCl)": "0.00833 mol",
        },
        F("0.00833"),
        "mol",
        {"excess-taken": F("0.0375"), "least-amount-taken": F("0.00833"), "least-mass-taken": F("0.00833")},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


def test_one_reagent_alone_limits_nothing(problems: Any) -> None:
    law = LAWS_BY_ID["limiting"]
    assert list(law.instances(law, problems.scene((), EQUATION, sources=["Al"]))) == []


def test_equal_coefficients_leave_no_least_amount_to_be_mistaken(bench: Any) -> None:
    instance = bench.instance("limiting", {"equation": "Zn + I2 -> ZnI2", "sources": ["Zn", "I2"]})
    told = {error.id for error in LAWS_BY_ID["limiting"].errors if instance.error(error, "xi") is not None}
    assert told == {"excess-taken", "least-mass-taken"}
