"""A TOML text cut at the heads of its tables, so that tables change places with the comments above them.

A comment that stands right above a head belongs to it, as a person reads it; everything else belongs to the table
before. Put together again, the pieces are the text.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

__all__ = ["Piece", "joined", "pieces_of"]

_HEAD = re.compile(r"\s*\[\[?\s*([A-Za-z0-9_.\"' -]+?)\s*\]\]?\s*(#.*)?")
_LONG = re.compile(r'"""|' + "'''")


@dataclass(frozen=True)
class Piece:
    """A table of a file, with what stands above and in it: `name` is "problem", "problem.part.a", "" for the top."""

    name: str
    text: str

    @property
    def family(self) -> str:
        """The first word of its name."""
        return self.name.partition(".")[0]


def pieces_of(text: str) -> list[Piece]:
    r"""The pieces of a text, the top first, which may be empty.

    >>> [(one.name, one.text) for one in pieces_of('a = 1\n# one\n[b]\nc = 2\n')]
    [('', 'a = 1\n'), ('b', '# one\n[b]\nc = 2\n')]
    """
    found: list[tuple[str, list[str]]] = [("", [])]
    inside = False
    depth = 0
    for line in text.splitlines(keepends=True):
        head = _HEAD.fullmatch(line.rstrip("\r\n")) if not inside and depth == 0 else None
        if head is not None:
            above = _comments_at_end(found[-1][1])
            found.append((head[1].replace(" ", "").replace('"', ""), above))
        found[-1][1].append(line)
        if len(_LONG.findall(line)) % 2:
            inside = not inside
        if head is None and not inside:
            depth = max(0, depth + _opened(line))
    return [Piece(name, "".join(lines)) for name, lines in found]


def _opened(line: str) -> int:
    """How many lists a line leaves open; what is in quotes or a comment opens none."""
    bare = re.sub(r'"(\\.|[^"\\])*"' + r"|'[^']*'|#.*", "", line)
    return bare.count("[") - bare.count("]")


def _comments_at_end(lines: list[str]) -> list[str]:
    """The comments right above a head, taken off the lines before it."""
    first = len(lines)
    while first and lines[first - 1].lstrip().startswith("#"):
        first -= 1
    above = lines[first:]
    del lines[first:]
    return above


def joined(pieces: Iterable[Piece]) -> str:
    """The text of pieces, a line free above a table that comes to stand somewhere new."""
    text = ""
    for piece in pieces:
        if text and not text.endswith("\n"):
            text += "\n"
        opens_group = piece.name in ("problem", "sheet") or piece.family not in ("problem", "sheet")
        if text and piece.text and opens_group and not text.endswith("\n\n"):
            text += "\n"
        text += piece.text
    return text.rstrip("\n") + "\n"
