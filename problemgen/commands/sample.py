"""Showing variants of a template."""

from __future__ import annotations

import argparse

from problemgen.commands.console import DONE, Commands, count
from problemgen.pipeline.front import sample

__all__ = ["add_parser", "run"]


def add_parser(commands: Commands) -> None:
    """The command's arguments."""
    one = commands.add_parser("sample", help="show some variants of a template with their worked solutions")
    one.add_argument("template", metavar="TEMPLATE", help="a template's file, or its path below templates/")
    one.add_argument("-n", type=count, default=3, metavar="N", help="how many (default: 3)")
    one.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Run the command and return the exit code."""
    for one in sample(options.template, options.n):
        print(one)
    return DONE
