"""The page for instructors, in the browser of this machine."""

from __future__ import annotations

import argparse
from contextlib import suppress
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path
from urllib.parse import urlsplit
from urllib.request import url2pathname

from problemgen.commands.arguments import HERE
from problemgen.commands.console import DONE, FAILED, say
from problemgen.load.sets.courses import course_of

__all__ = ["run"]

_COURSE = "my-course"
"""Where a new course is proposed if no folder is named: in the home folder, which everybody finds again."""


def _path(told: str) -> Path:
    """The path of a folder or of a file in it; desktops tell a starter its own as an address of the kind file:."""
    address = urlsplit(told)
    return Path(url2pathname(address.path)) if address.scheme == "file" else Path(told)


def run(options: argparse.Namespace) -> int:
    """Serve the page until it is stopped, and return the exit code."""
    missing = [name for name in ("starlette", "uvicorn", "python_multipart") if find_spec(name) is None]
    if missing:
        say("The desk needs what comes with the extra `desk`: pip install 'problemgen[desk]'.")
        return FAILED
    folder = _path(options.course)
    with suppress(KeyboardInterrupt):  # the usual end
        # Loaded here, for it needs what only the extra brings.
        import_module("problemgen.desk.serve").serve(
            course_of(folder).folder,
            Path.home() / _COURSE if options.course == HERE or folder.is_file() else folder.resolve(),
            options.port,
            lambda link: say("The desk is open on this machine:", f"  {link}", "Ctrl-C closes it."),
            browser=not options.no_browser,
        )
    say("The desk is closed.")
    return DONE
