"""Folders for what is needed for a moment: answers, names and grades among it, so that nothing may stay behind."""

from __future__ import annotations

import os
import shutil
import stat
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from filelock import FileLock, Timeout

__all__ = ["scratch"]

_PREFIX = "problemgen-"
_LOCK = "lock"
_WITHIN = "in"
_JUST_MADE = 60
"""Seconds in which a folder that is not locked may be one that somebody is making."""


@contextmanager
def scratch() -> Iterator[Path]:
    """An empty folder that nobody else can read, which is gone at the end.

    It lies in the system's temporary folder, and is locked. A process that is killed outright cannot clear its own: the
    system takes the lock from it, and the next one that comes here clears what is not locked.
    """
    _clear_left()
    with (  # what cannot be removed at the end is being cleared by another one already, or will be
        tempfile.TemporaryDirectory(prefix=_PREFIX, ignore_cleanup_errors=True) as name,
        FileLock(Path(name, _LOCK)),
    ):
        place = Path(name, _WITHIN)
        place.mkdir()
        yield place


def _clear_left() -> None:
    for lock in Path(tempfile.gettempdir()).glob(f"{_PREFIX}*/{_LOCK}"):
        with suppress(Timeout, OSError):  # it is at work, or just gone
            if not _is_ours(lock.parent) or time.time() - lock.lstat().st_mtime < _JUST_MADE:
                continue
            with FileLock(lock, timeout=0):
                shutil.rmtree(lock.parent / _WITHIN, ignore_errors=True)
            shutil.rmtree(lock.parent)


def _is_ours(folder: Path) -> bool:
    """Whether a folder is this user's, and no link: everybody can put one there that leads to files of ours."""
    told = folder.lstat()
    user = os.getuid() if hasattr(os, "getuid") else told.st_uid  # on Windows each user has a temporary folder
    return stat.S_ISDIR(told.st_mode) and told.st_uid == user
