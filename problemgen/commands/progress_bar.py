"""The progress bar of a command."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

from problemgen.pipeline.progress import Progress as Report

__all__ = ["progress_bar"]


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
