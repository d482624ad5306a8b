"""Solving problems with fixed numbers, and judging the published answers that come with them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from os import PathLike
from pathlib import Path
from typing import Any, overload

from problemgen.exact.rounding import figures_text, outward_text
from problemgen.grade.judging.accepting import accepts, accepts_choice
from problemgen.load.banks.banks import load_weights
from problemgen.load.problems.fixed_problems import load_problems, read_problems
from problemgen.load.resources import banks_folder
from problemgen.model.file_types import KEY_FIGURES
from problemgen.model.problem import Asked
from problemgen.model.truths import ChoiceTruth, NumberTruth, TextTruth
from problemgen.pipeline.arguments import AnyPath
from problemgen.plan.constants import constants
from problemgen.plan.solve import Solution, SolvedQuestion
from problemgen.plan.solve import solve as solve_fixed

__all__ = ["SolvedAnswer", "SolvedProblem", "solve", "solve_problems", "solved"]


def solve_problems(problems: Path | Mapping[str, Any] | Sequence[Mapping[str, Any]]) -> tuple[Solution, ...]:
    """The solutions of problems: those of a file, one as Python data, or several; the format is in load/fixed_problems.

    A problem that cannot be read or solved has an `error`, and the others are solved all the same.

    Raises:
        FaultsError: for a file that cannot be read, or whose problems cannot be told apart.
    """
    weights, _ = load_weights(banks_folder())
    read = load_problems(problems, weights) if isinstance(problems, Path) else read_problems(problems, weights)
    fixed = constants()
    return tuple(_judged(solve_fixed(problem, fixed)) for problem in read)


def _judged(solution: Solution) -> Solution:
    """The solution with its published answers judged."""
    return replace(solution, answers=tuple(_accepted(solution, answer) for answer in solution.answers))


def _accepted(solution: Solution, answer: SolvedQuestion) -> SolvedQuestion:
    """A question with its published answer judged: one without a solution is not right."""
    published, target, truth = answer.question.answer, answer.question.target, answer.truth
    if published is None:
        return answer
    scene, plan = solution.problem.scene, solution.plan
    if truth is None or scene is None or plan is None:
        return replace(answer, accepted=False)
    if isinstance(target, Asked):
        given = {quantity.id: datum for quantity, datum in solution.problem.given.items()}
        right = accepts(plan, scene, given, target, truth, published)
    else:
        assert isinstance(truth, ChoiceTruth)
        right = accepts_choice([scene.species[name] for name in answer.ranked], truth, published)
    return replace(answer, accepted=right)


@dataclass(frozen=True)
class SolvedAnswer:
    """The answer to one asked line, in the unit asked for; numbers are decimal text.

    `asked` are the keys of the line. `value` has a window from `low` to `high`; an answer that is no number stands in
    `text`; all are None where the problem cannot be solved. `accepted` tells whether the `published` answer is right,
    None where there is none.
    """

    asked: Mapping[str, Any]
    value: str | None
    low: str | None
    high: str | None
    text: str | None
    published: str | None
    accepted: bool | None

    def __repr__(self) -> str:
        """The answer in short."""
        about = " ".join(str(value) for value in self.asked.values() if value)
        return f"<SolvedAnswer {about}: {self.text or self.value}>"


@dataclass(frozen=True)
class SolvedProblem:
    """The answers of one problem, in the order asked; `error` tells why there are none.

    `not_used` are the given values, in words, that no answer rests on.
    """

    id: str
    error: str | None
    answers: tuple[SolvedAnswer, ...]
    not_used: tuple[str, ...]

    def data(self) -> dict[str, Any]:
        """The problem as a JSON object; the keys in front of `value` are those of the asked line."""
        asked = [
            {
                **one.asked,
                "value": one.value,
                "low": one.low,
                "high": one.high,
                "text": one.text,
                "accepted": one.accepted,
            }
            for one in self.answers
        ]
        return {"id": self.id, "error": self.error, "asked": asked, "not_used": list(self.not_used)}


def solved(solution: Solution) -> SolvedProblem:
    """A solution as it is told."""
    answers = tuple(map(_told, solution.answers))
    return SolvedProblem(solution.problem.id, solution.error, answers, solution.not_used)


def _told(answer: SolvedQuestion) -> SolvedAnswer:
    told: dict[str, str | None] = dict.fromkeys(("value", "low", "high", "text"))
    match answer.truth:
        case NumberTruth(value, low, high):
            told["value"] = figures_text(value, KEY_FIGURES)
            told["low"] = outward_text(low, KEY_FIGURES, up=False)
            told["high"] = outward_text(high, KEY_FIGURES, up=True)
        case ChoiceTruth(text) | TextTruth(text):
            told["text"] = text
    return SolvedAnswer(answer.question.line, **told, published=answer.question.answer, accepted=answer.accepted)


@overload
def solve(problems: Mapping[str, Any]) -> SolvedProblem: ...


@overload
def solve(problems: AnyPath | Sequence[Mapping[str, Any]]) -> tuple[SolvedProblem, ...]: ...


def solve(
    problems: Mapping[str, Any] | AnyPath | Sequence[Mapping[str, Any]],
) -> SolvedProblem | tuple[SolvedProblem, ...]:
    """Solve problems with fixed numbers: one, as a mapping; several, as a list or the path of a JSON file.

    README.md shows a problem, `problemgen.load.problems.fixed_problems` tells every key. A problem that cannot be
    solved has an `error`, and the others are solved all the same. Answers that come with a problem are judged as a
    student's are.

    Raises:
        FaultsError: for a file that cannot be read, or problems that cannot be told apart.

    >>> asked = [{"quantity": "amount", "of": "NaCl", "unit": "mmol", "answer": "34.2"}]
    >>> given = [{"quantity": "mass", "of": "NaCl", "value": "2.00", "unit": "g"}]
    >>> found = solve({"given": given, "asked": asked}).answers[0]
    >>> found.value, found.accepted
    ('34.2231348392', True)
    """
    if isinstance(problems, Mapping):
        return solved(*solve_problems(problems))
    source = Path(problems) if isinstance(problems, str | PathLike) else problems
    return tuple(map(solved, solve_problems(source)))
