"""Solving a file of problems with fixed numbers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from problemgen.errors import Fault, FaultsError
from problemgen.load.banks import load_weights
from problemgen.load.fault_log import nearest
from problemgen.load.fixed_problems import load_fixed_problems
from problemgen.load.resources import banks_folder
from problemgen.plan.constants import constants
from problemgen.plan.solve import Solution, solve

__all__ = ["as_json", "solve_file"]


def solve_file(path: Path, kinds: Iterable[str]) -> tuple[Solution, ...]:
    """The solutions of a file's problems, of the kinds named (all, for none).

    Raises:
        FaultsError: for a file that cannot be read, or a kind that the file does not have.
    """
    weights, _ = load_weights(banks_folder())
    problems = load_fixed_problems(path, weights)
    wanted = tuple(kinds)
    known = sorted({problem.kind for problem in problems})
    faults = [
        Fault(str(path), "kind", repr(kind), f"one of {', '.join(known)}", nearest(kind, known))
        for kind in wanted
        if kind not in known
    ]
    if faults:
        raise FaultsError(faults)
    fixed = constants()
    return tuple(solve(problem, fixed) for problem in problems if not wanted or problem.kind in wanted)


def as_json(solutions: Iterable[Solution]) -> Iterator[dict[str, Any]]:
    """The solutions as JSON objects: numbers as decimal text, in the unit asked for, in the order asked."""
    for solution in solutions:
        yield {
            "id": solution.problem.id,
            "error": solution.error,
            "asked": [
                {
                    "quantity": answer.question.quantity,
                    "of": answer.question.of,
                    "unit": answer.question.unit,
                    "value": answer.value,
                    "low": answer.low,
                    "high": answer.high,
                    "text": answer.text,
                    "accepted": answer.accepted,
                }
                for answer in solution.answers
            ],
        }
