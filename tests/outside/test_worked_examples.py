"""Answers printed in an open textbook lie in our windows, and our windows are narrow.

Rows: facts and figures only, the words are our own; no sentence was taken, since the text of the book is licensed under
CC BY-NC-SA 4.0 (as its source repository states). Each row names section and exercise.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from problemgen.exact.digits import read_written
from problemgen.exact.rounding import round_to_figures
from problemgen.model.truths import NumberTruth
from problemgen.pipeline.solve import solve_problems
from problemgen.plan.solve import Solution
from tests.outside.as_problems import problem_of

HERE = Path(__file__).parent
FILE = HERE / "worked_examples.json"
ROWS: list[dict[str, Any]] = json.loads(FILE.read_text(encoding="utf-8"))
SOLUTIONS = {one.problem.id: one for one in solve_problems([problem_of(row) for row in ROWS])}
KINDS = {
    *("balance_equation", "molar_mass", "amount_from_mass", "mass_from_amount", "molarity", "dilution"),
    *("mass_percent", "density_conversion", "purity", "mole_ratio", "mass_mass", "limiting_reactant"),
    *("percent_yield", "solution_stoichiometry", "titration", "gas_stoichiometry", "gas_density_molar_mass"),
    *("percent_composition", "volume_percent", "count_of_particles", "gravimetric", "multi_step"),
}

LEAST_FIGURES = 3
WIDEST = Fraction(2, 100)
"""The widest half-width where the data have three figures or more, relative to the value."""


def numeric(solution: Solution) -> Iterator[tuple[NumberTruth, str]]:
    """The answers that are numbers, and what is printed."""
    for answer in solution.answers:
        if isinstance(answer.truth, NumberTruth):
            assert answer.question.answer is not None
            yield answer.truth, answer.question.answer


def figures_of_data(row: dict[str, Any]) -> int:
    """The fewest figures among the numbers given; whole numbers that end in zeros may have fewer than they show."""
    numbers = [entry for entry in row["given"] if entry["unit"] not in (None, "atoms", "molecules")]
    if any(entry.get("sig_figs_ambiguous") for entry in numbers):
        return 0
    return min((read_written(entry["value"]).figures for entry in numbers), default=LEAST_FIGURES)


FINE = [row["id"] for row in ROWS if figures_of_data(row) >= LEAST_FIGURES and any(numeric(SOLUTIONS[row["id"]]))]


def test_every_row_names_its_source_and_every_kind_is_there() -> None:
    assert all(re.fullmatch(r"openstax-chemistry-2e-2019 [0-9]+\.[0-9]+: \S.+", row["source"]) for row in ROWS)
    assert {row["kind"] for row in ROWS} == KINDS
    assert len({row["id"] for row in ROWS}) == len(ROWS) >= 45


@pytest.mark.source("openstax-chemistry-2e-2019 1-18: printed answers")
@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_the_printed_answer_is_accepted(row: dict[str, Any]) -> None:
    solution = SOLUTIONS[row["id"]]
    assert solution.error is None
    assert [answer.accepted for answer in solution.answers] == [True] * len(row["asked"])


def test_most_rows_have_data_of_three_figures() -> None:
    assert len(FINE) >= 25


@pytest.mark.source("openstax-chemistry-2e-2019 1-18: printed answers")
@pytest.mark.parametrize("name", FINE)
@pytest.mark.parametrize("factor", ["1.05", "0.95", "10", "0.1", "1000", "0.001", "-1", "0"])
def test_what_is_clearly_wrong_lies_outside(name: str, factor: str) -> None:
    for truth, printed in numeric(SOLUTIONS[name]):
        assert not truth.low <= truth.value * Fraction(factor) <= truth.high
        assert not truth.low <= read_written(printed).value * Fraction(factor) <= truth.high


@pytest.mark.source("openstax-chemistry-2e-2019 1-18: printed answers")
@pytest.mark.parametrize("name", FINE)
def test_a_window_is_narrow_and_holds_the_value_with_the_figures_printed(name: str) -> None:
    for truth, printed in numeric(SOLUTIONS[name]):
        assert 0 < truth.low <= truth.value <= truth.high
        assert (truth.high - truth.low) / 2 < WIDEST * truth.value
        figures = max(read_written(printed).figures, LEAST_FIGURES)
        assert truth.low <= round_to_figures(truth.value, figures) <= truth.high


@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        ("os2e-4.4-ex4.12", "N2"),
        ("os2e-4.4-ex4.12-check", "H2"),
    ],
)
def test_the_other_reagent_is_not_accepted(name: str, wrong: str) -> None:
    row = json.loads(json.dumps(next(row for row in ROWS if row["id"] == name)))
    row["asked"][0]["answer"] = wrong
    (solution,) = solve_problems(problem_of(row))
    assert [answer.accepted for answer in solution.answers] == [False]
