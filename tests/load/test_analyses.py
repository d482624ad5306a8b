"""Fixed problems that ask for a formula: our own, worked by hand."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from problemgen.load.banks import load_weights
from problemgen.load.fixed_problems import load_fixed_problems
from problemgen.model.fixed import FixedProblem
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.constants import constants
from problemgen.plan.solve import solve

WEIGHTS = load_weights(Path(__file__).parents[2] / "banks")[0]

Load = Callable[..., FixedProblem]


def entry(quantity: str, formula: str = "", value: str = "", unit: str = "", **more: Any) -> dict[str, Any]:
    base = {"of": None, "formula": formula or None, "quantity": quantity, "unit": unit or None}
    return {**base, **({"value": value} if value else {}), **more}


@pytest.fixture
def load(tmp_path: Path) -> Load:
    def one(given: list[dict[str, Any]], asked: list[dict[str, Any]]) -> FixedProblem:
        path = tmp_path / "p.json"
        document = {"id": "p", "kind": "k", "equation": None, "given": given, "asked": asked}
        path.write_text(json.dumps([document]), encoding="utf-8")
        return load_fixed_problems(path, WEIGHTS)[0]

    return one


def texts(problem: FixedProblem) -> list[tuple[str | None, bool | None]]:
    assert problem.error is None, problem.error
    return [(answer.text, answer.accepted) for answer in solve(problem, constants()).answers]


def empirical(answer: str, formula: str | None = None) -> dict[str, Any]:
    return entry("empirical_formula", formula or answer, answer=answer)


def molecular(answer: str) -> dict[str, Any]:
    return entry("molecular_formula", answer, answer=answer)


@pytest.mark.parametrize(
    ("given", "asked"),
    [
        # an oxide weighed before and after reduction
        ([entry("mass", "Cu", "3.995", "g"), entry("mass", "O", "1.005", "g")], [empirical("CuO")]),
        # percentages, the whole of them
        (
            [
                entry("mass_fraction", "K", "26.58", "%"),
                entry("mass_fraction", "Cr", "35.35", "%"),
                entry("mass_fraction", "O", "38.07", "%"),
            ],
            [empirical("K2Cr2O7")],
        ),
        # oxygen by difference, and the molecule
        (
            [
                entry("mass_fraction", "C", "40.00", "%"),
                entry("mass_fraction", "H", "6.71", "%"),
                entry("molar_mass", "", "90.1", "g/mol"),
            ],
            [empirical("CH2O"), molecular("C3H6O3")],
        ),
        # a hydrocarbon, burnt: 0.2500 g of it gave 0.7847 g and 0.3213 g
        (
            [entry("mass", "CO2", "0.7847", "g"), entry("mass", "H2O", "0.3213", "g")],
            [empirical("CH2")],
        ),
        # a compound with oxygen, burnt
        (
            [
                entry("mass", "", "0.2000", "g", role="sample"),
                entry("mass", "CO2", "0.3820", "g"),
                entry("mass", "H2O", "0.2346", "g"),
            ],
            [empirical("C2H6O")],
        ),
        # counted atoms
        ([entry("molecular_formula", "C6H12O6", "C6H12O6")], [empirical("CH2O")]),
        ([entry("molecular_formula", "P4O10", "P4O10")], [empirical("P2O5")]),
    ],
)
def test_a_formula_is_solved(load: Load, given: list[dict[str, Any]], asked: list[dict[str, Any]]) -> None:
    assert texts(load(given, asked)) == [(one["answer"], True) for one in asked]


def test_another_formula_is_not_accepted(load: Load) -> None:
    given = [entry("mass", "Cu", "3.995", "g"), entry("mass", "O", "1.005", "g")]
    assert texts(load(given, [empirical("Cu2O")])) == [("CuO", False)]


def test_the_elements_that_only_the_answer_names_are_the_rest(load: Load) -> None:
    given = [entry("mass_fraction", "C", "40.00", "%"), entry("mass_fraction", "H", "6.71", "%")]
    problem = load(given, [empirical("CH2O")])
    assert problem.scene is not None
    assert problem.scene.unknown == ("C", "H", "O")
    assert problem.scene.unknown_rest == "O"


def test_what_two_substances_bring_is_no_compounds_own(load: Load) -> None:
    """The oxygen of carbon dioxide and water is the air's too: it tells nothing of the compound."""
    given = [
        entry("mass", "", "0.2000", "g", role="sample"),
        entry("mass", "CO2", "0.3820", "g"),
        entry("mass", "H2O", "0.2346", "g"),
    ]
    problem = load(given, [empirical("C2H6O")])
    assert problem.scene is not None
    assert problem.scene.unknown_rest == "O"
    assert Quantity("mass", "", Role.SAMPLE) in problem.scene.given


@pytest.mark.parametrize(
    ("given", "asked", "error"),
    [
        (
            [entry("mass", "", "1.00", "g", role="sample")],
            [entry("empirical_formula", "")],
            "the elements of the compound are not told",
        ),
        (
            [entry("colour", "Cu", "3", "g"), entry("mass", "O", "1.0", "g")],
            [empirical("CuO")],
            "no law leads to the quantity 'colour'",
        ),
    ],
)
def test_a_problem_that_cannot_be_expressed_keeps_the_reason(
    load: Load, given: list[dict[str, Any]], asked: list[dict[str, Any]], error: str
) -> None:
    assert load(given, asked).error == error
