"""Listing templates and sets, or the banks."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable, Sequence
from importlib import import_module
from typing import Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from problemgen.commands.console import DONE, FAILED
from problemgen.pipeline.listed import fitting, remembered_heads

__all__ = ["run"]


def run(options: argparse.Namespace) -> int:
    """Run the command and return the exit code."""
    found = list(_found(options.what, options.words))
    table = Table(*_HEADERS[options.what], box=None, pad_edge=False)
    for row in found:
        table.add_row(*(Text(cell) for cell in row))
    Console(width=None if sys.stdout.isatty() else _WIDE).print(table)
    print(f"{len(found)} found.")
    return DONE if found else FAILED


def _found(what: str, words: Sequence[str]) -> Iterable[Sequence[str]]:
    """The rows. What reads the files is loaded where they are not remembered: it takes longer than all else."""
    if what == "templates":
        return fitting(words, remembered_heads(".", lambda place: _catalogue().heads(place)))
    rows: Iterable[Sequence[str]] = getattr(_catalogue(), what)(words)
    return rows


def _catalogue() -> Any:
    return import_module("problemgen.pipeline.catalogue")


_HEADERS = {
    "templates": ("topic", "template or set", "level", "title"),
    "substances": ("id", "name", "formula", "CAS"),
    "reactions": ("id", "kind", "equation", "name"),
    "bottles": ("id", "substance", "strength", "name"),
    "glassware": ("id", "kind", "reads", "name"),
}
"""The columns of each list, by the name of what makes its rows (`problemgen.pipeline.catalogue`)."""

_WIDE = 400
"""The width of a table that goes into a file: no cell is broken."""
