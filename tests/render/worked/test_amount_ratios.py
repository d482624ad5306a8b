"""The limiting reagent by amount ratios, in a line of working a reagent and in words."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.chemistry.formula import read_formula
from problemgen.model.blocks import Calculation
from problemgen.model.plan import Plan, Step
from problemgen.model.problem import Asked, Scene, Species
from problemgen.model.problem_set import Method
from problemgen.model.quantity import Quantity, Role
from problemgen.render.printers.terminal import text_lines
from problemgen.render.worked.amount_ratios import compared_by_ratios, needs_of, ratio_blocks
from problemgen.render.worked.lines import Lines
from problemgen.render.worked.printed import Numbers, Printed
from problemgen.render.worked.routes import Route

REAGENTS = {"sodium": ("Na", 2), "chlorine": ("Cl2", 1), "water": ("H2O", 3)}
XI = Quantity("extent", "")


def extent(reagent: str) -> Quantity:
    return Quantity("extent", reagent)


def amount(reagent: str) -> Quantity:
    return Quantity("amount", reagent)


def route(amounts: dict[str, str], method: Method = "ratios") -> Route:
    """A comparison of reagents by their amounts in mmol."""
    species = {name: Species(name, name, read_formula(REAGENTS[name][0]), -REAGENTS[name][1]) for name in amounts}
    steps = [
        Step(extent(name), "extent", "xi", ("div", amount(name).id, ("num", str(REAGENTS[name][1]))), "figures")
        for name in amounts
    ]
    steps.append(Step(XI, "limiting", "xi", ("min", *(extent(name).id for name in amounts)), "none"))
    values = {amount(name).id: Fraction(text) / 1000 for name, text in amounts.items()}
    values |= {extent(name).id: values[amount(name).id] / REAGENTS[name][1] for name in amounts}
    values[XI.id] = min(values[extent(name).id] for name in amounts)
    data = {amount(name).id: (text, "mmol") for name, text in amounts.items()}
    numbers = Numbers(values, data, dict.fromkeys(values, 3), {})
    given = tuple(amount(name) for name in amounts)
    plan = Plan(given, (), tuple(steps), (Asked(XI, "mol", form="species"),), tuple(amounts))
    return Route(Printed(Scene(species, frozenset(given), {}), plan, numbers), method)


def told(way: Route) -> list[str]:
    return list(text_lines(ratio_blocks(Lines(way.printed), way, way.printed.plan.steps[-1], set())))


@pytest.mark.parametrize(
    ("amounts", "words"),
    [
        (
            {"sodium": "50.0", "chlorine": "30.0"},
            (
                "For all of the sodium, 25.00 mmol of chlorine is needed, 30.0 mmol is there: enough. "
                "Sodium is the limiting reagent."
            ),
        ),
        (
            {"sodium": "80.0", "chlorine": "30.0"},
            (
                "For all of the sodium, 40.00 mmol of chlorine is needed, 30.0 mmol is there: too little. "
                "Chlorine is the limiting reagent."
            ),
        ),
        (
            {"sodium": "20.0", "chlorine": "30.0", "water": "40.0"},
            (
                "For all of the sodium, 10.00 mmol of chlorine is needed, 30.0 mmol is there; 30.00 mmol of water is "
                "needed, 40.0 mmol is there: enough of each. Sodium is the limiting reagent."
            ),
        ),
        (
            {"sodium": "20.0", "chlorine": "30.0", "water": "15.0"},
            (
                "For all of the sodium, 10.00 mmol of chlorine is needed, 30.0 mmol is there; 30.00 mmol of water is "
                "needed, 15.0 mmol is there: too little water. Water is the limiting reagent."
            ),
        ),
        (
            {"sodium": "20.0", "chlorine": "8.00", "water": "15.0"},
            (
                "For all of the sodium, 10.00 mmol of chlorine is needed, 8.00 mmol is there; 30.00 mmol of water is "
                "needed, 15.0 mmol is there: of what is needed there is only 0.5000 of the water and 0.8000 of the "
                "chlorine, and the smallest share counts. Water is the limiting reagent."
            ),
        ),
    ],
)
def test_what_is_needed_against_what_is_there(amounts: dict[str, str], words: str) -> None:
    *lines, last = told(route(amounts))
    assert last == words
    assert len(lines) == len(amounts) - 1


def test_the_line_of_working_has_the_ratio_of_coefficients() -> None:
    line, _ = told(route({"sodium": "50.0", "chlorine": "30.0"}))
    assert line.strip() == (
        "n_needed(Cl₂) = (n(Na) × ν(Cl₂))/ν(Na) = 50.0 mmol Na × (1 mmol Cl₂ / 2 mmol Na) = 25.00 mmol"
    )


def test_what_was_shown_is_not_worked_again() -> None:
    way = route({"sodium": "50.0", "chlorine": "30.0"})
    shown = {Quantity("amount", "chlorine", Role.NEEDED).id}
    blocks = ratio_blocks(Lines(way.printed), way, way.printed.plan.steps[-1], shown)
    assert not any(isinstance(block, Calculation) for block in blocks)


def test_it_is_told_so_where_it_is_taught_so() -> None:
    amounts = {"sodium": "50.0", "chlorine": "30.0"}
    for method, by_ratios in (("ratios", True), ("product", False), ("extent", False)):
        way = route(amounts, method)
        assert compared_by_ratios(way, way.printed.plan.steps[-1], set()) is by_ratios


def test_products_that_were_asked_for_are_compared_themselves() -> None:
    way = route({"sodium": "50.0", "chlorine": "30.0"})
    salt = Species("salt", "salt", read_formula("NaCl"), 2)
    scene = Scene({**way.printed.scene.species, "salt": salt}, way.printed.scene.given, {})
    salted = Route(Printed(scene, way.printed.plan, way.printed.numbers), "ratios")
    shown = {Quantity("amount", "salt", Role.FROM, source=name).id for name in ("sodium", "chlorine")}
    step = way.printed.plan.steps[-1]
    assert compared_by_ratios(salted, step, set())
    assert not compared_by_ratios(salted, step, shown)


def test_one_reagent_needs_no_comparison() -> None:
    way = route({"sodium": "50.0"})
    assert needs_of(way, way.printed.plan.steps[-1]) == ()
