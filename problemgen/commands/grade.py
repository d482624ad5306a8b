"""Marking the responses to a built set."""

from __future__ import annotations

import argparse
from pathlib import Path

from problemgen.commands.console import DONE, LOOK, Commands, add_quiet, progress_bar, say
from problemgen.pipeline.mark import MarkingRequest, mark

__all__ = ["add_parser", "run"]


def add_parser(commands: Commands) -> None:
    """The command's arguments."""
    one = commands.add_parser("grade", help="mark the responses to a built set")
    one.add_argument("folder", type=Path, metavar="FOLDER", help="the folder of the built set")
    one.add_argument("responses", type=Path, metavar="RESPONSES", help="the students' answers, CSV")
    one.add_argument("--out", type=Path, metavar="FOLDER", help="where to write (default: FOLDER/grades)")
    one.add_argument("--replace", action="store_true", help="replace the grades of an earlier run")
    add_quiet(one)
    one.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Run the command and return the exit code."""
    out = options.out or options.folder / "grades"
    with progress_bar(quiet=options.quiet) as progress:
        report = mark(MarkingRequest(options.folder, options.responses, out, options.replace), progress)
    if report.remarks:
        say(f"{options.responses}:", *(f"  {remark}" for remark in report.remarks))
    if not options.quiet:
        without = f", {report.absent} without a row" if report.absent else ""
        say(f"Marked {report.marked} students{without}. Written to {out}: grades.csv, gradebook.csv, feedback/.")
    return LOOK if report.remarks else DONE
