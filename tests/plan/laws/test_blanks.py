"""Blank titrations, worked by hand with invented volumes."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from problemgen.plan.laws.blanks import LAWS
from tests.support.law_table import LawTable

F = Fraction

DISSOLVED, TITRATED = "CaCO3 + 2 HCl -> CaCl2 + H2O + CO2", "HCl + NaOH -> NaCl + H2O"
TABLET: dict[str, Any] = {"equation": DISSOLVED, "then": [TITRATED], "in_excess": ["HCl"]}
BACK: dict[str, Any] = {**TABLET, "given": ["volume(NaOH,blank)"]}
DOUBLE: dict[str, Any] = {
    "equation": "CH3Li + H2O -> LiOH + CH4",
    "then": ["LiOH + HCl -> LiCl + H2O"],
    "given": ["volume(HCl,total_base)", "volume(HCl,residual_base)"],
}
DIRECT: dict[str, Any] = {"equation": "NaOH + HCl -> NaCl + H2O", "given": ["volume(HCl,blank)"]}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "blank",
        BACK,
        "net",
        {"more": "44.50 mL", "less": "13.20 mL"},
        F("31.3"),
        "mL",
        {"blank-added": F("57.7"), "blank-left-out": F("13.2"), "blank-alone": F("44.5")},
    ),
    ("blank", BACK, "more", {"net": "31.30 mL", "less": "13.20 mL"}, F("44.5"), "mL", {}),
    ("blank", BACK, "less", {"net": "31.30 mL", "more": "44.50 mL"}, F("13.2"), "mL", {}),
    ("blank-amount", BACK, "n", {"c": "0.1000 mol/L", "net": "31.30 mL"}, F("3.13"), "mmol", {}),
    ("blank-amount", BACK, "c", {"n": "3.13 mmol", "net": "31.30 mL"}, F("0.1"), "mol/L", {}),
    ("blank-amount", BACK, "net", {"n": "3.13 mmol", "c": "0.1000 mol/L"}, F("31.3"), "mL", {}),
    (
        "blank",
        DIRECT,
        "net",
        {"more": "20.50 mL", "less": "0.50 mL"},
        F(20),
        "mL",
        {"blank-added": F(21), "blank-left-out": F("20.5"), "blank-alone": F("0.5")},
    ),
    (
        "residual-base",
        DOUBLE,
        "net",
        {"more": "17.20 mL", "less": "1.20 mL"},
        F(16),
        "mL",
        {"residual-left-out": F("17.2"), "residual-added": F("18.4"), "residual-alone": F("1.2")},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


@pytest.mark.parametrize(("about", "more", "less"), [(BACK, "blank", "with_sample"), (DIRECT, "with_sample", "blank")])
def test_in_a_back_titration_the_blank_takes_more(bench: Any, about: Any, more: str, less: str) -> None:
    binding = bench.instance("blank", about).binding
    assert (str(binding["more"].role), str(binding["less"].role)) == (more, less)


@pytest.mark.parametrize(
    ("equation", "then", "in_excess", "first", "expected"),
    [
        (DISSOLVED, [TITRATED], ["HCl"], ("blank", "44.50 mL", "13.20 mL"), F("1.565")),  # 0.1 × 31.30 / 2
        ("NaOH + HCl -> NaCl + H2O", [], [], ("direct", "0.50 mL", "20.50 mL"), F(2)),
    ],
)
def test_with_a_blank(
    problems: Any, equation: str, then: list[str], in_excess: list[str], first: tuple[str, ...], expected: Fraction
) -> None:
    """In a back titration the blank takes more, in a direct one less."""
    titrant, sample = ("NaOH", "CaCO3") if first[0] == "blank" else ("HCl", "NaOH")
    given = {f"volume({titrant},blank)": first[1], f"volume({titrant},with_sample)": first[2]}
    given |= {f"concentration({titrant})": "0.1000 mol/L"}
    plan = problems.plan(given, {f"amount({sample})": "mmol"}, equation, then=then, in_excess=in_excess)
    assert problems.answers(plan, given) == {f"amount({sample})": expected}


def test_an_organolithium_is_what_the_residual_base_leaves(problems: Any) -> None:
    given = {"volume(HCl,total_base)": "17.20 mL", "volume(HCl,residual_base)": "1.20 mL"}
    given |= {"concentration(HCl)": "0.1000 mol/L", "volume(CH3Li,solution)": "1.000 mL"}
    asked = {"volume(HCl,net)": "mL", "amount(CH3Li)": "mmol", "concentration(CH3Li)": "mol/L"}
    plan = problems.plan(given, asked, DOUBLE["equation"], then=DOUBLE["then"], product="LiOH")
    assert list(problems.answers(plan, given).values()) == [F(16), F("1.6"), F("1.6")]


def test_without_a_blank_nothing_is_taken_off(problems: Any) -> None:
    scene = problems.scene((), **TABLET)
    assert [instance for law in LAWS for instance in law.instances(law, scene)] == []
