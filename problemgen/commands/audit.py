"""Auditing templates: simulated students, honest and mistaken, against the windows and against fixed tolerances."""

from __future__ import annotations

import argparse
import json
import sys

from rich.console import Console
from rich.table import Table
from rich.text import Text

from problemgen.audit.records import Audit
from problemgen.audit.report import CLOSING, COLUMNS, SORTS, audit_data, closing_rows, rows, sentences, sort_rows
from problemgen.commands.console import DONE, FAILED
from problemgen.commands.progress_bar import progress_bar
from problemgen.pipeline.audit import audit

__all__ = ["run"]

_WIDE = 400
"""The width of a table that goes into a file: no cell is broken."""


def run(options: argparse.Namespace) -> int:
    """Run the command and return the exit code."""
    with progress_bar(quiet=options.quiet) as progress:
        found = audit(options.templates, options.students, options.seed_words, progress)
    if options.json:
        print(json.dumps(audit_data(found), ensure_ascii=False, indent=2))
    else:
        _print(found)
    return DONE if found.holds else FAILED


def _print(found: Audit) -> None:
    console = Console(width=None if sys.stdout.isatty() else _WIDE)
    for header, lines in (
        (COLUMNS, rows(found)),
        (SORTS, sort_rows(found)),
        (CLOSING, closing_rows(found)),
    ):
        table = Table(box=None, pad_edge=False)
        for index, title in enumerate(header):
            table.add_column(title, justify="right" if index else "left")
        for line in lines:
            table.add_row(*(Text(cell) for cell in line))
        console.print(table)
        console.print()
    print("Blind: honest students refused / students whose numbers reward some mistake.")
    for sentence in sentences(found):
        print(sentence)
