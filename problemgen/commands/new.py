"""Making a course to begin with."""

from __future__ import annotations

import argparse

from problemgen.commands.console import DONE, say
from problemgen.pipeline.new_course import FIRST_SET, new_course

__all__ = ["run"]


def run(options: argparse.Namespace) -> int:
    """Make the course, and say what to do next."""
    files = new_course(options.folder)
    say(f"Written to {options.folder}: {', '.join(files)}.")
    say("Build its set, look at the sheets, then change what you like:")
    say(f"  problemgen build {options.folder / FIRST_SET} --out {options.folder / 'output' / 'week-1'}")
    return DONE
