"""Making a practice page."""

from __future__ import annotations

import argparse

from problemgen.commands.console import DONE, say
from problemgen.commands.progress_bar import progress_bar
from problemgen.pipeline.practice import PracticeRequest, practice

__all__ = ["run"]


def run(options: argparse.Namespace) -> int:
    """Make the page and say how large it is."""
    request = PracticeRequest(
        tuple(options.names),
        options.out,
        options.variants,
        options.title,
        options.language,
        options.seed_words,
        options.replace,
        options.workers,
    )
    with progress_bar(quiet=options.quiet) as progress:
        report = practice(request, progress)
    if not options.quiet:
        size = f"{report.size / 1_000_000:.1f} MB"
        say(f"Written to {options.out}: {report.problems} problems of {report.templates} templates, {size}.")
    return DONE
