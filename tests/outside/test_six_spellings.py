"""Answers printed in an open textbook, each typed in six ways, get full points.

Rows: facts and figures only, no sentence; each row of worked_examples.json names section and exercise.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from problemgen.grade.choices import ChoiceOption
from problemgen.load.banks import load_weights
from problemgen.load.fixed_problems import load_fixed_problems
from problemgen.model.fixed import FixedProblem
from problemgen.plan.constants import constants
from problemgen.plan.solve import SolvedQuestion, solve
from tests.support.typed_answers import refused, typed_in_six_ways

HERE = Path(__file__).parent
Case = tuple[str, SolvedQuestion, list[ChoiceOption]]


def substances(problem: FixedProblem) -> list[ChoiceOption]:
    """What may be chosen: the problem's substances, by name and formula."""
    species = problem.scene.species.values() if problem.scene else ()
    return [ChoiceOption(one.id, (one.name,), one.formula.text if one.formula else "") for one in species]


def cases(path: Path) -> Iterator[Case]:
    """Every answer that is printed and that ours accepts as printed."""
    weights, _ = load_weights(HERE.parents[1] / "banks")
    for problem in load_fixed_problems(path, weights):
        for answer in solve(problem, constants()).answers:
            if answer.accepted:
                yield problem.id, answer, substances(problem)


CASES = list(cases(HERE / "worked_examples.json"))


def test_there_is_an_answer_for_every_row() -> None:
    assert len({name for name, _, _ in CASES}) >= 70


@pytest.mark.source("openstax-chemistry-2e-2019 1-18: printed answers")
@pytest.mark.parametrize("case", CASES, ids=[f"{at}-{case[0]}" for at, case in enumerate(CASES)])
def test_six_spellings_of_a_printed_answer_get_full_points(case: Case) -> None:
    _, solved, options = case
    typed = typed_in_six_ways(solved)
    assert len({one.cell for one in typed}) == len(typed) == 6
    assert {one.cell: refused(solved, one, options) for one in typed} == {one.cell: "" for one in typed}
