"""What commands share: exit codes, messages, the progress bar, kinds of arguments."""

from __future__ import annotations

import argparse
import logging
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Protocol

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

from problemgen.pipeline.progress import Progress as Report

__all__ = [
    "DONE",
    "FAILED",
    "INTERRUPTED",
    "LOOK",
    "Commands",
    "add_quiet",
    "count",
    "progress_bar",
    "say",
    "show_failures",
]

DONE, FAILED, LOOK, INTERRUPTED = 0, 1, 3, 130
"""Exit codes; 2, wrong usage, is argparse's own."""


class Commands(Protocol):
    """Where a command adds its parser: what argparse's `add_subparsers` gives."""

    def add_parser(self, name: str, *, help: str) -> argparse.ArgumentParser:  # noqa: A002 - argparse's own name
        """Add one command."""


def say(*lines: str) -> None:
    """Messages go to standard error, one a line."""
    for line in lines:
        print(line, file=sys.stderr)


def show_failures() -> None:
    """For a developer: with PROBLEMGEN_DEBUG in the environment, where judging failed is told on standard error."""
    if os.environ.get("PROBLEMGEN_DEBUG"):
        logging.basicConfig(format="%(message)s")
        logging.getLogger("problemgen").setLevel(logging.DEBUG)


def add_quiet(parser: argparse.ArgumentParser) -> None:
    """The option --quiet."""
    parser.add_argument("--quiet", action="store_true", help="no progress, no remarks; errors only")


def count(text: str) -> int:
    """A whole number from 1 to 100000; raises argparse.ArgumentTypeError."""
    if not text.isascii() or not text.isdecimal() or not 0 < int(text) <= 100_000:
        raise argparse.ArgumentTypeError(f"{text!r} is not a whole number from 1 to 100000")
    return int(text)


@contextmanager
def progress_bar(*, quiet: bool) -> Iterator[Report]:
    """A progress bar on standard error: on a terminal only, and not with --quiet."""
    console = Console(stderr=True)
    columns = (TextColumn("{task.description:>10}"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with Progress(*columns, console=console, disable=quiet or not console.is_terminal) as bars:
        tasks = {}

        def report(what: str, done: int, total: int) -> None:
            if what not in tasks:
                tasks[what] = bars.add_task(what, total=total)
            bars.update(tasks[what], completed=done)

        yield report
