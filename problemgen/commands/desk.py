"""The page for instructors, in the browser of this machine."""

from __future__ import annotations

import argparse
from contextlib import suppress
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path

from problemgen.commands.console import DONE, FAILED, say
from problemgen.errors import OutputError
from problemgen.load.sets.courses import course_of

__all__ = ["run"]

_COURSE = "my-course"
"""Where a new course is proposed: in the home folder, which everybody finds again."""


def run(options: argparse.Namespace) -> int:
    """Serve the page until it is stopped, and return the exit code."""
    missing = [name for name in ("starlette", "uvicorn", "python_multipart") if find_spec(name) is None]
    if missing:
        say("The desk needs what comes with the extra `desk`: pip install 'problemgen[desk]'.")
        return FAILED
    folder = options.course or Path()
    if options.course is not None and not folder.is_dir():
        raise OutputError(f"{folder}: no such folder; `problemgen desk` without one makes a course")
    with suppress(KeyboardInterrupt):  # the usual end
        # Loaded here, for it needs what only the extra brings.
        import_module("problemgen.desk.serve").serve(
            course_of(folder).folder,
            Path.home() / _COURSE,
            options.port,
            lambda link: say("The desk is open on this machine:", f"  {link}", "Ctrl-C closes it."),
            browser=not options.no_browser,
        )
    say("The desk is closed.")
    return DONE
