"""What must not change an answer, and what must change it in proportion."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.chemistry.equation import read_equation
from problemgen.model.plan import Plan

F = Fraction

REACTIONS = {
    "N2 + 3 H2 -> 2 NH3": "NH3",
    "2 Al + 6 HCl -> 2 AlCl3 + 3 H2": "H2",
    "2 KMnO4 + 10 FeSO4 + 8 H2SO4 -> K2SO4 + 2 MnSO4 + 5 Fe2(SO4)3 + 8 H2O": "MnSO4",
    "C7H6O3 + C4H6O3 -> C9H8O4 + C2H4O2": "C9H8O4",
    "2 AgNO3 + K2CrO4 -> Ag2CrO4 + 2 KNO3": "Ag2CrO4",
}
masses = st.integers(1, 9999).map(lambda n: F(n, 100))
taken = st.lists(masses, min_size=3, max_size=3)
reactions = pytest.mark.parametrize("equation", REACTIONS)


class Reaction:
    """A reaction with all reagents weighed, and everything asked: what forms, from each reagent, and what is left."""

    def __init__(self, problems: Any, equation: str, product: str) -> None:
        """Chain the plan."""
        self.problems = problems
        species = problems.scene((), equation).species.values()
        self.reagents = [one.id for one in species if one.coefficient < 0]
        self.products = [one.id for one in species if one.coefficient > 0]
        self.product = product
        self.plan: Plan = problems.plan(
            [f"mass({name})" for name in self.reagents], self.asked(), equation, product=product
        )

    def asked(self) -> dict[str, str]:
        asked = {f"mass({name},theoretical)": "g" for name in self.products}
        asked |= {f"mass({name},left)": "g" for name in self.reagents}
        asked |= {f"mass({name},consumed)": "g" for name in self.reagents}
        return asked | {f"mass({self.product},from:{name})": "g" for name in self.reagents}

    def answers(self, masses: dict[str, Fraction]) -> dict[str, Fraction]:
        texts = {f"mass({name})": f"{float(mass)} g" for name, mass in masses.items()}
        answers: dict[str, Fraction] = self.problems.answers(self.plan, texts)
        return answers


@cache
def reaction_of(problems: Any, equation: str, product: str) -> Reaction:
    return Reaction(problems, equation, product)


def prepared(problems: Any, equation: str) -> Reaction:
    return reaction_of(problems, equation, REACTIONS[equation])


@reactions
@given(grams=taken)
def test_mass_is_conserved(problems: Any, equation: str, grams: list[Fraction]) -> None:
    """The formula of a balanced equation holds as much on the right as on the left, whatever the atomic weights."""
    reaction = prepared(problems, equation)
    given_masses = dict(zip(reaction.reagents, grams, strict=False))
    answers = reaction.answers(given_masses)
    formed = sum(answers[f"mass({name},theoretical)"] for name in reaction.products)
    left = sum(answers[f"mass({name},left)"] for name in reaction.reagents)
    used = sum(answers[f"mass({name},consumed)"] for name in reaction.reagents)
    assert formed + left == sum(given_masses.values())
    assert formed == used


@reactions
@given(grams=taken)
def test_one_reagent_is_used_up_and_none_runs_short(problems: Any, equation: str, grams: list[Fraction]) -> None:
    reaction = prepared(problems, equation)
    answers = reaction.answers(dict(zip(reaction.reagents, grams, strict=False)))
    left = [answers[f"mass({name},left)"] for name in reaction.reagents]
    assert min(left) == 0


@reactions
@given(grams=taken)
def test_what_forms_is_the_least_that_any_reagent_allows(problems: Any, equation: str, grams: list[Fraction]) -> None:
    reaction = prepared(problems, equation)
    answers = reaction.answers(dict(zip(reaction.reagents, grams, strict=False)))
    allowed = [answers[f"mass({reaction.product},from:{name})"] for name in reaction.reagents]
    assert answers[f"mass({reaction.product},theoretical)"] == min(allowed)


@reactions
@given(grams=taken, times=st.integers(2, 9))
def test_a_batch_so_many_times_as_large_gives_so_many_times_as_much(
    problems: Any, equation: str, grams: list[Fraction], times: int
) -> None:
    reaction = prepared(problems, equation)
    once = reaction.answers(dict(zip(reaction.reagents, grams, strict=False)))
    scaled = reaction.answers({n: times * g for n, g in zip(reaction.reagents, grams, strict=False)})
    assert scaled == {name: times * value for name, value in once.items()}


@reactions
@given(grams=taken, order=st.randoms(use_true_random=False))
def test_the_order_of_an_equation_changes_nothing(
    problems: Any, equation: str, grams: list[Fraction], order: Any
) -> None:
    sides = [side.split(" + ") for side in equation.split(" -> ")]
    for side in sides:
        order.shuffle(side)
    shuffled = reaction_of(problems, " -> ".join(" + ".join(side) for side in sides), REACTIONS[equation])
    usual = prepared(problems, equation)
    given_masses = dict(zip(usual.reagents, grams, strict=False))
    assert shuffled.answers(given_masses) == usual.answers(given_masses)


@reactions
@given(grams=taken, times=st.integers(2, 9))
def test_coefficients_multiplied_by_a_number_change_nothing(
    problems: Any, equation: str, grams: list[Fraction], times: int
) -> None:
    usual = prepared(problems, equation)
    read = read_equation(equation)
    left, right = (
        " + ".join(f"{times * term.coefficient} {term.formula.text}" for term in side)
        for side in (read.left, read.right)
    )
    multiplied = reaction_of(problems, f"{left} -> {right}", REACTIONS[equation])
    given_masses = dict(zip(usual.reagents, grams, strict=False))
    assert multiplied.answers(given_masses) == usual.answers(given_masses)


@given(percent=st.integers(1, 100), grams=masses)
def test_a_percent_yield_there_and_back(problems: Any, percent: int, grams: Fraction) -> None:
    """What is to be taken for a mass at an expected yield gives that mass at that yield."""
    equation = {"equation": "N2 + 3 H2 -> 2 NH3", "product": "NH3"}
    back = problems.plan(["mass(NH3,actual)", "percent_yield(NH3)"], {"mass(H2)": "g"}, **equation)
    values = problems.exact(back, {"mass(NH3,actual)": f"{float(grams)} g", "percent_yield(NH3)": f"{percent} %"})
    theoretical = values["mass(NH3,theoretical)"]
    assert theoretical * percent / 100 == grams
    molar = 3 * F("1.0080") + F("14.007")
    assert values["mass(H2)"] == theoretical / molar / 2 * 3 * 2 * F("1.0080")


@given(first=masses, second=masses)
def test_a_dilution_there_and_back(problems: Any, first: Fraction, second: Fraction) -> None:
    there = problems.plan(
        ["concentration(HCl,initial)", "volume(HCl,initial)", "volume(HCl,final)"],
        {"concentration(HCl,final)": "mol/L"},
        others=["HCl"],
    )
    given_values = {
        "concentration(HCl,initial)": "6.00 mol/L",
        "volume(HCl,initial)": f"{float(first)} mL",
        "volume(HCl,final)": f"{float(second)} mL",
    }
    values = problems.exact(there, given_values)
    assert values["concentration(HCl,final)"] * second == 6 * first
