from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from problemgen.model.expression import Expression, names_in
from problemgen.model.plan import Step
from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity
from problemgen.plan.law import CommonError, Instance, Law
from problemgen.plan.mistakes import find_mistakes

AMMONIA = {"equation": "N2 + 3 H2 -> 2 NH3", "product": "NH3"}
AMMONIA_GIVEN = {"mass(N2)": "28.0 g", "mass(H2)": "5.00 g"}
AMMONIA_ASKED = {"mass(NH3,theoretical)": "g", "mass(N2,left)": "g"}

FOUND: list[tuple[str, dict[str, Any], list[str], dict[str, str], set[str]]] = [
    (
        "a mass",
        {"others": ["NaCl"]},
        ["mass(NaCl)"],
        {"amount(NaCl)": "mol"},
        {"molar-mass-inverted:amount(NaCl)"},
    ),
    (
        "a bottle",
        {"others": ["HCl"]},
        ["volume(HCl,solution)", "mass_fraction(HCl)", "density(HCl,solution)"],
        {"amount(HCl)": "mmol"},
        {
            "density-divided:mass(HCl,solution)",
            "density-forgotten:mass(HCl,solution)",
            "percent-left-out:mass(HCl)",
            "percent-divided:mass(HCl)",
            "molar-mass-inverted:amount(HCl)",
        },
    ),
    (
        "a hydrate",
        {"others": ["CuSO4", "CuSO4.5H2O"], "stands_for": {"CuSO4.5H2O": "CuSO4"}},
        ["mass(CuSO4.5H2O)", "volume(CuSO4,solution)"],
        {"concentration(CuSO4)": "mol/L"},
        {
            "water-left-out:molar_mass(CuSO4.5H2O)",
            "molar-mass-inverted:amount(CuSO4.5H2O)",
            "millilitres-as-litres:concentration(CuSO4)",
        },
    ),
    (
        "a titration",
        {"equation": "H2SO4 + 2 NaOH -> Na2SO4 + 2 H2O"},
        ["concentration(NaOH)", "volume(NaOH,solution)", "volume(H2SO4,solution)"],
        {"concentration(H2SO4)": "mol/L"},
        {
            "millilitres-as-litres:amount(NaOH)",
            "concentration-divided:amount(NaOH)",
            "coefficient-in-concentration",
            "ratio-left-out",
            "ratio-inverted",
            "millilitres-as-litres:concentration(H2SO4)",
        },
    ),
    (
        "a titration, one to one",
        {"equation": "HCl + NaOH -> NaCl + H2O"},
        ["concentration(NaOH)", "volume(NaOH,solution)", "volume(HCl,solution)"],
        {"concentration(HCl)": "mol/L"},
        {
            "millilitres-as-litres:amount(NaOH)",
            "concentration-divided:amount(NaOH)",
            "millilitres-as-litres:concentration(HCl)",
        },
    ),
    (
        "limiting reagent",
        AMMONIA,
        list(AMMONIA_GIVEN),
        AMMONIA_ASKED,
        {
            "molar-mass-inverted:amount(N2)",
            "molar-mass-inverted:amount(H2)",
            "molar-mass-inverted:mass(NH3,theoretical)",
            "molar-mass-inverted:mass(N2,left)",
            "other-molar-mass:amount(N2)",
            "other-molar-mass:amount(H2)",
            "other-molar-mass:mass(NH3,theoretical)",
            "other-molar-mass:mass(N2,left)",
            "coefficient-in-amount",
            "ratio-left-out",
            "ratio-inverted",
            "reagent-ratio-left-out",
            "product-ratio-left-out",
            "excess-taken:extent()",
            "least-amount-taken:extent()",
            "least-mass-taken:extent()",
            "consumed-for-left:amount(N2,left)",
        },
    ),
    (
        "limiting reagent, one to one",
        {"equation": "Zn + I2 -> ZnI2", "product": "ZnI2"},
        ["mass(Zn)", "mass(I2)"],
        {"mass(ZnI2,theoretical)": "g"},
        {
            "molar-mass-inverted:amount(Zn)",
            "molar-mass-inverted:amount(I2)",
            "molar-mass-inverted:mass(ZnI2,theoretical)",
            "other-molar-mass:amount(Zn)",
            "other-molar-mass:amount(I2)",
            "other-molar-mass:mass(ZnI2,theoretical)",
            "excess-taken:extent()",
            "least-mass-taken:extent()",
        },
    ),
    (
        "a gas, yield",
        {"equation": "Mg + 2 HCl -> MgCl2 + H2", "product": "MgCl2"},
        ["amount(Mg)", "mass(MgCl2,actual)", "pressure(H2)", "temperature(H2)"],
        {"volume(H2,theoretical)": "mL", "percent_yield(MgCl2)": "%"},
        {
            "celsius-for-kelvin",
            "standard-molar-volume",
            "molar-mass-inverted:mass(MgCl2,theoretical)",
            "other-molar-mass:mass(MgCl2,theoretical)",
            "yield-inverted:percent_yield(MgCl2)",
        },
    ),
]


@pytest.mark.parametrize(("about", "given", "asked", "expected"), [one[1:] for one in FOUND], ids=[o[0] for o in FOUND])
def test_the_mistakes_along_a_plan(
    problems: Any, about: dict[str, Any], given: list[str], asked: dict[str, str], expected: set[str]
) -> None:
    plan = problems.plan(given, asked, **about)
    assert {mistake.id for mistake in plan.mistakes} == expected


