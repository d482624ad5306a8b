"""Listing templates and sets, or the banks."""

from __future__ import annotations

import argparse
import sys

from rich.console import Console
from rich.table import Table
from rich.text import Text

from problemgen.commands.console import DONE, FAILED
from problemgen.pipeline.catalogue import bottles, glassware, reactions, substances, templates

__all__ = ["run"]


def run(options: argparse.Namespace) -> int:
    """Run the command and return the exit code."""
    header, rows = _LISTS[options.what]
    found = list(rows(options.words))
    table = Table(*header, box=None, pad_edge=False)
    for row in found:
        table.add_row(*(Text(cell) for cell in row))
    Console(width=None if sys.stdout.isatty() else _WIDE).print(table)
    print(f"{len(found)} found.")
    return DONE if found else FAILED


_LISTS = {
    "templates": (("topic", "template or set", "level", "title"), templates),
    "substances": (("id", "name", "formula", "CAS"), substances),
    "reactions": (("id", "kind", "equation", "name"), reactions),
    "bottles": (("id", "substance", "strength", "name"), bottles),
    "glassware": (("id", "kind", "reads", "name"), glassware),
}
"""The columns and the rows of each list."""

_WIDE = 400
"""The width of a table that goes into a file: no cell is broken."""
