"""What is derived from what."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import pytest

from problemgen.model.expression import names_in
from problemgen.model.plan import Plan
from problemgen.plan.laws import LAWS_BY_ID


@dataclass(frozen=True)
class Told:
    """A problem: scene, given, asked; the steps that lead to the answers; the answers, worked by hand in lab units."""

    name: str
    about: dict[str, Any]
    given: dict[str, str]
    asked: dict[str, str]
    steps: tuple[str, ...]
    answers: dict[str, float]


# Atomic weights, as in banks/elements.toml: H 1.0080, C 12.011, N 14.007, O 15.999, Na 22.990, Mg 24.305, S 32.06,
# Cl 35.45, Cu 63.546, Sn 118.71.
TOLD = (
    Told(
        "a mass",
        {"others": ["NaCl"]},
        {"mass(NaCl)": "2.922 g"},
        {"amount(NaCl)": "mmol"},
        (
            "molar_mass(NaCl) by molar-mass from atomic_weight(Na), atomic_weight(Cl)",
            "amount(NaCl) by amount from mass(NaCl), molar_mass(NaCl)",
        ),
        {"amount(NaCl)": 2.922 / 58.44 * 1000},
    ),
    Told(
        "a neat liquid",
        {"others": ["C4H6O3"]},
        {"volume(C4H6O3)": "2.50 mL", "density(C4H6O3)": "1.082 g/mL"},
        {"amount(C4H6O3)": "mmol"},
        (
            "mass(C4H6O3) by density from volume(C4H6O3), density(C4H6O3)",
            "molar_mass(C4H6O3) by molar-mass from atomic_weight(C), atomic_weight(H), atomic_weight(O)",
            "amount(C4H6O3) by amount from mass(C4H6O3), molar_mass(C4H6O3)",
        ),
        {"amount(C4H6O3)": 2.50 * 1.082 / (4 * 12.011 + 6 * 1.0080 + 3 * 15.999) * 1000},
    ),
    Told(
        "a bottle",
        {"others": ["HCl"]},
        {"volume(HCl,solution)": "5.00 mL", "mass_fraction(HCl)": "37.0 %", "density(HCl,solution)": "1.18 g/mL"},
        {"amount(HCl)": "mmol"},
        (
            "mass(HCl,solution) by density from volume(HCl,solution), density(HCl,solution)",
            "mass(HCl) by mass-percent from mass(HCl,solution), mass_fraction(HCl)",
            "molar_mass(HCl) by molar-mass from atomic_weight(H), atomic_weight(Cl)",
            "amount(HCl) by amount from mass(HCl), molar_mass(HCl)",
        ),
        {"amount(HCl)": 5.00 * 1.18 * 0.37 / 36.458 * 1000},
    ),
    Told(
        "a bottle, backwards",
        {"others": ["HCl"]},
        {"amount(HCl)": "50.0 mmol", "mass_fraction(HCl)": "37.0 %", "density(HCl,solution)": "1.18 g/mL"},
        {"volume(HCl,solution)": "mL"},
        (
            "molar_mass(HCl) by molar-mass from atomic_weight(H), atomic_weight(Cl)",
            "mass(HCl) by amount from molar_mass(HCl), amount(HCl)",
            "mass(HCl,solution) by mass-percent from mass(HCl), mass_fraction(HCl)",
            "volume(HCl,solution) by density from mass(HCl,solution), density(HCl,solution)",
        ),
        {"volume(HCl,solution)": 0.0500 * 36.458 / 0.37 / 1.18},
    ),
    Told(
        "the concentration on a label",
        {"others": ["HCl"]},
        {"mass_fraction(HCl)": "37.0 %", "density(HCl,solution)": "1.18 g/mL"},
        {"concentration(HCl)": "mol/L"},
        (
            "mass_concentration(HCl) by bottle from density(HCl,solution), mass_fraction(HCl)",
            "molar_mass(HCl) by molar-mass from atomic_weight(H), atomic_weight(Cl)",
            "concentration(HCl) by between-concentrations from mass_concentration(HCl), molar_mass(HCl)",
        ),
        {"concentration(HCl)": 1000 * 1.18 * 0.37 / 36.458},
    ),
    Told(
        "a hydrate",
        {"others": ["CuSO4", "CuSO4.5H2O"], "stands_for": {"CuSO4.5H2O": "CuSO4"}},
        {"mass(CuSO4.5H2O)": "2.50 g", "volume(CuSO4,solution)": "100.0 mL"},
        {"concentration(CuSO4)": "mol/L"},
        (
            (
                "molar_mass(CuSO4.5H2O) by molar-mass from "
                "atomic_weight(Cu), atomic_weight(S), atomic_weight(O), atomic_weight(H)"
            ),
            "amount(CuSO4.5H2O) by amount from mass(CuSO4.5H2O), molar_mass(CuSO4.5H2O)",
            "amount(CuSO4) by hydrate from amount(CuSO4.5H2O)",
            "concentration(CuSO4) by concentration from amount(CuSO4), volume(CuSO4,solution)",
        ),
        {"concentration(CuSO4)": 2.50 / 249.677 / 0.1},
    ),
    Told(
        "a hydrate, backwards",
        {"others": ["CuSO4", "CuSO4.5H2O"], "stands_for": {"CuSO4.5H2O": "CuSO4"}},
        {"concentration(CuSO4)": "0.100 mol/L", "volume(CuSO4,solution)": "100.0 mL"},
        {"mass(CuSO4.5H2O)": "g"},
        (
            (
                "molar_mass(CuSO4.5H2O) by molar-mass from "
                "atomic_weight(Cu), atomic_weight(S), atomic_weight(O), atomic_weight(H)"
            ),
            "amount(CuSO4) by concentration from volume(CuSO4,solution), concentration(CuSO4)",
            "amount(CuSO4.5H2O) by hydrate from amount(CuSO4)",
            "mass(CuSO4.5H2O) by amount from molar_mass(CuSO4.5H2O), amount(CuSO4.5H2O)",
        ),
        {"mass(CuSO4.5H2O)": 0.100 * 0.1 * 249.677},
    ),
    Told(
        "purity, backwards",
        {"others": ["Sn"]},
        {"amount(Sn)": "0.100 mol", "mass_fraction(Sn)": "98.0 %"},
        {"mass(Sn,impure)": "g"},
        (
            "molar_mass(Sn) by molar-mass from atomic_weight(Sn)",
            "mass(Sn) by amount from molar_mass(Sn), amount(Sn)",
            "mass(Sn,impure) by purity from mass(Sn), mass_fraction(Sn)",
        ),
        {"mass(Sn,impure)": 0.100 * 118.71 / 0.98},
    ),
    Told(
        "a dilution",
        {"others": ["HCl"]},
        {
            "concentration(HCl,initial)": "6.00 mol/L",
            "volume(HCl,initial)": "20.00 mL",
            "volume(HCl,final)": "250.0 mL",
        },
        {"concentration(HCl,final)": "mol/L", "volume(HCl,added)": "mL"},
        (
            "amount(HCl,initial) by concentration from volume(HCl,initial), concentration(HCl,initial)",
            "amount(HCl,final) by dilution from amount(HCl,initial)",
            "concentration(HCl,final) by concentration from amount(HCl,final), volume(HCl,final)",
            "volume(HCl,added) by addition from volume(HCl,initial), volume(HCl,final)",
        ),
        {"concentration(HCl,final)": 6.00 * 20.00 / 250.0, "volume(HCl,added)": 250.0 - 20.00},
    ),
    Told(
        "a dilution, backwards",
        {"others": ["HCl"]},
        {
            "concentration(HCl,initial)": "6.00 mol/L",
            "concentration(HCl,final)": "0.480 mol/L",
            "volume(HCl,final)": "250.0 mL",
        },
        {"volume(HCl,initial)": "mL"},
        (
            "amount(HCl,final) by concentration from volume(HCl,final), concentration(HCl,final)",
            "amount(HCl,initial) by dilution from amount(HCl,final)",
            "volume(HCl,initial) by concentration from amount(HCl,initial), concentration(HCl,initial)",
        ),
        {"volume(HCl,initial)": 0.480 * 250.0 / 6.00},
    ),
    Told(
        "ions",
        {"others": ["Na2SO4", "Na+"]},
        {"concentration(Na2SO4)": "0.100 mol/L", "volume(Na2SO4,solution)": "50.0 mL"},
        {"amount(Na+)": "mmol"},
        (
            "amount(Na2SO4) by concentration from volume(Na2SO4,solution), concentration(Na2SO4)",
            "amount(Na+) by content from amount(Na2SO4)",
        ),
        {"amount(Na+)": 2 * 0.100 * 50.0},
    ),
    Told(
        "particles",
        {"others": ["H2O", "H"]},
        {"mass(H2O)": "18.0 g"},
        {"count(H)": "1"},
        (
            "molar_mass(H2O) by molar-mass from atomic_weight(H), atomic_weight(O)",
            "amount(H2O) by amount from mass(H2O), molar_mass(H2O)",
            "amount(H) by content from amount(H2O)",
            "count(H) by particles from avogadro(), amount(H)",
        ),
        {"count(H)": 2 * 18.0 / 18.015 * 6.02214076e23},
    ),
    Told(
        "a limiting reagent",
        {"equation": "N2 + 3 H2 -> 2 NH3", "product": "NH3"},
        {"mass(N2)": "28.0 g", "mass(H2)": "5.00 g"},
        {"mass(NH3,theoretical)": "g", "mass(N2,left)": "g"},
        (
            "molar_mass(NH3) by molar-mass from atomic_weight(N), atomic_weight(H)",
            "molar_mass(N2) by molar-mass from atomic_weight(N)",
            "amount(N2) by amount from mass(N2), molar_mass(N2)",
            "extent(N2) by extent from amount(N2)",
            "molar_mass(H2) by molar-mass from atomic_weight(H)",
            "amount(H2) by amount from mass(H2), molar_mass(H2)",
            "extent(H2) by extent from amount(H2)",
            "extent() by limiting from extent(N2), extent(H2)",
            "amount(NH3,theoretical) by equivalent-amounts from extent()",
            "mass(NH3,theoretical) by amount from molar_mass(NH3), amount(NH3,theoretical)",
            "amount(N2,left) by left-over from amount(N2), extent()",
            "mass(N2,left) by amount from molar_mass(N2), amount(N2,left)",
        ),
        {"mass(NH3,theoretical)": 5.00 / 2.0160 / 3 * 2 * 17.031, "mass(N2,left)": 28.0 - 5.00 / 2.0160 / 3 * 28.014},
    ),
    Told(
        "product from each reagent",
        {"equation": "N2 + 3 H2 -> 2 NH3", "product": "NH3"},
        {"amount(N2)": "1.00 mol", "amount(H2)": "2.50 mol"},
        {"amount(NH3,from:N2)": "mol", "amount(NH3,from:H2)": "mol"},
        (
            "extent(N2) by extent from amount(N2)",
            "amount(NH3,from:N2) by product-from-reagent from extent(N2)",
            "extent(H2) by extent from amount(H2)",
            "amount(NH3,from:H2) by product-from-reagent from extent(H2)",
        ),
        {"amount(NH3,from:N2)": 1.00 * 2, "amount(NH3,from:H2)": 2.50 / 3 * 2},
    ),
    Told(
        "percent yield",
        {"equation": "N2 + 3 H2 -> 2 NH3", "product": "NH3"},
        {"mass(N2)": "2.80 g", "mass(NH3,actual)": "3.00 g"},
        {"percent_yield(NH3)": "%"},
        (
            "molar_mass(NH3) by molar-mass from atomic_weight(N), atomic_weight(H)",
            "molar_mass(N2) by molar-mass from atomic_weight(N)",
            "amount(N2) by amount from mass(N2), molar_mass(N2)",
            "extent() by equivalent-amounts from amount(N2)",
            "amount(NH3,theoretical) by equivalent-amounts from extent()",
            "mass(NH3,theoretical) by amount from molar_mass(NH3), amount(NH3,theoretical)",
            "percent_yield(NH3) by percent-yield from mass(NH3,actual), mass(NH3,theoretical)",
        ),
        {"percent_yield(NH3)": 3.00 / (2.80 / 28.014 * 2 * 17.031) * 100},
    ),
    Told(
        "percent yield, backwards",
        {"equation": "N2 + 3 H2 -> 2 NH3", "product": "NH3"},
        {"mass(NH3,actual)": "10.0 g", "percent_yield(NH3)": "80.0 %"},
        {"mass(H2)": "g"},
        (
            "molar_mass(H2) by molar-mass from atomic_weight(H)",
            "mass(NH3,theoretical) by percent-yield from mass(NH3,actual), percent_yield(NH3)",
            "molar_mass(NH3) by molar-mass from atomic_weight(N), atomic_weight(H)",
            "amount(NH3,theoretical) by amount from mass(NH3,theoretical), molar_mass(NH3)",
            "extent() by equivalent-amounts from amount(NH3,theoretical)",
            "amount(H2) by equivalent-amounts from extent()",
            "mass(H2) by amount from molar_mass(H2), amount(H2)",
        ),
        {"mass(H2)": 10.0 / 0.8 / 17.031 / 2 * 3 * 2.0160},
    ),
    Told(
        "a titration",
        {"equation": "H2SO4 + 2 NaOH -> Na2SO4 + 2 H2O"},
        {
            "concentration(NaOH)": "0.1000 mol/L",
            "volume(NaOH,solution)": "20.00 mL",
            "volume(H2SO4,solution)": "25.00 mL",
        },
        {"concentration(H2SO4)": "mol/L"},
        (
            "amount(NaOH) by concentration from volume(NaOH,solution), concentration(NaOH)",
            "extent() by equivalent-amounts from amount(NaOH)",
            "amount(H2SO4) by equivalent-amounts from extent()",
            "concentration(H2SO4) by concentration from amount(H2SO4), volume(H2SO4,solution)",
        ),
        {"concentration(H2SO4)": 0.1000 * 20.00 / 2 / 25.00},
    ),
    Told(
        "a titration beyond its end",
        {"equation": "H2SO4 + 2 NaOH -> Na2SO4 + 2 H2O"},
        {
            "concentration(H2SO4)": "0.1000 mol/L",
            "volume(H2SO4,solution)": "20.00 mL",
            "concentration(NaOH)": "0.1000 mol/L",
            "volume(NaOH,solution)": "50.00 mL",
        },
        {"concentration(NaOH,mixed)": "mol/L"},
        (
            "amount(NaOH) by concentration from volume(NaOH,solution), concentration(NaOH)",
            "amount(H2SO4) by concentration from volume(H2SO4,solution), concentration(H2SO4)",
            "extent(H2SO4) by extent from amount(H2SO4)",
            "extent(NaOH) by extent from amount(NaOH)",
            "extent() by limiting from extent(H2SO4), extent(NaOH)",
            "amount(NaOH,left) by left-over from amount(NaOH), extent()",
            "volume(,mixed) by mixture from volume(H2SO4,solution), volume(NaOH,solution)",
            "concentration(NaOH,mixed) by mixed-concentration from amount(NaOH,left), volume(,mixed)",
        ),
        {"concentration(NaOH,mixed)": (5.000 - 2 * 2.000) / 70.00},
    ),
    Told(
        "a gas",
        {"equation": "Mg + 2 HCl -> MgCl2 + H2"},
        {"mass(Mg)": "0.0500 g", "pressure(H2)": "100.5 kPa", "temperature(H2)": "25.0 °C"},
        {"volume(H2,theoretical)": "mL"},
        (
            "molar_mass(Mg) by molar-mass from atomic_weight(Mg)",
            "amount(Mg) by amount from mass(Mg), molar_mass(Mg)",
            "extent() by equivalent-amounts from amount(Mg)",
            "amount(H2,theoretical) by equivalent-amounts from extent()",
            (
                "volume(H2,theoretical) by ideal-gas from "
                "gas_constant(), temperature(H2), amount(H2,theoretical), pressure(H2)"
            ),
        ),
        {"volume(H2,theoretical)": 0.0500 / 24.305 * 8.31446261815324 * 298.15 / 100.5 * 1000},
    ),
    Told(
        "a gas, backwards",
        {"equation": "Mg + 2 HCl -> MgCl2 + H2"},
        {"volume(H2,theoretical)": "50.0 mL", "pressure(H2)": "100.5 kPa", "temperature(H2)": "25.0 °C"},
        {"mass(Mg)": "mg"},
        (
            "molar_mass(Mg) by molar-mass from atomic_weight(Mg)",
            (
                "amount(H2,theoretical) by ideal-gas from "
                "volume(H2,theoretical), pressure(H2), gas_constant(), temperature(H2)"
            ),
            "extent() by equivalent-amounts from amount(H2,theoretical)",
            "amount(Mg) by equivalent-amounts from extent()",
            "mass(Mg) by amount from molar_mass(Mg), amount(Mg)",
        ),
        {"mass(Mg)": 100.5 * 50.0 / (8.31446261815324 * 298.15) * 24.305},
    ),
    Told(
        "what is used up",
        {"equation": "N2 + 3 H2 -> 2 NH3", "product": "NH3"},
        {"amount(N2)": "1.00 mol", "amount(H2)": "2.50 mol"},
        {"amount(N2,consumed)": "mol"},
        (
            "extent(N2) by extent from amount(N2)",
            "extent(H2) by extent from amount(H2)",
            "extent() by limiting from extent(N2), extent(H2)",
            "amount(N2,consumed) by used-up from extent()",
        ),
        {"amount(N2,consumed)": 2.50 / 3},
    ),
)


def told(plan: Plan) -> tuple[str, ...]:
    return tuple(
        f"{step.quantity.id} by {step.law} from {', '.join(dict.fromkeys(names_in(step.expression)))}"
        for step in plan.steps
    )


@pytest.fixture(scope="module", params=TOLD, ids=lambda one: one.name)
def case(request: pytest.FixtureRequest, problems: Any) -> tuple[Told, Plan]:
    one: Told = request.param
    return one, problems.plan(one.given, one.asked, **one.about)


def test_the_steps_from_the_given_to_the_asked(case: tuple[Told, Plan]) -> None:
    one, plan = case
    assert told(plan) == one.steps


def test_the_answers_are_those_worked_by_hand(case: tuple[Told, Plan], problems: Any) -> None:
    one, plan = case
    answers = {name: float(value) for name, value in problems.answers(plan, one.given).items()}
    assert answers == pytest.approx(one.answers, rel=1e-12)


def test_all_that_is_given_is_used(case: tuple[Told, Plan]) -> None:
    one, plan = case
    assert {quantity.id for quantity in plan.given} == set(one.given)


def test_there_is_no_step_that_nobody_needs(case: tuple[Told, Plan]) -> None:
    _, plan = case
    needed = {step for asked in plan.asked for step in plan.steps_to(asked.quantity.id)}
    assert needed == set(plan.steps)


def test_every_step_follows_from_what_stands_before_it(case: tuple[Told, Plan]) -> None:
    _, plan = case
    known = {quantity.id for quantity in plan.given} | {constant.quantity.id for constant in plan.constants}
    for step in plan.steps:
        assert known.issuperset(names_in(step.expression))
        known.add(step.quantity.id)


def test_every_step_has_words(case: tuple[Told, Plan]) -> None:
    _, plan = case
    assert [step for step in plan.steps if step.solved_for not in LAWS_BY_ID[step.law].words] == []


def test_what_is_only_carried_over_is_not_rounded(case: tuple[Told, Plan]) -> None:
    _, plan = case
    carried = {step.quantity.id for step in plan.steps if isinstance(step.expression, str)}
    assert carried <= {step.quantity.id for step in plan.steps if step.rounding == "none"}
