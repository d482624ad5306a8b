"""Answers printed in an open textbook lie in our windows, and our windows are narrow.

Rows: facts and figures of OpenStax, Chemistry 2e (each row names section and exercise), in our own words.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from problemgen.exact.digits import read_written
from problemgen.exact.rounding import round_to_figures
from problemgen.load.banks import load_weights
from problemgen.load.fixed_problems import load_fixed_problems
from problemgen.plan.constants import constants
from problemgen.plan.solve import Solution, SolvedQuestion, solve

HERE = Path(__file__).parent
FILE = HERE / "worked_examples.json"
ROWS: list[dict[str, Any]] = json.loads(FILE.read_text(encoding="utf-8"))
WEIGHTS = load_weights(HERE.parents[1] / "banks")[0]
SOLUTIONS = {problem.id: solve(problem, constants()) for problem in load_fixed_problems(FILE, WEIGHTS)}
KINDS = {
    *("balance_equation", "molar_mass", "amount_from_mass", "mass_from_amount", "molarity", "dilution"),
    *("mass_percent", "density_conversion", "purity", "mole_ratio", "mass_mass", "limiting_reactant"),
    *("percent_yield", "solution_stoichiometry", "titration", "gas_stoichiometry", "gas_density_molar_mass"),
    *("percent_composition", "volume_percent", "count_of_particles", "gravimetric", "multi_step"),
}

LEAST_FIGURES = 3
WIDEST = Fraction(2, 100)
"""The widest half-width where the data have three figures or more, relative to the value."""


def numeric(solution: Solution) -> Iterator[SolvedQuestion]:
    return (answer for answer in solution.answers if answer.value is not None)


def figures_of_data(row: dict[str, Any]) -> int:
    """The fewest figures among the numbers given; whole numbers that end in zeros may have fewer than they show."""
    numbers = [entry for entry in row["given"] if entry["unit"] not in (None, "atoms", "molecules")]
    if any(entry.get("sig_figs_ambiguous") for entry in numbers):
        return 0
    return min((read_written(entry["value"]).figures for entry in numbers), default=LEAST_FIGURES)


FINE = [row["id"] for row in ROWS if figures_of_data(row) >= LEAST_FIGURES and any(numeric(SOLUTIONS[row["id"]]))]


def bounds(answer: SolvedQuestion) -> tuple[Fraction, Fraction, Fraction]:
    assert answer.value is not None
    assert answer.low is not None
    assert answer.high is not None
    return Fraction(answer.low), Fraction(answer.value), Fraction(answer.high)


def test_every_row_names_its_source_and_every_kind_is_there() -> None:
    assert all(row["source"].startswith("OpenStax, Chemistry 2e, section ") for row in ROWS)
    assert {row["kind"] for row in ROWS} == KINDS
    assert len({row["id"] for row in ROWS}) == len(ROWS) >= 45


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_the_printed_answer_is_accepted(row: dict[str, Any]) -> None:
    solution = SOLUTIONS[row["id"]]
    assert solution.error is None
    assert [answer.accepted for answer in solution.answers] == [True] * len(row["asked"])


def test_most_rows_have_data_of_three_figures() -> None:
    assert len(FINE) >= 25


@pytest.mark.parametrize("name", FINE)
@pytest.mark.parametrize("factor", ["1.05", "0.95", "10", "0.1", "1000", "0.001", "-1", "0"])
def test_what_is_clearly_wrong_lies_outside(name: str, factor: str) -> None:
    for answer in numeric(SOLUTIONS[name]):
        low, value, high = bounds(answer)
        assert not low <= value * Fraction(factor) <= high
        assert answer.question.answer is not None
        assert not low <= read_written(answer.question.answer).value * Fraction(factor) <= high


@pytest.mark.parametrize("name", FINE)
def test_a_window_is_narrow_and_holds_the_value_with_the_figures_printed(name: str) -> None:
    for answer in numeric(SOLUTIONS[name]):
        low, value, high = bounds(answer)
        assert 0 < low <= value <= high
        assert (high - low) / 2 < WIDEST * value
        assert answer.question.answer is not None
        figures = max(read_written(answer.question.answer).figures, LEAST_FIGURES)
        assert low <= round_to_figures(value, figures) <= high


@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        ("os2e-4.4-ex4.12", "N2"),
        ("os2e-4.4-ex4.12-check", "H2"),
    ],
)
def test_the_other_reagent_is_not_accepted(name: str, wrong: str, tmp_path: Path) -> None:
    row = json.loads(json.dumps(next(row for row in ROWS if row["id"] == name)))
    row["asked"][0]["answer"] = wrong
    path = tmp_path / "one.json"
    path.write_text(json.dumps([row]), encoding="utf-8")
    (problem,) = load_fixed_problems(path, WEIGHTS)
    assert [answer.accepted for answer in solve(problem, constants()).answers] == [False]


def test_doubled_coefficients_are_the_same_equation_and_others_are_not(tmp_path: Path) -> None:
    given = {"of": None, "formula": None, "quantity": "unbalanced_equation", "value": "N2 + H2 -> NH3", "unit": None}
    asked = [
        {"of": None, "formula": None, "quantity": "balanced_equation", "answer": text, "unit": None}
        for text in ("N2 + 3 H2 -> 2 NH3", "3H2 + N2 = 2NH3", "2 N2 + 6 H2 -> 4 NH3", "N2 + 3 H2 -> 3 NH3", "H2 -> NH3")
    ]
    path = tmp_path / "one.json"
    problem = {"id": "a", "kind": "balance_equation", "equation": None, "given": [given], "asked": asked}
    path.write_text(json.dumps([problem]), encoding="utf-8")
    (loaded,) = load_fixed_problems(path, WEIGHTS)
    assert [answer.accepted for answer in solve(loaded, constants()).answers] == [True, True, True, False, False]
