"""Copying what comes with the program into a course."""

from __future__ import annotations

import argparse

from problemgen.commands.console import DONE, say
from problemgen.pipeline.new_course import copy_into

__all__ = ["run"]


def run(options: argparse.Namespace) -> int:
    """Copy, and say where to."""
    made = copy_into(options.name, options.into)
    counts = "In this course it counts in the place of the one that comes with the program."
    say(f"Written to {made}. {counts if made.suffix else 'Its roster is that of the course.'}")
    return DONE
