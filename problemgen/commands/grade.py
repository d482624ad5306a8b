"""Marking the responses to a built set."""

from __future__ import annotations

import argparse
from pathlib import Path

from problemgen.commands.console import DONE, LOOK, Commands, add_quiet, progress_bar, say, show_failures
from problemgen.pipeline.front import mark
from problemgen.pipeline.mark import MarkingReport

__all__ = ["add_parser", "run"]


def add_parser(commands: Commands) -> None:
    """The command's arguments."""
    one = commands.add_parser("grade", help="mark the responses to a built set")
    one.add_argument("folder", type=Path, metavar="FOLDER", help="the folder of the built set")
    one.add_argument("responses", type=Path, metavar="RESPONSES", help="the students' answers, CSV or .xlsx")
    where = "where to write (default: FOLDER/grades; with --anonymous, FOLDER/grades-anonymous)"
    one.add_argument("--out", type=Path, metavar="FOLDER", help=where)
    one.add_argument("--replace", action="store_true", help="replace the grades of an earlier run")
    one.add_argument("--without-solutions", action="store_true", help="feedback without the worked solutions")
    one.add_argument("--no-pdf", action="store_true", help="feedback as pages for the browser alone")
    mapping = "how a form's export names our columns: CSV with the columns ours, theirs"
    one.add_argument("--columns", type=Path, metavar="FILE", help=mapping)
    decided = "your own decisions: CSV with student, part, points, reason (default: FOLDER/overrides.csv, if any)"
    one.add_argument("--overrides", type=Path, metavar="FILE", help=decided)
    codes = "codes in the place of names and ids; codes.csv tells which is whose"
    one.add_argument("--anonymous", action="store_true", help=codes)
    add_quiet(one)
    one.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Run the command and return the exit code."""
    show_failures()
    with progress_bar(quiet=options.quiet) as progress:
        report = mark(
            options.folder,
            options.responses,
            options.out,
            overrides=options.overrides,
            columns=options.columns,
            anonymous=options.anonymous,
            solutions=not options.without_solutions,
            pdf=not options.no_pdf,
            replace=options.replace,
            progress=progress,
        )
    if report.remarks:
        say(f"{options.responses}:", *(f"  {remark}" for remark in report.remarks))
    say(*report.to_look_at)
    if not options.quiet:
        _say_what_was_done(report)
    return LOOK if report.remarks or report.to_look_at else DONE


def _say_what_was_done(report: MarkingReport) -> None:
    without = f", {report.absent} without a row" if report.absent else ""
    attempts = f", {report.attempts} attempts" if report.attempts > report.marked else ""
    files = ", ".join(name for name in report.files if name not in report.cautions)
    written = "; ".join((files, *(f"{name} {caution}" for name, caution in report.cautions.items())))
    say(f"Marked {report.marked} students{attempts}{without}. Written to {report.out}: {written}.", *report.notes)
