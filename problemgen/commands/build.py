"""Making the sheets, the key and answers.json of a set."""

from __future__ import annotations

import argparse
from pathlib import Path

from problemgen.commands.console import DONE, Commands, add_quiet, count, progress_bar, say
from problemgen.pipeline.front import build

__all__ = ["add_parser", "run"]


def add_parser(commands: Commands) -> None:
    """The command's arguments."""
    one = commands.add_parser("build", help="make the sheets, the key and answers.json of a set")
    one.add_argument("set", type=Path, metavar="SET", help="the folder of a problem set, with set.toml")
    one.add_argument("--out", type=Path, required=True, metavar="FOLDER", help="where to write")
    who = one.add_mutually_exclusive_group()
    who.add_argument("--roster", type=Path, metavar="FILE", help="another roster than the set's roster.csv")
    who.add_argument("--count", type=count, metavar="N", help="N variants without names")
    one.add_argument("--replace", action="store_true", help="replace the files of an earlier run")
    add_quiet(one)
    one.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Run the command and return the exit code."""
    with progress_bar(quiet=options.quiet) as progress:
        report = build(
            options.set,
            options.out,
            roster=options.roster,
            count=options.count,
            replace=options.replace,
            progress=progress,
        )
    if not options.quiet:
        *others, last = report.private
        say(*report.notes, f"Written to {options.out}: {', '.join(report.files)}.")
        say(f"{', '.join(others)} and {last} are confidential.")
    return DONE
