"""Judging one student's answers against the keys alone.

Each answer is tried in this order: inside the window; inside after a slip of unit, sign or power of ten, or consistent
with an earlier answer that was wrong (follow-through: that error was already paid for), whichever earns more; what a
usual mistake leads to, or two together; the right way with results rounded too early; otherwise wrong. A mistake is
named only where it agrees with what the student answered before: a part that came out right shows that its steps were
right.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import partial
from typing import Any, TypeAlias

from problemgen.grade.judging.apart import apart, unjudged
from problemgen.grade.judging.choice_verdicts import judge_choice, judge_option
from problemgen.grade.judging.decimal_marks import divided_by_commas
from problemgen.grade.judging.explaining import explained
from problemgen.grade.judging.formula_verdicts import judge_equation, judge_formula
from problemgen.grade.judging.number_verdicts import judge_number
from problemgen.grade.judging.own_data import unmarked, with_own_data
from problemgen.grade.judging.own_remarks import with_notes
from problemgen.grade.judging.paper import Paper
from problemgen.language.messages import speaking
from problemgen.model.answers import KeyHead, PartKey, ProblemKey, StudentKey
from problemgen.model.explanation import Explanation
from problemgen.model.problem import Asked
from problemgen.model.verdict import PartResult, StudentResult
from problemgen.plan.forms import form_of
from problemgen.plan.forms.equation import EQUATION
from problemgen.plan.forms.form import Form
from problemgen.plan.forms.formula import FORMULA
from problemgen.plan.forms.number import NUMBER
from problemgen.plan.forms.species import SPECIES
from problemgen.plan.partial import as_far_as_known

__all__ = ["JUDGES", "Judge", "explain_student", "judge_of", "judge_student"]

Judge: TypeAlias = Callable[[Paper, PartKey, Any, str], PartResult]
"""Reads and judges what was written in answer to a part, by the truth that its form has."""

JUDGES: Mapping[Form[Any], Judge] = {
    NUMBER: judge_number,
    SPECIES: judge_choice,
    FORMULA: judge_formula,
    EQUATION: judge_equation,
}
"""Who reads and judges a part, by its form; any other form's answer is one of its options, and judged as such."""


def judge_of(asked: Asked) -> Judge:
    """Who judges the answer to what is asked."""
    return JUDGES.get(form_of(asked), judge_option)


def judge_student(head: KeyHead, key: StudentKey, cells: Mapping[str, str]) -> StudentResult:
    """Mark all parts of a student; `cells` holds what they wrote, by column ("1a", "1b", …).

    Where values are the student's own, the key is worked out from what `cells` hold of them. No answer raises an error:
    where judging fails, the part is "unjudged", and so is a problem whose data the program fails to work. What is said
    is in the language of the student's sheets.
    """
    head = head.in_language(key.language)
    parts: list[PartResult] = []
    with speaking(head.language):
        commas = divided_by_commas(head, key, cells)
        for problem in with_own_data(head, key, cells).problems:
            judged = partial(_judged, head, problem, cells, commas=commas)
            parts += apart(judged, partial(_none_judged, head, problem, cells))
    return StudentResult(key.student, key.name, key.section, key.code, tuple(parts), attempt=key.attempt)


def explain_student(head: KeyHead, key: StudentKey, cells: Mapping[str, str]) -> tuple[Explanation, ...]:
    """Mark all parts of a student as `judge_student` does, and tell of each why it was marked so."""
    head = head.in_language(key.language)
    with speaking(head.language):
        commas = divided_by_commas(head, key, cells)
        problems = with_own_data(head, key, cells).problems
        return tuple(one for problem in problems for one in _explained_problem(head, problem, cells, commas=commas))


def _explained_problem(
    head: KeyHead, problem: ProblemKey, cells: Mapping[str, str], *, commas: bool
) -> Iterator[Explanation]:
    paper = _paper(head, problem, commas=commas)
    judged = tuple(_explained(paper, cells))
    noted = with_notes(paper, tuple(one.result for one in judged))
    return (replace(one, result=result) for one, result in zip(judged, noted, strict=True))


def _paper(head: KeyHead, problem: ProblemKey, *, commas: bool) -> Paper:
    template = as_far_as_known(head.templates[problem.template], problem)
    paper = Paper(template, problem, head.policy, head.decimal_mark, commas)
    paper.policies = {part.asked.quantity.id: head.policy_of(paper.label(part)) for part in template.parts}
    return paper


def _judged(head: KeyHead, problem: ProblemKey, cells: Mapping[str, str], *, commas: bool) -> tuple[PartResult, ...]:
    if problem.problem in head.own and not problem.own:
        return _none_judged(head, problem, cells)
    paper = _paper(head, problem, commas=commas)
    return with_notes(paper, tuple(_result(paper, part, cells) for part in paper.template.parts))


def _none_judged(head: KeyHead, problem: ProblemKey, cells: Mapping[str, str]) -> tuple[PartResult, ...]:
    parts = head.templates[problem.template].parts
    return tuple(unjudged(problem, part, cells.get(problem.label(part), "")) for part in parts)


def _explained(paper: Paper, cells: Mapping[str, str]) -> Iterator[Explanation]:
    for part in paper.template.parts:
        yield apart(partial(_explanation, paper, part, cells), partial(_no_explanation, paper, part, cells))


def _explanation(paper: Paper, part: PartKey, cells: Mapping[str, str]) -> Explanation:
    carried, answered, paper.trials = paper.carried_to(part), len(paper.numbers), []
    result = _result(paper, part, cells)
    return explained(paper, part, carried, answered, result)


def _no_explanation(paper: Paper, part: PartKey, cells: Mapping[str, str]) -> Explanation:
    result = unjudged(paper.problem, part, cells.get(paper.label(part), ""))
    truth = paper.problem.truths.get(part.id)
    return Explanation(part, truth, result, None, 0, way=(), carried=(), trials=())


def _result(paper: Paper, part: PartKey, cells: Mapping[str, str]) -> PartResult:
    wrote = cells.get(paper.label(part), "")
    return apart(partial(_result_of, paper, part, wrote), partial(unjudged, paper.problem, part, wrote))


def _result_of(paper: Paper, part: PartKey, wrote: str) -> PartResult:
    truth = paper.problem.truths.get(part.id)
    if truth is None:
        return unmarked(paper.problem, part, wrote)
    return judge_of(part.asked)(paper, part, truth, wrote)
