"""The command line: reads arguments, shows progress, prints; nothing else.

Exit codes: 0 done; 1 not done, or answers not accepted; 2 wrong usage; 3 done, but something needs a look;
130 interrupted.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn
from rich.table import Table
from rich.text import Text

from problemgen.errors import FaultsError, ProblemgenError
from problemgen.exact.digits import read_written
from problemgen.exact.rounding import figures_text
from problemgen.pipeline.build import BuildRequest, build
from problemgen.pipeline.catalogue import reactions, substances, templates
from problemgen.pipeline.check import check
from problemgen.pipeline.mark import MarkingRequest, mark
from problemgen.pipeline.progress import Progress as Report
from problemgen.pipeline.sample import sample
from problemgen.pipeline.solve import as_json, solve_file
from problemgen.plan.solve import Solution, SolvedQuestion

__all__ = ["main"]

DONE, FAILED, USAGE, LOOK, INTERRUPTED = 0, 1, 2, 3, 130


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return the exit code."""
    options = _parser().parse_args(arguments)
    try:
        code: int = options.run(options)
    except FaultsError as error:
        count = len(error.faults)
        _say(
            f"{count} fault{'s' if count != 1 else ''}; nothing was written:", *(f"  {fault}" for fault in error.faults)
        )
        return FAILED
    except ProblemgenError as error:
        _say(str(error))
        return FAILED
    except KeyboardInterrupt:
        _say("interrupted; nothing was written")
        return INTERRUPTED
    except BrokenPipeError:
        sys.stderr.close()
        return FAILED
    return code


def _say(*lines: str) -> None:
    """Messages go to standard error, one a line."""
    for line in lines:
        print(line, file=sys.stderr)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="problemgen", description="Auto-graded stoichiometry problem sets for the chemistry laboratory."
    )
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    one = commands.add_parser("build", help="make the sheets, the key and answers.json of a set")
    one.add_argument("set", type=Path, metavar="SET", help="the folder of a problem set, with set.toml")
    one.add_argument("--out", type=Path, required=True, metavar="FOLDER", help="where to write")
    who = one.add_mutually_exclusive_group()
    who.add_argument("--roster", type=Path, metavar="FILE", help="another roster than the set's roster.csv")
    who.add_argument("--count", type=_count, metavar="N", help="N variants without names")
    one.add_argument("--replace", action="store_true", help="replace the files of an earlier run")
    _quiet(one).set_defaults(run=_build)

    one = commands.add_parser("grade", help="mark the responses to a built set")
    one.add_argument("folder", type=Path, metavar="FOLDER", help="the folder of the built set")
    one.add_argument("responses", type=Path, metavar="RESPONSES", help="the students' answers, CSV")
    one.add_argument("--out", type=Path, metavar="FOLDER", help="where to write (default: FOLDER/grades)")
    one.add_argument("--replace", action="store_true", help="replace the grades of an earlier run")
    _quiet(one).set_defaults(run=_grade)

    one = commands.add_parser("solve", help="solve problems with fixed numbers")
    one.add_argument("file", type=Path, metavar="FILE", help="the problems, JSON")
    one.add_argument("--check", action="store_true", help="exit with 1 if any given answer is not accepted")
    one.add_argument("--json", action="store_true", help="print JSON")
    one.add_argument("--kind", action="append", default=[], metavar="K", help="only this kind; may be repeated")
    one.set_defaults(run=_solve)

    one = commands.add_parser("check", help="check templates, sets and banks: all faults at once")
    one.add_argument("paths", type=Path, nargs="*", metavar="PATH", help="templates or folders (default: all)")
    _quiet(one).set_defaults(run=_check)

    one = commands.add_parser("sample", help="show some variants of a template with their worked solutions")
    one.add_argument("template", metavar="TEMPLATE", help="a template's file, or its path below templates/")
    one.add_argument("-n", type=_count, default=3, metavar="N", help="how many (default: 3)")
    one.set_defaults(run=_sample)

    one = commands.add_parser("list", help="list templates and sets by topic, or the banks' entries")
    one.add_argument("words", nargs="*", metavar="WORD", help="only what has all these words")
    what = one.add_mutually_exclusive_group()
    what.add_argument("--substances", action="store_true", help="the substances of the bank")
    what.add_argument("--reactions", action="store_true", help="the reactions of the bank")
    one.set_defaults(run=_list)
    return parser


