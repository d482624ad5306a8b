"""A file that is written by itself, under a name that somebody chose."""

from __future__ import annotations

from pathlib import Path

from problemgen.errors import OutputError
from problemgen.load.answers.answers import ANSWERS_FILE
from problemgen.load.people.responses import RESPONSES_FILE
from problemgen.load.people.rosters import ROSTER_FILE
from problemgen.load.resources import COURSE_FILE, SET_FILE
from problemgen.pipeline.built import SECRET_FILE

__all__ = ["check_single_file"]

_NEEDED = frozenset({ANSWERS_FILE, COURSE_FILE, RESPONSES_FILE, ROSTER_FILE, SECRET_FILE, SET_FILE})
"""What nothing brings back."""


def check_single_file(file: Path) -> None:
    """Refuse to write a file in the place of one that the program needs, or under no name. Raises OutputError."""
    if not file.name:
        raise OutputError(f"{str(file)!r} is no file name; nothing was written")
    if file.name in _NEEDED:
        raise OutputError(f"{file} is a file that the program needs; choose another name. Nothing was written")
