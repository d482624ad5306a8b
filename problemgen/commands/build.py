"""Making the sheets, the key and answers.json of a set."""

from __future__ import annotations

import argparse

from problemgen.commands.console import DONE, say
from problemgen.commands.progress_bar import progress_bar
from problemgen.pipeline.build import build

__all__ = ["run"]


def run(options: argparse.Namespace) -> int:
    """Run the command and return the exit code."""
    with progress_bar(quiet=options.quiet) as progress:
        report = build(
            options.set,
            options.out,
            roster=options.roster,
            count=options.count,
            columns=options.columns,
            replace=options.replace,
            redraw=tuple(options.redraw),
            new_secret=options.new_secret,
            demonstration=options.demonstration,
            session=options.session,
            section=options.section,
            layout=options.layout,
            worked_key=options.worked_key,
            fill_in=options.fill_in,
            workbook=options.workbook,
            slip=options.slip,
            workers=options.workers,
            progress=progress,
        )
    if not options.quiet:
        *others, last = report.private
        say(*report.notes, f"Written to {options.out}: {', '.join(report.files)}.")
        say(f"{', '.join(others)} and {last} are confidential.")
    return DONE
