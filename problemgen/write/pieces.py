"""A TOML text cut at the heads of its tables, so that tables change places with the comments above them.

A comment that stands right above a head belongs to it, as a person reads it; everything else belongs to the table
before. Put together again, the pieces are the text.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import tomlkit
from tomlkit.items import Array, Float, Integer

__all__ = ["Piece", "groups_of", "joined", "pieces_of", "put"]

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


def groups_of(pieces: Sequence[Piece], family: str) -> Iterator[list[Piece]]:
    """Each entry of a list of tables, with the tables inside it."""
    group: list[Piece] = []
    for piece in pieces:
        if piece.name == family:
            if group:
                yield group
            group = [piece]
        elif piece.family == family and group:
            group.append(piece)
    if group:
        yield group


def put(table: Any, key: str, value: Any) -> None:
    """Put a value, plain or of tomlkit, into one of its tables, the comment behind it kept; None takes the key out.

    What is so already stays as it is written; numbers are compared digit by digit: 2.50 is not 2.5.
    """
    if value is None:
        if key in table:
            del table[key]
        return
    item = tomlkit.item(value)
    if key not in table:
        table[key] = item
    elif not _same(table[key], item):
        trivia = table[key].trivia
        table[key] = item
        table[key].trivia.comment_ws, table[key].trivia.comment = trivia.comment_ws, trivia.comment


def _same(one: Any, other: Any) -> bool:
    """Whether two values are the same; numbers digit by digit."""
    if isinstance(other, Array):
        return (
            isinstance(one, Array)
            and len(one) == len(other)
            and all(_same(*pair) for pair in zip(one, other, strict=True))
        )
    numbers = (Float, Integer)
    if isinstance(one, numbers) and isinstance(other, numbers):
        return one.as_string() == other.as_string()
    return bool(one == other)


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
