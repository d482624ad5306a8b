"""Steps in a row, worked by hand: invented masses, molar masses from the bank's atomic weights."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from problemgen.errors import UnderivableError
from problemgen.plan.laws import LAWS_BY_ID
from problemgen.plan.laws.sequences import LAWS, handed_on
from tests.support.law_table import LawTable

F = Fraction

BENZOIN, BENZIL = "2 C7H6O -> C14H12O2", "2 C14H12O2 + O2 -> 2 C14H10O2 + 2 H2O"
OXIDE = "2 Fe(OH)3 -> Fe2O3 + 3 H2O"
HYDROXIDE = "FeCl3 + 3 NaOH -> Fe(OH)3 + 3 NaCl"
STEPS: dict[str, Any] = {"equation": BENZOIN, "then": [BENZIL], "product": "C14H12O2"}
ISOLATED = {**STEPS, "given": ["mass(C14H12O2,actual)"]}
IGNITED: dict[str, Any] = {"equation": HYDROXIDE, "then": [OXIDE], "product": "Fe(OH)3", "of": "Fe2O3"}
RIVALS = {**ISOLATED, "given": ["mass(C14H12O2,actual)", "amount(O2)"]}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "next-step",
        IGNITED,
        "n",
        {"handed": "3.00 mmol"},
        F("1.5"),
        "mmol",
        {
            "step-ratio-left-out": F(3),
            "step-ratio-inverted": F(6),
            "earlier-coefficient": F(3),  # one Fe(OH)3 stands in the equation that makes it
        },
    ),
    (
        "next-step",
        IGNITED,
        "handed",
        {"n": "1.50 mmol"},
        F(3),
        "mmol",
        {"step-ratio-left-out": F("1.5"), "step-ratio-inverted": F("0.75"), "earlier-coefficient": F("1.5")},
    ),
    (
        "next-step",
        {**ISOLATED, "of": "C14H10O2"},
        "n",
        {"handed": "12.5 mmol", "amount(C14H12O2,theoretical)": "20.0 mmol"},
        F("12.5"),
        "mmol",
        {"earlier-coefficient": F(25), "theory-handed-on": F(20)},
    ),
    (
        "next-step-reagent",
        RIVALS,
        "n",
        {"amount(O2)": "4.00 mmol"},
        F(8),
        "mmol",
        {"step-ratio-left-out": F(4)},
    ),
    (
        "next-step-limit",
        {**RIVALS, "of": "C14H10O2"},
        "n",
        {"amount(C14H10O2,from:C14H12O2)": "12.5 mmol", "amount(C14H10O2,from:O2)": "8.00 mmol"},
        F(8),
        "mmol",
        {"excess-taken": F("12.5")},
    ),
    (
        "overall-yield",
        ISOLATED,
        "Y",
        {"percent_yield(C14H12O2)": "60.0 %", "percent_yield(C14H10O2)": "80.0 %"},
        F(48),
        "%",
        {"yields-added": F(140), "yields-averaged": F(70), "last-yield-only": F(80)},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


@pytest.mark.parametrize(
    ("given", "wanted", "role"),
    [
        ((), (), "theoretical"),
        (["mass(C14H12O2,actual)"], (), "actual"),
        (["percent_yield(C14H12O2)"], (), "actual"),
        ((), ["mass(C14H12O2,actual)"], "actual"),
        (["mass(C14H12O2,actual)", "mass(C14H12O2,onward)"], (), "onward"),
    ],
)
def test_what_is_handed_on(problems: Any, given: Any, wanted: Any, role: str) -> None:
    scene = problems.scene(given, BENZOIN, then=[BENZIL], product="C14H12O2", wanted=wanted)
    (handed,) = handed_on(scene)
    assert (handed.species, handed.made, handed.used, handed.role) == ("C14H12O2", 1, 2, role)


def test_an_equation_that_uses_something_else_is_no_next_step(problems: Any) -> None:
    assert handed_on(problems.scene((), BENZOIN, then=[OXIDE], product="C14H12O2")) == ()


GIVEN = {"mass(C7H6O)": "10.000 g", "mass(C14H12O2,actual)": "7.000 g", "mass(C14H10O2,actual)": "5.600 g"}
M = {"C7H6O": F("106.124"), "C14H12O2": F("212.248"), "C14H10O2": F("210.232")}


def test_two_steps_with_their_yields(problems: Any) -> None:
    asked = {"percent_yield(C14H12O2)": "%", "percent_yield(C14H10O2)": "%", "percent_yield(C14H10O2,overall)": "%"}
    plan = problems.plan(GIVEN, asked, BENZOIN, then=[BENZIL], product="C14H12O2", in_excess=["O2"])
    first = 100 * F(7) / (F(10) / M["C7H6O"] / 2 * M["C14H12O2"])
    second = 100 * F("5.6") / (F(7) / M["C14H12O2"] * M["C14H10O2"])
    assert list(problems.answers(plan, GIVEN).values()) == [first, second, first * second / 100]


def test_two_steps_backwards_at_expected_yields(problems: Any) -> None:
    given = {"percent_yield(C14H12O2)": "70.0 %", "percent_yield(C14H10O2)": "80.0 %"}
    given |= {"mass(C14H10O2,actual)": "5.600 g"}
    plan = problems.plan(given, {"mass(C7H6O)": "g"}, BENZOIN, then=[BENZIL], product="C14H12O2", in_excess=["O2"])
    wanted = F("5.6") / F("0.8") / M["C14H10O2"] / F("0.7") * 2 * M["C7H6O"]
    assert problems.answers(plan, given) == {"mass(C7H6O)": wanted}
    assert "step-yield-forgotten:amount(C14H12O2,theoretical)" in {mistake.id for mistake in plan.mistakes}


def test_three_steps(problems: Any) -> None:
    steps = ["2 CuO + C -> 2 Cu + CO2", "Cu + Cl2 -> CuCl2"]
    given = {"mass(CuSO4)": "5.000 g"}
    plan = problems.plan(
        given,
        {"mass(CuCl2,theoretical)": "g"},
        "CuSO4 + 2 NaOH -> CuO + Na2SO4 + H2O",
        then=steps,
        product="CuO",
        in_excess=["NaOH", "C", "Cl2"],
    )
    weights = {s: problems.weights[s].value for s in ("Cu", "S", "O", "Cl")}
    sulfate = weights["Cu"] + weights["S"] + 4 * weights["O"]
    assert problems.answers(plan, given) == {
        "mass(CuCl2,theoretical)": 5 / sulfate * (weights["Cu"] + 2 * weights["Cl"])
    }


def test_a_later_reagent_limits(problems: Any) -> None:
    given = {"mass(C14H12O2,actual)": "7.000 g", "amount(O2)": "4.00 mmol", "mass(C7H6O)": "10.000 g"}
    asked = {"amount(C14H10O2,theoretical)": "mmol"}
    plan = problems.plan(given, asked, BENZOIN, then=[BENZIL], product="C14H12O2")
    assert problems.answers(plan, given) == {"amount(C14H10O2,theoretical)": 8}


def test_no_overall_yield_where_a_portion_is_taken_on(problems: Any) -> None:
    given = [*GIVEN, "mass(C14H12O2,onward)"]
    with pytest.raises(UnderivableError, match=r"percent yield of C14H10O2 \(overall\) cannot be derived"):
        problems.plan(given, {"percent_yield(C14H10O2,overall)": "%"}, BENZOIN, then=[BENZIL], product="C14H12O2")


def test_a_problem_with_one_equation_has_no_next_step(problems: Any) -> None:
    scene = problems.scene(GIVEN, BENZOIN, product="C14H12O2")
    assert [instance for law in LAWS for instance in law.instances(law, scene)] == []


def test_a_dimer_weighs_what_its_monomer_weighs(problems: Any) -> None:
    """Comparing with the reagent is no mistake where the product holds all of its atoms."""
    law = LAWS_BY_ID["percent-yield"]
    dimer = problems.scene((), BENZOIN, sources=["C7H6O"])
    other = problems.scene((), "2 C7H6O -> C14H10O2 + H2", sources=["C7H6O"])
    compared = ["reagent" in instance.extra for scene in (dimer, other) for instance in law.instances(law, scene)]
    assert compared == [False, True, True]  # 2 C7H6O -> C14H10O2 + H2 forms two
