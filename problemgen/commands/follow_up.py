"""Making the set of the week after, from a built set and its responses."""

from __future__ import annotations

import argparse

from problemgen.commands.console import DONE, say
from problemgen.commands.progress_bar import progress_bar
from problemgen.pipeline.follow_up import follow_up

__all__ = ["run"]


def run(options: argparse.Namespace) -> int:
    """Run the command and return the exit code."""
    with progress_bar(quiet=options.quiet) as progress:
        report = follow_up(
            options.folder,
            options.out,
            options.responses or None,
            for_all=options.for_all,
            overrides=options.overrides,
            means=options.means,
            set_folder=options.set_folder,
            replace=options.replace,
            progress=progress,
        )
    if not options.quiet:
        some = f"{report.problems} problems for {report.students} students"
        say(*report.notes, f"Written to {report.out}: {', '.join(report.files)}; {some}.")
        say(f"Look at it, then: problemgen build {report.out} --out …")
    return DONE
