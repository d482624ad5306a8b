"""Marking the responses to a built set."""

from __future__ import annotations

import argparse
from pathlib import Path

from problemgen.commands.console import DONE, LOOK, Commands, add_quiet, progress_bar, say, show_failures
from problemgen.pipeline.mark import MarkingReport, MarkingRequest, mark
from problemgen.pipeline.outlets.feedback import FeedbackChoices

__all__ = ["add_parser", "run"]

_WRITTEN = "grades.csv, gradebook.csv, gradebook.xlsx, look-into.csv, class-report.html, feedback/"
_DECIDE = "Such a part earns nothing until you decide: overrides.csv gives it points."
_CODES = "; codes.csv tells the names, do not share it"


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
    out = options.out or options.folder / ("grades-anonymous" if options.anonymous else "grades")
    feedback = FeedbackChoices(pdf=not options.no_pdf, solutions=not options.without_solutions)
    request = MarkingRequest(
        options.folder,
        options.responses,
        out,
        options.replace,
        feedback,
        overrides=options.overrides,
        columns=options.columns,
        anonymous=options.anonymous,
    )
    with progress_bar(quiet=options.quiet) as progress:
        report = mark(request, progress)
    if report.remarks:
        say(f"{options.responses}:", *(f"  {remark}" for remark in report.remarks))
    if report.unjudged:
        say(*(f"{part}: not judged: look at it" for part in report.unjudged), _DECIDE)
    if not options.quiet:
        _say_what_was_done(report, out, anonymous=options.anonymous)
    return LOOK if report.remarks or report.unjudged else DONE


def _say_what_was_done(report: MarkingReport, out: Path, *, anonymous: bool) -> None:
    without = f", {report.absent} without a row" if report.absent else ""
    attempts = f", {report.attempts} attempts" if report.attempts > report.marked else ""
    written = _WRITTEN + (_CODES if anonymous else "")
    say(f"Marked {report.marked} students{attempts}{without}. Written to {out}: {written}.")
    if report.decisions:
        say(f"Your own decisions: {report.decisions}, marked in grades.csv.")
    if report.own_data_flagged:
        say(f"own-data.csv: {report.own_data_flagged} to look at, unusual or missing values of the students' own.")
    if report.to_look_into:
        say(f"look-into.csv: {report.to_look_into} to look into, answers that are right for another student's numbers.")
