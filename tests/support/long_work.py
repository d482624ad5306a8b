"""Work for processes of their own: what they import has to stand in a module."""

from __future__ import annotations

import os
import time
from pathlib import Path

from problemgen.errors import Fault, FaultsError
from problemgen.pipeline.progress import Progress
from problemgen.write.files import Staging

__all__ = ["broken", "counted", "deaf", "ended", "refused", "written"]


def counted(most: int, progress: Progress) -> str:
    """Counts, and gives the folder that it ran in."""
    for done in range(most + 1):
        progress("counting", done, most)
    return str(Path.cwd())


def written(name: str, progress: Progress) -> None:
    """Writes a file aside, and goes on until somebody asks it to give up."""
    with Staging(Path(name)) as staging:
        staging.write("x", b"x")
        while True:
            progress("writing", 0, 1)
            time.sleep(0.01)


def deaf(_progress: Progress) -> None:
    """Listens to nobody."""
    time.sleep(600)


def refused(_progress: Progress) -> None:
    """Has two faults."""
    raise FaultsError([Fault("a.toml", key, "x", "y", "z") for key in ("one", "two")])


def broken(_progress: Progress) -> None:
    """Is ended by the system's refusal."""
    Path("nowhere/at/all").read_bytes()


def ended(_progress: Progress) -> None:
    """Is ended from outside."""
    os._exit(9)
