"""Answers printed in an open textbook, each typed in six ways, get full points.

Rows: facts and figures only, no sentence; each row of worked_examples.json names section and exercise.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import pytest

from problemgen.grade.reading.choices import ChoiceOption
from problemgen.model.fixed import FixedProblem
from problemgen.pipeline.solve import solve_problems
from problemgen.plan.solve import SolvedQuestion
from tests.outside.as_problems import problem_of
from tests.support.typed_answers import refused, typed_in_six_ways

ROWS = json.loads((Path(__file__).parent / "worked_examples.json").read_text(encoding="utf-8"))
Case = tuple[str, SolvedQuestion, list[ChoiceOption]]


def substances(problem: FixedProblem) -> list[ChoiceOption]:
    """What may be chosen: the problem's substances, by name and formula."""
    species = problem.scene.species.values() if problem.scene else ()
    return [ChoiceOption(one.id, (one.name,), one.formula.text if one.formula else "") for one in species]


def cases(rows: Sequence[dict[str, Any]]) -> Iterator[Case]:
    """Every answer that is printed and that ours accepts as printed."""
    for solution in solve_problems([problem_of(row) for row in rows]):
        for answer in solution.answers:
            if answer.accepted:
                yield solution.problem.id, answer, substances(solution.problem)


CASES = list(cases(ROWS))


def test_there_is_an_answer_for_every_row() -> None:
    assert len({name for name, _, _ in CASES}) >= 70


@pytest.mark.source("openstax-chemistry-2e-2019 1-18: printed answers")
@pytest.mark.parametrize("case", CASES, ids=[f"{at}-{case[0]}" for at, case in enumerate(CASES)])
def test_six_spellings_of_a_printed_answer_get_full_points(case: Case) -> None:
    _, solved, options = case
    typed = typed_in_six_ways(solved)
    assert len({one.cell for one in typed}) == len(typed) == 6
    assert {one.cell: refused(solved, one, options) for one in typed} == {one.cell: "" for one in typed}
