"""What a run remembers of earlier ones and leaves to later ones, in the user's cache folder."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from problemgen.load.kept import LARGEST, kept_file, kept_lines
from problemgen.remembered import begin, end, news
from problemgen.write.kept import keep_lines

__all__ = ["keeping", "recall"]


def recall() -> None:
    """Let all tables remember what earlier runs have left."""
    begin(kept_lines)


@contextmanager
def keeping() -> Iterator[None]:
    """Remember, and leave what is new at the end, however it ends."""
    recall()
    try:
        yield
    finally:
        for table, lines in news().items():
            path = kept_file(table)
            if path is not None:
                keep_lines(path, lines, LARGEST)
        end()
