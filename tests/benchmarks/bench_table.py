"""Timing and printing of a benchmark's figures."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterable
from typing import TypeVar

__all__ = ["best_of", "note", "print_table", "times"]

T = TypeVar("T")


def best_of(work: Callable[[], T], runs: int = 5) -> tuple[float, T]:
    """The least time of several runs in seconds, and what the last run returned."""
    least = float("inf")
    for _ in range(runs):
        start = time.perf_counter()
        result = work()
        least = min(least, time.perf_counter() - start)
    return least, result


def times(ratio: float) -> str:
    """A ratio as it is read aloud: "12×", "0.93×"."""
    return f"{ratio:.0f}×" if ratio >= 10 else f"{ratio:.2f}×"


def note(text: str) -> None:
    """A line below a table."""
    sys.stdout.write(f"  {text}\n")
    sys.stdout.flush()


def print_table(title: str, header: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> None:
    """A table in plain text, columns as wide as their longest cell."""
    table = [header, *rows]
    widths = [max(len(row[column]) for row in table) for column in range(len(header))]
    sys.stdout.write(f"\n{title}\n")
    for row in table:
        first = row[0].ljust(widths[0])
        rest = (cell.rjust(width) for cell, width in zip(row[1:], widths[1:], strict=True))
        sys.stdout.write("  " + "  ".join((first, *rest)) + "\n")
    sys.stdout.flush()
