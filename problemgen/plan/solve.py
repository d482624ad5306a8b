"""Solving a problem with fixed numbers: exact values, windows, and which given values they rest on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from problemgen.chemistry.formula import Formula
from problemgen.errors import ProblemgenError, UnderivableError
from problemgen.model.fixed import FixedProblem, Question, Ranking
from problemgen.model.plan import Plan
from problemgen.model.problem import Asked, Constant, Scene, Species
from problemgen.model.quantity import Quantity
from problemgen.model.truths import ChoiceTruth, Truth
from problemgen.plan.answering import datum_windows
from problemgen.plan.arithmetic import Exact, Window
from problemgen.plan.chain import chain
from problemgen.plan.evaluate import window_values
from problemgen.plan.forms import form_of

__all__ = ["Solution", "SolvedQuestion", "solve"]


@dataclass(frozen=True)
class SolvedQuestion:
    """One answer; without a truth where the problem cannot be solved.

    `ranked` are the ids of the species that a ranking compares; `accepted` tells whether the published answer is right.
    """

    question: Question
    truth: Truth | None = None
    ranked: tuple[str, ...] = ()
    accepted: bool | None = None


@dataclass(frozen=True)
class Solution:
    """The answers of one problem, in the order asked, and the plan of those that are quantities.

    `error` tells why there are none; `not_used` are the given values, in words, that no answer rests on.
    """

    problem: FixedProblem
    plan: Plan | None
    answers: tuple[SolvedQuestion, ...]
    error: str | None = None
    not_used: tuple[str, ...] = ()


def solve(problem: FixedProblem, constants: Iterable[Constant]) -> Solution:
    """Solve one problem. What cannot be derived is told in `error`; nothing is raised."""
    unanswered = tuple(map(SolvedQuestion, problem.questions))
    if problem.scene is None:
        return Solution(problem, None, unanswered, problem.error)
    try:
        return _solved(problem, problem.scene, tuple(constants))
    except ProblemgenError as error:
        return Solution(problem, None, unanswered, str(error))
    except ZeroDivisionError:
        return Solution(problem, None, unanswered, "these values lead to a division by zero")


def _solved(problem: FixedProblem, scene: Scene, constants: tuple[Constant, ...]) -> Solution:
    asked = [q.target for q in problem.questions if isinstance(q.target, Asked)]
    given = datum_windows({quantity.id: datum for quantity, datum in problem.given.items()})
    plan = chain(scene, asked, constants)
    windows = window_values(plan, given, Exact())
    used = set(plan.given)
    answers = []
    for question in problem.questions:
        if isinstance(question.target, Asked):
            answers.append(_answered(question, question.target, plan, scene, windows))
        elif question.target is not None:
            amounts = _Amounts(scene, given, constants, used)
            answers.append(_ranked(question, question.target, amounts))
    not_used = tuple(words for quantity, words in problem.words.items() if quantity not in used)
    return Solution(problem, plan, tuple(answers), None, not_used)


def _answered(
    question: Question, asked: Asked, plan: Plan, scene: Scene, windows: Mapping[str, Window]
) -> SolvedQuestion:
    truth: Truth = form_of(asked).answer(plan, scene, asked, windows)
    return SolvedQuestion(question, truth.in_file)


@dataclass(frozen=True)
class _Amounts:
    """Quantities of each substance by itself, whatever the others are; `used` collects what they rest on."""

    scene: Scene
    given: Mapping[str, Window]
    constants: tuple[Constant, ...]
    used: set[Quantity]

    def candidates(self) -> Iterator[Species]:
        """The substances that something is given of."""
        told = {quantity.of for quantity in self.scene.given}
        yield from (species for species in self.scene.species.values() if species.id in told)

    def value(self, kind: str, of: str) -> Fraction:
        """One quantity, in engine units."""
        quantity = Quantity(kind, of)
        plan = chain(self.scene, [Asked(quantity, "1")], self.constants)
        self.used.update(plan.given)
        value: Fraction = window_values(plan, self.given, Exact())[quantity.id].value
        return value


def _ranked(question: Question, ranking: Ranking, amounts: _Amounts) -> SolvedQuestion:
    """The substance with the most or the least; others with just as much are right too."""
    values = {one.id: _ranked_value(one, ranking, amounts) for one in amounts.candidates()}
    if not values:
        raise UnderivableError("there is nothing to compare: of no substance is anything given")
    extreme = (max if ranking.greatest else min)(values.values())
    first, *also = (name for name, value in values.items() if value == extreme)
    return SolvedQuestion(question, ChoiceTruth(first, tuple(also)), tuple(values))


def _ranked_value(species: Species, ranking: Ranking, amounts: _Amounts) -> Fraction:
    """What a ranking compares; the masses of one part are compared as its amounts."""
    if not ranking.part:
        return amounts.value(ranking.kind, species.id)
    if species.formula is None:
        raise UnderivableError(f"what {species.name} holds cannot be told without its formula")
    part = amounts.scene.species.get(ranking.part)
    return amounts.value("amount", species.id) * _times(species.formula, part.formula if part else None)


def _times(whole: Formula, part: Formula | None) -> int:
    """How often a formula holds another; how many atoms it has, for None."""
    inside = dict(whole.counts)
    if part is None:
        return sum(inside.values())
    return min(inside.get(symbol, 0) // count for symbol, count in part.counts)
