"""Leaving lines to later runs, in a file of the user's cache folder; it is no matter if that cannot be done."""

from __future__ import annotations

import hashlib
import os
import tempfile
import time
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

__all__ = ["keep_lines"]

_KEPT_FILES = 3
"""Files of one table: this program's, and those of two others that take turns with it."""

_ASIDE, _ABANDONED = ".aside-", 3600.0
"""How a file is called while it is written, and after how many seconds nobody writes it any more."""


def keep_lines(path: Path, lines: Mapping[str, str], largest: int) -> None:
    """Write a file of lines aside, and put it in its place at once: who reads finds all of one writer, or of another.

    The oldest lines are left out where all would be more than `largest` bytes.
    """
    with suppress(OSError):
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        number, aside = tempfile.mkstemp(prefix=_ASIDE, dir=path.parent)
        try:
            with os.fdopen(number, "wb") as file:
                file.write(_content(lines, largest))
            Path(aside).replace(path)
        except BaseException:
            Path(aside).unlink(missing_ok=True)
            raise
        _clear(path)


def _content(lines: Mapping[str, str], largest: int) -> bytes:
    kept: list[bytes] = []
    size = hashlib.sha256().digest_size * 2 + 1
    for key, line in reversed(list(lines.items())):
        entry = f"{key}\t{line}\n".encode()
        size += len(entry)
        if size > largest:
            break
        kept.append(entry)
    body = b"".join(reversed(kept))
    return hashlib.sha256(body).hexdigest().encode() + b"\n" + body


def _clear(path: Path) -> None:
    """Remove the files of the same table that other programs left, but for the youngest, and what nobody finishes."""
    table = path.name.rpartition("-")[0]
    ages = {one: one.stat().st_mtime for one in path.parent.iterdir() if one.is_file()}
    same = sorted((one for one in ages if one.name.rpartition("-")[0] == table), key=lambda one: -ages[one])
    now = time.time()
    left = [one for one in ages if one.name.startswith(_ASIDE) and now - ages[one] > _ABANDONED]
    for one in (*[one for one in same if one != path][_KEPT_FILES - 1 :], *left):
        with suppress(OSError):
            one.unlink()
