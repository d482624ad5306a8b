"""Taking the answers out of what came back."""

from __future__ import annotations

import argparse

from problemgen.commands.console import DONE, LOOK, say
from problemgen.commands.progress_bar import progress_bar
from problemgen.pipeline.collect import collect

__all__ = ["run"]


def run(options: argparse.Namespace) -> int:
    """Run the command and return the exit code."""
    with progress_bar(quiet=options.quiet) as progress:
        report = collect(options.folder, options.returns, options.out, replace=options.replace, progress=progress)
    if report.messages:
        say(f"{options.returns}:", *(f"  {message}" for message in report.messages))
    say(*report.to_look_at)
    if not options.quiet:
        files = f"{report.files} file{'s' if report.files != 1 else ''}"
        absent = f"; of {report.absent} students nothing came back" if report.absent else ""
        written = f"Written to {report.out}; what to look at to {report.listed}."
        say(f"Answers of {report.taken} taken from {files}{absent}. {written}", *report.notes)
    return LOOK if report.messages or report.to_look_at else DONE
