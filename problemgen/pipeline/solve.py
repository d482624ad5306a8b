"""Solving problems with fixed numbers, and judging the published answers that come with them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from problemgen.exact.rounding import figures_text, outward_text
from problemgen.grade.accepting import accepts, accepts_choice
from problemgen.load.banks import load_weights
from problemgen.load.fixed_problems import load_problems, read_problems
from problemgen.load.resources import banks_folder
from problemgen.model.file_types import KEY_FIGURES
from problemgen.model.problem import Asked
from problemgen.model.truths import ChoiceTruth, NumberTruth, TextTruth
from problemgen.plan.constants import constants
from problemgen.plan.solve import Solution, SolvedQuestion, solve

__all__ = ["as_json", "solve_problems"]


def solve_problems(problems: Path | Mapping[str, Any] | Sequence[Mapping[str, Any]]) -> tuple[Solution, ...]:
    """The solutions of problems: those of a file, one as Python data, or several; the format is in load/fixed_problems.

    A problem that cannot be read or solved has an `error`, and the others are solved all the same.

    Raises:
        FaultsError: for a file that cannot be read, or whose problems cannot be told apart.
    """
    weights, _ = load_weights(banks_folder())
    read = load_problems(problems, weights) if isinstance(problems, Path) else read_problems(problems, weights)
    fixed = constants()
    return tuple(_judged(solve(problem, fixed)) for problem in read)


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
    if isinstance(truth, ChoiceTruth):
        right = accepts_choice([scene.species[name] for name in answer.options], truth, published)
    else:
        assert isinstance(target, Asked)
        given = {quantity.id: datum for quantity, datum in solution.problem.given.items()}
        right = accepts(plan, scene, given, target, truth, published)
    return replace(answer, accepted=right)


def as_json(solutions: Iterable[Solution]) -> Iterator[dict[str, Any]]:
    """The solutions as JSON objects: numbers as decimal text, in the unit asked for, in the order asked.

    An answer that is no number stands in `text`; the keys in front of `value` are those of the problem's line.
    """
    for solution in solutions:
        yield {
            "id": solution.problem.id,
            "error": solution.error,
            "asked": [_answer_json(answer) for answer in solution.answers],
            "not_used": list(solution.not_used),
        }


def _answer_json(answer: SolvedQuestion) -> dict[str, Any]:
    right: dict[str, str | None] = dict.fromkeys(("value", "low", "high", "text"))
    match answer.truth:
        case NumberTruth(value, low, high):
            right["value"] = figures_text(value, KEY_FIGURES)
            right["low"] = outward_text(low, KEY_FIGURES, up=False)
            right["high"] = outward_text(high, KEY_FIGURES, up=True)
        case ChoiceTruth(text) | TextTruth(text):
            right["text"] = text
    return {**answer.question.line, **right, "accepted": answer.accepted}
