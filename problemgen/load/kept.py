"""What earlier runs have left in the user's cache folder: lines of tables, by the program that made them.

A file holds the digest of what follows, and then a line an entry: its key, a tab, JSON. One that is damaged, that
another program has made, or that cannot be read is as good as none. Nothing in it is ever run.
"""

from __future__ import annotations

import hashlib
import os
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

__all__ = ["LARGEST", "kept_file", "kept_lines"]

LARGEST = 1 << 23
"""Bytes of a file: ten times what all that comes with the program leaves in one."""

_PACKAGE = Path(__file__).resolve().parent.parent


def kept_lines(table: str) -> dict[str, str]:
    """The lines of a table, JSON by key; none where there is no file that can be trusted."""
    path = kept_file(table)
    try:
        if path is None or path.stat().st_size > LARGEST:
            return {}
        digest, _, body = path.read_bytes().partition(b"\n")
        if hashlib.sha256(body).hexdigest().encode() != digest:
            return {}
        pairs = (line.partition("\t") for line in body.decode().split("\n") if line)
        return {key: line for key, _, line in pairs}
    except (OSError, ValueError):
        return {}


def kept_file(table: str) -> Path | None:
    """Where the lines of a table stand; None where the user has no folder for it."""
    folder, program = _cache_folder(), _program()
    return folder / "problemgen" / f"{table}-{program}.txt" if folder and program else None


def _cache_folder() -> Path | None:
    """The user's folder for what can be made again, by the custom of each system (XDG Base Directory Specification)."""
    told = os.environ.get("LOCALAPPDATA" if sys.platform == "win32" else "XDG_CACHE_HOME", "")
    if told and Path(told).is_absolute():
        return Path(told)
    try:
        home = Path.home()
    except RuntimeError:
        return None
    return home / ("Library/Caches" if sys.platform == "darwin" else ".cache")


@cache
def _program() -> str:
    """A digest of this program, of Python, and of the libraries with their versions; "" where it is in no folder.

    The program's files go by size and time of change, as Python itself tells whether what it has compiled is stale:
    that takes a tenth of the time of reading them.
    """
    try:
        parts = [sys.version, *_libraries(), *sorted(_stamps(_PACKAGE))]
    except OSError:
        return ""
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()[:20]


def _libraries() -> Iterator[str]:
    """The libraries at hand: the name of a folder of metadata has the version."""
    for folder in sys.path:
        if os.path.isdir(folder):  # noqa: PTH112 - as fast as can be: it runs at each start
            yield from sorted(name for name in os.listdir(folder) if name.endswith(".dist-info"))  # noqa: PTH208


def _stamps(folder: str | Path) -> Iterator[str]:
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir():
                if entry.name != "__pycache__":
                    yield from _stamps(entry.path)
            else:
                stat = entry.stat()
                yield f"{entry.path} {stat.st_size} {stat.st_mtime_ns}"
