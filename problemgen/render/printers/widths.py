"""How wide words are in print, so that a layout need not measure them: Typst takes longest of all for that."""

from __future__ import annotations

import re
from functools import lru_cache
from itertools import pairwise
from typing import Literal, TypeAlias

from problemgen.render.printers.advances import ADVANCES, FONT_SIZE, PAIRS
from problemgen.render.words.text import Pieces

__all__ = [
    "LINE_HEIGHT",
    "SLACK",
    "SMALL",
    "Style",
    "is_known",
    "lines_of",
    "longest_word",
    "pieces_width",
    "text_width",
]

LINE_HEIGHT = 0.658
"""Of a line of words, in em: from the baseline to the top of the capitals, low and high letters or not."""

SLACK = 0.2
"""Points that a text is given beyond its width, which leaves out the kerning of letters with accents."""

Style: TypeAlias = Literal["regular", "bold", "italic"]

SMALL = 0.7  # low and high letters, of the size of the others (low and high in chem.typ)
_WIDEST = 1434  # the long arrow of DejaVu Sans; no letter of the fonts that others are taken from is wider
_MARK = "\u00a0"  # the space that breaks no line stands in the table for both


def _read(table: str, length: int) -> dict[str, int]:
    """The numbers of a table, each by the texts behind it, which are so many letters long."""
    tokens = iter(table.split(" "))
    return {
        texts[at : at + length]: int(number)
        for number, texts in zip(tokens, tokens, strict=True)
        for at in range(0, len(texts), length)
    }


_WIDTHS = {style: (found := _read(table, 1)) | {" ": found[_MARK]} for style, table in ADVANCES.items()}
_MOVES = {style: _read(table, 2) for style, table in PAIRS.items()}
_BREAK = re.compile(r"\s+|(?<=[^\s-][-–])(?=[^\s\d])")
"""Where a line may be broken: at a space, or behind a hyphen with no digit behind it (UAX 14)."""


@lru_cache(maxsize=4096)
def text_width(text: str, style: Style = "regular") -> float:
    """The width of a text in one line, in em. A letter of another font counts as wide as the widest.

    >>> text_width("AV"), text_width("")
    (1.235, 0.0)
    """
    widths, moves = _WIDTHS[style], _MOVES[style]
    apart = sum(widths.get(letter, _WIDEST) for letter in text)
    return (apart + sum(moves.get(one + other, 0) for one, other in pairwise(text))) / FONT_SIZE


def is_known(text: str) -> bool:
    """Whether the table has all letters of a text, so that its width is no mere bound."""
    return all(letter in _WIDTHS["regular"] for letter in text)


def pieces_width(pieces: Pieces) -> float:
    """The width of pieces beside each other, in em of the text that is neither low nor high."""
    return sum(text_width(text) * (1 if place == "text" else SMALL) for place, text in pieces)


def longest_word(text: str) -> float:
    """The width of the widest piece of a text that no line break divides, in em."""
    return max((text_width(word) for word in _BREAK.split(text)), default=0.0)


def lines_of(pieces: Pieces, widest: float) -> list[Pieces]:
    """Pieces in lines of at most `widest` em, broken at spaces; a word that is wider has a line to itself."""
    if pieces_width(pieces) <= widest:
        return [pieces] if pieces else []
    lines: list[Pieces] = []
    for word in _words(pieces):
        longer = [*lines[-1], ["text", " "], *word] if lines else word
        if lines and pieces_width(longer) <= widest:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def _words(pieces: Pieces) -> list[Pieces]:
    """The pieces of each word: a formula in several pieces has no space within."""
    words: list[Pieces] = [[]]
    for place, text in pieces:
        for space, word in re.findall(r"(\s*)(\S*)", text):
            if space:
                words.append([])
            if word:
                words[-1].append([place, word])
    return [word for word in words if word]
