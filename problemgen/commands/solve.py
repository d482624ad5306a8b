"""Solving problems with fixed numbers."""

from __future__ import annotations

import argparse
import json
from collections.abc import Sequence
from pathlib import Path

from rich.console import Console
from rich.table import Table
from rich.text import Text

from problemgen.commands.console import DONE, FAILED, Commands, say
from problemgen.exact.digits import read_written
from problemgen.exact.rounding import figures_text
from problemgen.pipeline.solve import as_json, solve_file
from problemgen.plan.solve import Solution, SolvedQuestion

__all__ = ["add_parser", "run"]


def add_parser(commands: Commands) -> None:
    """The command's arguments."""
    one = commands.add_parser("solve", help="solve problems with fixed numbers")
    one.add_argument("file", type=Path, metavar="FILE", help="the problems, JSON")
    one.add_argument("--check", action="store_true", help="exit with 1 if any given answer is not accepted")
    one.add_argument("--json", action="store_true", help="print JSON")
    one.add_argument("--kind", action="append", default=[], metavar="K", help="only this kind; may be repeated")
    one.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Run the command and return the exit code."""
    solutions = solve_file(options.file, options.kind)
    if options.json:
        print(json.dumps(list(as_json(solutions)), ensure_ascii=False, indent=1))
    else:
        _print_table(solutions)
    refused = [s.problem.id for s in solutions if _refused(s)]
    if options.check and refused:
        say(f"not accepted: {', '.join(refused)}")
        return FAILED
    return DONE


def _refused(solution: Solution) -> bool:
    return any(answer.accepted is False for answer in solution.answers)


def _print_table(solutions: Sequence[Solution]) -> None:
    table = Table()
    for column in ("problem", "asked", "value", "accepted from", "to", "given answer", "accepted"):
        table.add_column(column, overflow="fold")
    for solution in solutions:
        for answer in solution.answers:
            table.add_row(*(Text(cell) for cell in _cells(solution, answer)))
    console = Console()
    console.print(table)
    answers = [answer for solution in solutions for answer in solution.answers if answer.accepted is not None]
    accepted = sum(answer.accepted is True for answer in answers)
    console.print(Text(f"{accepted} of {len(answers)} given answers accepted."))


def _cells(solution: Solution, answer: SolvedQuestion) -> tuple[str, ...]:
    question = answer.question
    of = f" of {question.of}" if question.of else ""
    asked = f"{question.quantity}{of}" + (f" ({question.unit})" if question.unit else "")
    verdict = {None: "", True: "yes", False: "no"}[answer.accepted]
    value = answer.text or _short(answer.value) or solution.error or ""
    bounds = (_short(answer.low), _short(answer.high))
    return (solution.problem.id, asked, value, *bounds, question.answer or "", verdict)


def _short(number: str | None) -> str:
    """A number with five figures: enough for a table."""
    return figures_text(read_written(number).value, 5) if number is not None else ""
