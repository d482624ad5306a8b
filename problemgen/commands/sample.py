"""Showing variants of a template."""

from __future__ import annotations

import argparse

from problemgen.commands.console import DONE
from problemgen.pipeline.sample import sample

__all__ = ["run"]


def run(options: argparse.Namespace) -> int:
    """Run the command and return the exit code."""
    for one in sample(options.template, options.n):
        print(one)
    return DONE
