"""Messages with pieces in them that are set in their own way: a formula, words that stand out."""

from __future__ import annotations

import re
from collections.abc import Iterator

from problemgen.model.blocks import Inline, Line, Prose

__all__ = ["filled"]

_PLACE = re.compile(r"\{(\w+)\}")


def filled(message: str, **pieces: Line | str) -> Line:
    """A message as a line, with a line or words in each of its places, in whatever order the language has them.

    Raises KeyError for a place that nothing is told for.

    >>> filled("{name} limits.", name=(Prose("zinc"),))
    (Prose(text='zinc limits.'),)
    """
    line: list[Inline] = []
    for piece in _pieces(_PLACE.split(message), pieces):
        if line and isinstance(piece, Prose) and isinstance(line[-1], Prose):
            line[-1] = Prose(line[-1].text + piece.text)
        else:
            line.append(piece)
    return tuple(line)


def _pieces(found: list[str], pieces: dict[str, Line | str]) -> Iterator[Inline]:
    for index, text in enumerate(found):
        piece = pieces[text] if index % 2 else text
        if not isinstance(piece, str):
            yield from piece
        elif piece:
            yield Prose(piece)
