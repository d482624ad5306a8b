"""Whether a paper shows that its numbers are divided by a comma."""

from __future__ import annotations

from collections.abc import Mapping

from problemgen.grade.reading.habits import writes_commas
from problemgen.model.answers import KeyHead, StudentKey
from problemgen.plan.forms import form_of
from problemgen.plan.forms.number import NUMBER

__all__ = ["divided_by_commas"]


def divided_by_commas(head: KeyHead, key: StudentKey, cells: Mapping[str, str]) -> bool:
    """Whether a student's numbers plainly have decimal commas, and nowhere a point: answers and values of their own.

    `cells` hold what they wrote, by column. Names of substances, which have commas too, are not looked at.
    """
    answers = (
        problem.label(part)
        for problem in key.problems
        for part in head.templates[problem.template].parts
        if form_of(part.asked) is NUMBER
    )
    own = (one.column for problem in key.problems for one in head.own.get(problem.problem, ()))
    return writes_commas(cells.get(column, "") for column in (*answers, *own))
