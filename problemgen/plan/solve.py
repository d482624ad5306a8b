"""Solving a problem with fixed numbers: exact values, windows, and whether a published answer is accepted."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from problemgen.chemistry.equation import balance, read_equation, same_equation
from problemgen.chemistry.formula import Formula, read_formula
from problemgen.chemistry.units import read_unit
from problemgen.errors import NumberError, ProblemgenError, UnderivableError
from problemgen.exact.digits import read_written
from problemgen.exact.rounding import figures_text, outward_text
from problemgen.model.fixed import ATOMS, FixedProblem, Question, Ranking
from problemgen.model.problem import Asked, Constant, Scene
from problemgen.model.quantity import Quantity
from problemgen.model.variant import Answer
from problemgen.plan.arithmetic import Exact, Window
from problemgen.plan.chain import chain
from problemgen.plan.evaluate import window_values
from problemgen.plan.forms import form_of
from problemgen.plan.windows import given_window

__all__ = ["Solution", "SolvedQuestion", "solve"]

_FIGURES = 12
"""Figures of a value or bound in text: far beyond what any answer is given with."""


@dataclass(frozen=True)
class SolvedQuestion:
    """One answer. Numbers are decimal text in the unit asked for; an answer that is no number stands in `text`."""

    question: Question
    value: str | None = None
    low: str | None = None
    high: str | None = None
    text: str | None = None
    accepted: bool | None = None


@dataclass(frozen=True)
class Solution:
    """The answers of one problem; `error` tells why there are none."""

    problem: FixedProblem
    error: str | None
    answers: tuple[SolvedQuestion, ...]


def solve(problem: FixedProblem, constants: Iterable[Constant]) -> Solution:
    """Solve one problem. What cannot be derived is told in `error`; nothing is raised."""
    unanswered = tuple(SolvedQuestion(q, accepted=False if q.answer is not None else None) for q in problem.questions)
    if problem.scene is None:
        return Solution(problem, problem.error, unanswered)
    try:
        return Solution(problem, None, _answers(problem, problem.scene, tuple(constants)))
    except (ProblemgenError, ZeroDivisionError) as error:
        reason = "a division by zero" if isinstance(error, ZeroDivisionError) else str(error)
        return Solution(problem, reason, unanswered)


def _answers(problem: FixedProblem, scene: Scene, constants: tuple[Constant, ...]) -> tuple[SolvedQuestion, ...]:
    asked = [q.target for q in problem.questions if isinstance(q.target, Asked)]
    base = Exact()
    given = {
        quantity.id: given_window(datum.written.value, datum.written.place, read_unit(datum.unit), base)
        for quantity, datum in problem.given.items()
    }
    plan = chain(scene, asked, constants)
    windows = window_values(plan, given, base)
    answers = []
    for question in problem.questions:
        target = question.target
        if isinstance(target, str):
            answers.append(_balanced(question, target))
        elif isinstance(target, Ranking):
            answers.append(_ranked(question, target, scene, given, constants))
        else:
            answer = form_of(target).answer(plan, scene, "", target, windows)
            answers.append(_solved(question, answer, scene))
    return tuple(answers)


def _solved(question: Question, answer: Answer, scene: Scene) -> SolvedQuestion:
    if answer.choice:
        return _chosen(question, answer.choice, scene)
    return _formula(question, answer.text) if answer.text else _numeric(question, answer)


def _numeric(question: Question, answer: Answer) -> SolvedQuestion:
    accepted = None
    if question.answer is not None:
        accepted = _within(question.answer, answer)
    return SolvedQuestion(
        question,
        value=figures_text(answer.value, _FIGURES),
        low=outward_text(answer.low, _FIGURES, up=False),
        high=outward_text(answer.high, _FIGURES, up=True),
        accepted=accepted,
    )


def _within(published: str, answer: Answer) -> bool:
    try:
        return answer.low <= read_written(published).value <= answer.high
    except NumberError:
        return False


def _balanced(question: Question, unbalanced: str) -> SolvedQuestion:
    equation = balance(read_equation(unbalanced))
    accepted = None
    if question.answer is not None:
        accepted = same_equation(read_equation(question.answer), equation)
    return SolvedQuestion(question, text=equation.text, accepted=accepted)


def _formula(question: Question, formula: str) -> SolvedQuestion:
    accepted = None
    if question.answer is not None:
        accepted = read_formula(question.answer).composition == read_formula(formula).composition
    return SolvedQuestion(question, text=formula, accepted=accepted)


def _chosen(question: Question, species: str, scene: Scene) -> SolvedQuestion:
    one = scene.species[species]
    names = {one.name, one.id}
    return SolvedQuestion(question, text=one.id, accepted=None if question.answer is None else question.answer in names)


def _times(formula: Formula, part: str) -> int:
    """How many of what a ranking counts are in one particle."""
    if part == ATOMS:
        return sum(count for _, count in formula.counts)
    return formula.count(part) if part else 1


def _ranked(
    question: Question,
    ranking: Ranking,
    scene: Scene,
    given: Mapping[str, Window],
    constants: tuple[Constant, ...],
) -> SolvedQuestion:
    """The substance with the most or fewest particles (of an element), by amount."""
    amounts: dict[str, Fraction] = {}
    for species in scene.species.values():
        if species.formula is None or not any(q.of == species.id for q in scene.given):
            continue
        asked = Asked(Quantity("amount", species.id), "mol")
        plan = chain(replace(scene, wanted=frozenset()), [asked], constants)
        times = _times(species.formula, ranking.part)
        amounts[species.id] = window_values(plan, given, Exact())[asked.quantity.id].value * times
    if not amounts:
        raise UnderivableError("there is nothing to compare: no substance has a formula and a given quantity")
    pick = max if ranking.most else min
    return _chosen(question, pick(amounts, key=lambda name: amounts[name]), scene)
