"""Python's patterns written as JavaScript's, so that a pattern stands once: where the grader reads by it.

The page runs them with the flag "u". Most of a pattern is the same in both languages. In JavaScript `\\w`, `\\d`, `\\b`
and a few more know the letters and figures of ASCII alone: they are written out by what Unicode says of a character.
"""

from __future__ import annotations

import re
import unicodedata
from typing import Any

__all__ = ["javascript"]

_WORD = r"\p{L}\p{N}_"
_SPACE = r"\t-\r\x1c-\x20\x85\xa0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000"
_CLASSES = {r"\w": _WORD, r"\d": r"\p{Nd}", r"\s": _SPACE}
"""Classes of characters, and what Python counts among them (`str.isalnum` with "_", `str.isdecimal`, `str.isspace`)."""

_LETTERS = {r"[^\W\d_]": r"[\p{L}\p{Nl}\p{No}]", r"[^\W\d]": r"[\p{L}\p{Nl}\p{No}_]"}
"""Python's way to say "a letter", and what that is."""

_PIECE = re.compile(r"\[\^\\W\\d_?\]|\\N\{[^}]*\}|\\.|.", re.DOTALL)
_SAME = frozenset(r"^$\.*+?()[]{}|/-tnrfv123456789")
_MAY_BE_LEFT_OUT = frozenset("?*{")
_FLAGS = {re.IGNORECASE: "i", re.DOTALL: "s"}


def javascript(pattern: re.Pattern[str]) -> dict[str, Any]:
    """The source of the same pattern in JavaScript, and its flags where it has any besides "u".

    Raises ValueError for what is not written alike and not known here.

    >>> javascript(re.compile(r"[0-9]+ ?\\w", re.IGNORECASE))
    {'pattern': '[0-9]+ ?[\\\\p{L}\\\\p{N}_]', 'flags': 'i'}
    """
    unknown = re.RegexFlag(pattern.flags) & ~(re.UNICODE | re.IGNORECASE | re.DOTALL)
    if unknown:
        raise ValueError(f"{unknown!r} of {pattern.pattern!r} is not known")
    written, inside = [], False
    pieces = _PIECE.findall(pattern.pattern)
    for at, piece in enumerate(pieces):
        if piece == r"\b" and not inside:
            written.append(_boundary(pieces[:at], pieces[at + 1 :]))
        else:
            written.append(_written(piece, pattern.pattern, inside=inside))
        inside = (piece == "[" or inside) and piece != "]"
    flags = "".join(letter for flag, letter in _FLAGS.items() if pattern.flags & flag)
    return {"pattern": "".join(written), **({"flags": flags} if flags else {})}


def _boundary(before: list[str], behind: list[str]) -> str:
    """What "\\b" says between the pieces of a pattern: half of it is known where a letter itself stands beside it.

    Written out in full, it takes the browser ten times as long to make ready.
    """
    starts, ends = rf"(?<![{_WORD}])", rf"(?![{_WORD}])"
    if behind and behind[0].isalnum() and not (behind[1:2] and behind[1] in _MAY_BE_LEFT_OUT):
        return starts
    if before and before[-1].isalnum():
        return ends
    return rf"(?:{starts}(?=[{_WORD}])|(?<=[{_WORD}]){ends})"


def _written(piece: str, whole: str, *, inside: bool) -> str:
    """One piece of a pattern; `inside` tells whether it stands inside a class, "[…]"."""
    if piece in _LETTERS:
        return _LETTERS[piece]
    if piece.startswith(r"\N"):
        return unicodedata.lookup(piece[3:-1])
    if piece in _CLASSES:
        return _CLASSES[piece] if inside else f"[{_CLASSES[piece]}]"
    if piece == r"\S" and not inside:
        return rf"[^{_SPACE}]"
    if piece.startswith("\\") and piece[1] not in _SAME:
        raise ValueError(f"{piece!r} of {whole!r} is not known")
    return piece