def _quiet(parser: argparse.ArgumentParser) -> argparse.ArgumentParser:
    parser.add_argument("--quiet", action="store_true", help="no progress, no remarks; errors only")
    return parser


def _count(text: str) -> int:
    if not text.isascii() or not text.isdecimal() or not 0 < int(text) <= 100_000:
        raise argparse.ArgumentTypeError(f"{text!r} is not a whole number from 1 to 100000")
    return int(text)


@contextmanager
def _progress(*, quiet: bool) -> Iterator[Report]:
    """A progress bar on standard error: on a terminal only, and not with --quiet."""
    console = Console(stderr=True)
    columns = (TextColumn("{task.description:>10}"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with Progress(*columns, console=console, disable=quiet or not console.is_terminal) as bars:
        tasks = {}

        def report(what: str, done: int, total: int) -> None:
            if what not in tasks:
                tasks[what] = bars.add_task(what, total=total)
            bars.update(tasks[what], completed=done)

        yield report


def _build(options: argparse.Namespace) -> int:
    request = BuildRequest(options.set, options.out, options.roster, options.count, options.replace)
    with _progress(quiet=options.quiet) as progress:
        notes = build(request, progress)
    if not options.quiet:
        _say(
            *notes, f"Written to {options.out}: sheets/, class.pdf, key.pdf, answers.json, responses.csv, summary.pdf."
        )
        _say("key.pdf, answers.json and summary.pdf are confidential.")
    return DONE


def _grade(options: argparse.Namespace) -> int:
    out = options.out or options.folder / "grades"
    with _progress(quiet=options.quiet) as progress:
        report = mark(MarkingRequest(options.folder, options.responses, out, options.replace), progress)
    if report.remarks:
        _say(f"{options.responses}:", *(f"  {remark}" for remark in report.remarks))
    if not options.quiet:
        without = f", {report.absent} without a row" if report.absent else ""
        _say(f"Marked {report.marked} students{without}. Written to {out}: grades.csv, gradebook.csv, feedback/.")
    return LOOK if report.remarks else DONE


def _check(options: argparse.Namespace) -> int:
    with _progress(quiet=options.quiet) as progress:
        report = check(options.paths, progress)
    if report.faults:
        count = len(report.faults)
        _say(f"{count} fault{'s' if count != 1 else ''}:", *(f"  {fault}" for fault in report.faults))
        return FAILED
    if report.unused and not options.quiet:
        _say(f"remark: nothing uses these substances of the bank: {', '.join(report.unused)}")
    if not options.quiet:
        print(f"No faults in the banks, {report.templates} templates and {report.sets} sets.")
    return DONE


def _sample(options: argparse.Namespace) -> int:
    for line in sample(options.template, options.n):
        print(line)
    return DONE


def _list(options: argparse.Namespace) -> int:
    if options.substances:
        header, rows = ("id", "name", "formula", "CAS"), substances(options.words)
    elif options.reactions:
        header, rows = ("id", "kind", "equation", "name"), reactions(options.words)
    else:
        header, rows = ("topic", "template or set", "level", "title"), templates(options.words)
    found = list(rows)
    table = Table(*header, box=None, pad_edge=False)
    for row in found:
        table.add_row(*(Text(cell) for cell in row))
    Console(width=None if sys.stdout.isatty() else _WIDE).print(table)
    print(f"{len(found)} found.")
    return DONE if found else FAILED


_WIDE = 400
"""The width of a table that goes into a file: no cell is broken."""


def _solve(options: argparse.Namespace) -> int:
    solutions = solve_file(options.file, options.kind)
    if options.json:
        print(json.dumps(list(as_json(solutions)), ensure_ascii=False, indent=1))
    else:
        _print_table(solutions)
    refused = [s.problem.id for s in solutions if _refused(s)]
    if options.check and refused:
        _say(f"not accepted: {', '.join(refused)}")
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


if __name__ == "__main__":
    sys.exit(main())
