"""Solving problems with fixed numbers."""

from __future__ import annotations

import argparse
import json
from collections.abc import Mapping, Sequence

from rich.console import Console
from rich.table import Table
from rich.text import Text

from problemgen.commands.console import DONE, FAILED, say
from problemgen.exact.digits import read_written
from problemgen.exact.rounding import figures_text
from problemgen.pipeline.solve import SolvedAnswer, SolvedProblem, solve

__all__ = ["run"]

_SHOWN_FIGURES = 5
"""Figures of a number in the table: one or two more than most answers have."""


def run(options: argparse.Namespace) -> int:
    """Run the command and return the exit code."""
    problems = solve(options.file)
    if options.json:
        print(json.dumps([one.data() for one in problems], ensure_ascii=False, indent=1))
    else:
        _print_table(problems)
    refused = [one.id for one in problems if _refused(one)]
    if options.check and refused:
        say(f"not accepted: {', '.join(refused)}")
        return FAILED
    return DONE


def _refused(problem: SolvedProblem) -> bool:
    return any(answer.accepted is False for answer in problem.answers)


def _print_table(problems: Sequence[SolvedProblem]) -> None:
    """The answers as a table, and below it what could not be solved and what was not used."""
    table = Table()
    for column in ("problem", "asked", "value", "accepted from", "to", "given answer", "accepted"):
        table.add_column(column, overflow="fold")
    for problem in problems:
        for answer in problem.answers:
            table.add_row(*(Text(cell) for cell in _cells(problem, answer)))
    console = Console()
    console.print(table)
    for problem in problems:
        remarks = problem.error.splitlines() if problem.error else []
        remarks += [f"not used: {', '.join(problem.not_used)}"] if problem.not_used else []
        for remark in remarks:
            console.print(Text(f"{problem.id}: {remark}"), soft_wrap=True)
    answers = [answer for problem in problems for answer in problem.answers if answer.accepted is not None]
    accepted = sum(answer.accepted is True for answer in answers)
    console.print(Text(f"{accepted} of {len(answers)} given answers accepted."))


def _cells(problem: SolvedProblem, answer: SolvedAnswer) -> tuple[str, ...]:
    verdict = {None: "", True: "yes", False: "no"}[answer.accepted]
    numbers = (answer.text or _short(answer.value), _short(answer.low), _short(answer.high))
    return (problem.id, _asked(answer.asked), *numbers, answer.published or "", verdict)


def _asked(line: Mapping[str, str | None]) -> str:
    """What a line asks, in its own words: "mass of AlCl3 (left, g)"."""
    of = f" of {line['of']}" if line["of"] else ""
    source = f" from {line['from']}" if line["from"] else ""
    role = " ".join(text for text in (line["role"], line["stage"]) if text)
    behind = ", ".join(text for text in (role, line["unit"]) if text)
    words = " ".join(text for text in (line["which"], line["quantity"]) if text)
    return f"{words}{of}{source}" + (f" ({behind})" if behind else "")


def _short(number: str | None) -> str:
    return "" if number is None else figures_text(read_written(number).value, _SHOWN_FIGURES)
