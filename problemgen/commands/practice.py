"""Making a practice page."""

from __future__ import annotations

import argparse
from pathlib import Path

from problemgen.commands.console import DONE, Commands, add_quiet, count, progress_bar, say
from problemgen.pipeline.practice import PracticeRequest, practice

__all__ = ["add_parser", "run"]

_VARIANTS = 40  # of a problem: more than anybody practises of one; no other reason
_TITLE = "Stoichiometry"


def add_parser(commands: Commands) -> None:
    """The command's arguments."""
    one = commands.add_parser("practice", help="make one file in which students practise, offline")
    one.add_argument("names", nargs="*", metavar="TEMPLATE|TOPIC", help="what to practise (default: everything)")
    one.add_argument("--out", type=Path, required=True, metavar="FILE", help="the file to write: practice.html")
    one.add_argument("--variants", type=count, default=_VARIANTS, metavar="N", help="variants of each (default: 40)")
    one.add_argument("--title", default=_TITLE, metavar="TEXT", help=f"the page's title (default: {_TITLE})")
    one.add_argument("--language", choices=("en", "es"), default="en", help="the language it opens in (default: en)")
    one.add_argument("--seed-words", metavar="WORDS", help="the same words make the same page again")
    one.add_argument("--replace", action="store_true", help="replace an earlier file")
    add_quiet(one)
    one.set_defaults(run=run)


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
    )
    with progress_bar(quiet=options.quiet) as progress:
        report = practice(request, progress)
    if not options.quiet:
        size = f"{report.size / 1_000_000:.1f} MB"
        say(f"Written to {options.out}: {report.problems} problems of {report.templates} templates, {size}.")
    return DONE
