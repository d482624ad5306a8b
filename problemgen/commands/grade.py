"""Marking the responses to a built set."""

from __future__ import annotations

import argparse

from problemgen.commands.console import DONE, LOOK, say
from problemgen.commands.failures import show_failures
from problemgen.commands.progress_bar import progress_bar
from problemgen.pipeline.mark import MarkingReport, mark

__all__ = ["run"]


def run(options: argparse.Namespace) -> int:
    """Run the command and return the exit code."""
    show_failures()
    with progress_bar(quiet=options.quiet) as progress:
        report = mark(
            options.folder,
            options.responses,
            options.out,
            overrides=options.overrides,
            means=options.means,
            set_folder=options.set_folder,
            columns=options.columns,
            anonymous=options.anonymous,
            unguessable=options.unguessable,
            solutions=not options.without_solutions,
            pdf=not options.no_pdf,
            replace=options.replace,
            workers=options.workers,
            progress=progress,
        )
    if report.remarks:
        files = options.responses[0] if len(options.responses) == 1 else "Responses"
        say(f"{files}:", *(f"  {remark}" for remark in report.remarks))
    say(*report.to_look_at)
    if not options.quiet:
        _say_what_was_done(report)
    return LOOK if report.remarks or report.to_look_at else DONE


def _say_what_was_done(report: MarkingReport) -> None:
    without = f"; {report.absent} handed nothing in" if report.absent else ""
    attempts = f", {report.attempts} attempts" if report.attempts > report.marked else ""
    files = ", ".join(name for name in report.files if name not in report.cautions)
    written = "; ".join((files, *(f"{name} {caution}" for name, caution in report.cautions.items())))
    marked = f"{report.marked} student{'s' if report.marked != 1 else ''}"
    say(f"Marked {marked}{attempts}{without}. Written to {report.out}: {written}.", *report.notes)
