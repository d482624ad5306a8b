"""The vectors in tests/vectors: answers with the results that the grader and the practice page both have to give.

python tests/support/vectors.py        writes them anew, from the grader as it is: read the difference before keeping it

cells.json is written by hand: what single cells say. Those that answer in mmol are judged too.
"""

from __future__ import annotations

import json
import random
from pathlib import Path
from typing import Any

from problemgen.grade.judging.judge import judge_student
from problemgen.load.answers.answers import Answers
from problemgen.load.banks.banks import load_banks
from problemgen.load.resources import banks_folder, templates_folder
from problemgen.load.sets.courses import template_ids
from problemgen.load.templates.template import load_template
from problemgen.make.candidates import Stream
from problemgen.make.variants import Maker
from problemgen.model.policy import Policy
from problemgen.model.problem_set import ProblemSet, SetProblem, Student
from problemgen.model.verdict import PartResult, StudentResult
from problemgen.render.key.answers import AnswerLines
from tests.support.answered_at_random import answered_at_random

__all__ = ["ANSWERS", "JUDGED", "read_cells", "results_of", "write_answers"]

FOLDER = Path(__file__).parents[1] / "vectors"
ANSWERS, JUDGED, CELLS = FOLDER / "answers.json", FOLDER / "judged.json", FOLDER / "cells.json"

TEMPLATES = (
    *("limiting-reagent/silver-chromate", "titrations/borax", "formulas/percent", "equations/propane-burns"),
    *("yield/zinc-iodide", "gases/weighing-a-gas"),
)
_POLICY = Policy(missing_unit="remark")
_STUDENTS, _TURNS = 4, 18
_READ_IN, _READ_AT = "mmol", "1a"
# In the place of the numbers in the cells the answer itself, so that a unit misread changes the verdict.
_KEY_FOR = {"0.03398": "0.002760", "0.0395": "0.002760", "39500": "2760", "33.98": "2.760", "39.5": "2.760"}


def read_cells() -> list[tuple[str, str, str | None]]:
    """Cells: the unit asked for, what was typed, and number and unit that a chemist takes it for, or None."""
    return [(asked, cell, said) for asked, cell, said in json.loads(CELLS.read_text(encoding="utf-8"))]


def write_answers(path: Path, names: tuple[str, ...], students: int) -> None:
    """An answers.json with one problem a template."""
    banks = load_banks(banks_folder())
    paths = {**template_ids(templates_folder()), **template_ids(Path(__file__).parent / "templates")}
    templates = [load_template(paths[name], name, banks) for name in names]
    problems = tuple(
        SetProblem(f"p{index}", template.id, (template,)) for index, template in enumerate(templates, start=1)
    )
    problem_set = ProblemSet("vectors", "Vectors", "Tests", "", "en", "a4", ".", (), problems, _POLICY, "vectors")
    ids = [f"s{number}" for number in range(1, students + 1)]
    made = [
        list(Maker(problem.templates[0], Stream(b"vectors", "vectors", problem.id)).variants(ids))
        for problem in problems
    ]
    lines = AnswerLines()
    with path.open("wb") as file:
        file.write(lines.opening(problem_set, {}))
        for index, student in enumerate(ids):
            file.write(lines.student(Student(student, student, ""), "", [variants[index] for variants in made]))
        file.write(lines.closing())


def results_of(result: StudentResult) -> dict[str, list[Any]]:
    """The grader's results by column: verdict, reason, mistakes, what was read, how many remarks."""
    return {part.label: _result(part) for part in result.parts}


def _result(part: PartResult) -> list[Any]:
    return [part.verdict, part.reason, list(part.mistakes), part.read, len(part.remarks)]


def _with_key(cell: str) -> str:
    for number, key in _KEY_FOR.items():
        cell = cell.replace(number, key)
    return cell


def main() -> None:
    """Write the vectors."""
    FOLDER.mkdir(exist_ok=True)
    write_answers(ANSWERS, TEMPLATES, _STUDENTS)
    draw = random.Random("vectors 10")  # noqa: S311 - vectors keep no secret
    judged = []
    with Answers(ANSWERS) as answers:
        for student in [*answers.students] * _TURNS:
            key = answers.student(student)
            cells = answered_at_random(answers.head, key, draw)
            results = results_of(judge_student(answers.head, key, cells))
            judged.append({"student": student, "cells": cells, "results": results})
        student = next(iter(answers.students))
        for cells in ({_READ_AT: _with_key(cell)} for asked, cell, _ in read_cells() if asked == _READ_IN):
            results = results_of(judge_student(answers.head, answers.student(student), cells))
            judged.append({"student": student, "cells": cells, "results": results})
    lines = ",\n".join(json.dumps(one, ensure_ascii=False) for one in judged)
    JUDGED.write_text(f"[\n{lines}\n]\n", encoding="utf-8")


if __name__ == "__main__":
    main()
