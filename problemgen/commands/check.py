"""Checking templates, sets and banks."""

from __future__ import annotations

import argparse

from problemgen.commands.console import DONE, FAILED, say
from problemgen.commands.progress_bar import progress_bar
from problemgen.pipeline.check import check

__all__ = ["run"]


def run(options: argparse.Namespace) -> int:
    """Run the command and return the exit code."""
    with progress_bar(quiet=options.quiet) as progress:
        report = check(options.paths, progress)
    if report.faults:
        count = len(report.faults)
        say(f"{count} fault{'s' if count != 1 else ''}:", *(f"  {fault}" for fault in report.faults))
        return FAILED
    if report.unused and not options.quiet:
        say(f"remark: nothing uses these substances of the bank: {', '.join(report.unused)}")
    if report.notes and not options.quiet:
        say("On a trial draw:", *(f"  {note}" for note in report.notes))
    if report.remarks and not options.quiet:
        count = len(report.remarks)
        say(f"{count} remark{'s' if count != 1 else ''}:", *(f"  {remark}" for remark in report.remarks))
    if report.replaced and not options.quiet:
        say("In the place of what comes with the program:", *(f"  {one}" for one in report.replaced))
    if not options.quiet:
        print(f"No faults in the banks, {report.templates} templates and {report.sets} sets.")
    return DONE