@pytest.mark.parametrize(("about", "given", "asked"), [one[1:4] for one in FOUND], ids=[o[0] for o in FOUND])
def test_a_mistake_changes_steps_of_the_plan_with_what_is_at_hand(
    problems: Any, about: dict[str, Any], given: list[str], asked: dict[str, str]
) -> None:
    plan = problems.plan(given, asked, **about)
    steps = {step.quantity.id: step.expression for step in plan.steps}
    at_hand = {*steps, *given, *(constant.quantity.id for constant in plan.constants)}
    for mistake in plan.mistakes:
        for name, expression in mistake.rewrites:
            assert steps[name] != expression
            assert at_hand.issuperset(names_in(expression))


# Worked by hand: 28.0 g of nitrogen (0.9995 mol) with 5.00 g of hydrogen (2.480 mol). Hydrogen limits.
N2, H2, NH3 = 28.0 / 28.014, 5.00 / 2.0160, 17.031
AFTER = {
    "ratio-left-out": (N2 * NH3, 0.0),
    "ratio-inverted": (N2 / 2 * NH3, 0.0),
    "reagent-ratio-left-out": (2 * N2 * NH3, 0.0),
    "product-ratio-left-out": (H2 / 3 * NH3, 28.0 - H2 / 3 * 28.014),
    "excess-taken:extent()": (2 * N2 * NH3, 0.0),
    "least-amount-taken:extent()": (2 * N2 * NH3, 0.0),
    "least-mass-taken:extent()": (2 * H2 / 3 * NH3, 28.0 - H2 / 3 * 28.014),  # right by luck here
    "consumed-for-left:amount(N2,left)": (2 * H2 / 3 * NH3, H2 / 3 * 28.014),
    "molar-mass-inverted:mass(NH3,theoretical)": (2 * H2 / 3 / NH3, 28.0 - H2 / 3 * 28.014),
    "other-molar-mass:amount(H2)": (2 * 5.00 / 17.031 / 3 * NH3, 28.0 - 5.00 / 17.031 / 3 * 28.014),
    # both amounts divided by the coefficient, the product's mass multiplied by it
    "coefficient-in-amount": (2 * H2 / 9 * 2 * NH3, (N2 - H2 / 9) * 28.014),
}


@pytest.mark.parametrize("mistake", AFTER)
def test_a_mistake_leads_to_the_answer_worked_by_hand(problems: Any, after_mistake: Any, mistake: str) -> None:
    plan = problems.plan(AMMONIA_GIVEN, AMMONIA_ASKED, **AMMONIA)
    answers = [float(value) for value in after_mistake(plan, AMMONIA_GIVEN, mistake).values()]
    assert answers == pytest.approx(list(AFTER[mistake]), rel=1e-12, abs=1e-12)


def test_an_inverted_ratio_is_inverted_in_what_is_left_too(problems: Any, after_mistake: Any) -> None:
    """For 2.00 mol of hydrogen, 6.00 mol of nitrogen would be used up."""
    given = {"amount(N2)": "9.00 mol", "amount(H2)": "2.00 mol"}
    asked = {"amount(N2,left)": "mol", "amount(H2,left)": "mol", "amount(N2,consumed)": "mol"}
    plan = problems.plan(given, asked, **AMMONIA)
    assert list(after_mistake(plan, given, "ratio-inverted").values()) == [3, 0, 6]


def nothing(_law: Law, _scene: Scene) -> Iterator[Instance]:
    yield from ()


EVERYWHERE = CommonError("everywhere", "made everywhere", "Look.", "a = c", everywhere=True)
ONCE = CommonError("once", "made once", "Look.", "c = a - b")
IDLE = CommonError("idle", "changes nothing", "Look.", "a = nu c")
TWIN = CommonError("twin", "the same as once", "Look.", "a - c = b")
FIRST = Law("first", "First", "a = nu c", nothing, {}, "made up", (EVERYWHERE, ONCE, IDLE, TWIN))
SECOND = Law("second", "Second", "a = nu c", nothing, {}, "made up", (EVERYWHERE,))


def derivation(law: Law, name: str, nu: int = 2) -> tuple[Step, Instance]:
    binding = {"a": Quantity("amount", f"a{name}"), "b": Quantity("mass", f"b{name}"), "c": Quantity("extent", name)}
    instance = Instance(law, binding, nu=nu)
    expression = instance.solution("c")
    assert expression is not None
    return Step(binding["c"], law.id, "c", expression, "figures"), instance


NAMES = frozenset({"amount(ax)", "mass(bx)", "amount(ay)", "mass(by)"})
LESS: Expression = ("add", "amount(ax)", ("neg", "mass(bx)"))


def found(*derivations: tuple[Step, Instance], names: frozenset[str] = NAMES) -> dict[str, Any]:
    return {mistake.id: mistake.rewrites for mistake in find_mistakes(derivations, names)}


def test_a_mistake_is_made_in_one_step_or_in_all() -> None:
    assert found(derivation(FIRST, "x"), derivation(SECOND, "y")) == {
        "everywhere": (("extent(x)", "amount(ax)"), ("extent(y)", "amount(ay)")),
        "once:extent(x)": (("extent(x)", LESS),),
    }


def test_where_the_coefficient_is_one_leaving_it_out_is_no_mistake() -> None:
    assert found(derivation(FIRST, "x", nu=1), derivation(SECOND, "y", nu=3)) == {
        "once:extent(x)": (("extent(x)", LESS),),
        "everywhere": (("extent(y)", "amount(ay)"),),
    }


def test_a_mistake_needs_its_numbers_at_hand() -> None:
    assert found(derivation(FIRST, "x"), names=frozenset({"amount(ax)"})) == {
        "everywhere": (("extent(x)", "amount(ax)"),)
    }


def test_a_mistake_keeps_its_words() -> None:
    (mistake,) = [m for m in find_mistakes([derivation(FIRST, "x")], NAMES) if m.id == "once:extent(x)"]
    assert (mistake.title, mistake.hint) == ("made once", "Look.")
