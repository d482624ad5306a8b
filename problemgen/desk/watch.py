"""The state number: whoever has seen it before knows whether a file of the course or a job has changed since."""

from __future__ import annotations

import os
import threading
import time
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

__all__ = ["Watch"]

_OFTEN = 0.4
"""Seconds for which what was found on the disk holds: several tabs ask, and the answer is the same for all."""

_DEEP = 3
"""Folders below the course that are looked into: sets/NAME/, output/NAME/grades/."""

_MOST = 20_000
"""Files that are looked at; a course has some hundred."""

_OF_STUDENTS = frozenset({"sheets", "fill-in", "workbooks", "slips", "feedback"})
"""Folders with a file a student: all of them change together, and with them a file beside the folder."""


class Watch:
    """Finds out whether anything has changed in a folder."""

    def __init__(self) -> None:
        """Begin at 1."""
        self._guard = threading.Lock()
        self._seen: object = None
        self._digest = ""
        self._looked = 0.0
        self._number = 1

    def number(self, folder: Path | None, version: int) -> int:
        """The state number; `version` is that of what does not lie on the disk."""
        with self._guard:
            if time.monotonic() - self._looked > _OFTEN or self._seen is None:
                self._digest = _digest(folder) if folder is not None else ""
                self._looked = time.monotonic()
            now = (folder, self._digest, version)
            if now != self._seen:
                self._number += self._seen is not None
                self._seen = now
            return self._number

    def look(self) -> None:
        """Look at the disk at the next question: the desk itself has written."""
        with self._guard:
            self._looked = 0.0


def _digest(folder: Path) -> str:
    found = sha256()
    for count, line in enumerate(_lines(os.fspath(folder), _DEEP)):
        found.update(line.encode("utf-8", "surrogateescape"))
        if count > _MOST:
            break
    return found.hexdigest()


def _lines(folder: str, deep: int) -> Iterator[str]:
    """Each file with its size and time. What is aside of a run that is at work is left out: its name has a dot."""
    try:
        entries = sorted(os.scandir(folder), key=lambda one: one.name)
    except OSError:
        return
    for entry in entries:
        if entry.name.startswith("."):
            continue
        try:
            is_folder = entry.is_dir(follow_symlinks=False)
            state = entry.stat(follow_symlinks=False)
        except OSError:  # gone meanwhile
            continue
        if not is_folder:
            yield f"{entry.path}\0{state.st_size}\0{state.st_mtime_ns}\n"
        elif deep and entry.name not in _OF_STUDENTS:
            yield f"{entry.path}\n"
            yield from _lines(entry.path, deep - 1)
