"""What the layout has to know of a fraction to measure none: which side is wider, and what letters are below the bar.

Both sides are known by their letters; where one is of a font that the tables do not have, the layout measures.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from problemgen.render.printers.widths import SMALL, Style, is_known, text_width

__all__ = ["amounts_fraction", "lines_fraction"]

Data = Mapping[str, Any]

_SPACE, _TIMES, _BEFORE_UNITS = 0.25, 0.44, 0.22  # em: between units, beside "×", behind a number (worked.typ)

_Piece = tuple[str, str, Style]
"""A text with its place ("text", "sub", "sup") and style; a gap is a number of em as text, in the place "gap"."""


def amounts_fraction(top: Sequence[Data], bottom: Sequence[Data]) -> dict[str, Any]:
    """The fraction of two products of amounts, as the layout's data have them."""
    return _fraction([*_product(top)], [*_product(bottom)])


def lines_fraction(top: Sequence[Data], bottom: Sequence[Data]) -> dict[str, Any]:
    """The fraction of two lines of symbols and words, as the layout's data have them."""
    return _fraction([*_line(top)], [*_line(bottom)])


def _fraction(top: list[_Piece], bottom: list[_Piece]) -> dict[str, Any]:
    """Whose edge is the bar, and which letters the lower line has beside those on the line; no bar: to be measured."""
    if not bottom or not all(is_known(text) for _, text, _ in (*top, *bottom)):
        return {"bar": "", "raised": False, "lowered": False}
    places = {place for place, _, _ in bottom}
    bar = "top" if _width(top) > _width(bottom) else "bottom"
    return {"bar": bar, "raised": "sup" in places, "lowered": "sub" in places}


def _width(pieces: Iterable[_Piece]) -> float:
    """In em."""
    return sum(
        float(text) if place == "gap" else text_width(text, style) * (1 if place == "text" else SMALL)
        for place, text, style in pieces
    )


def _run(pieces: Iterable[Sequence[str]]) -> Iterator[_Piece]:
    yield from ((place, text, "regular") for place, text in pieces)


def _gap(width: float) -> _Piece:
    return "gap", str(width), "regular"


def _product(amounts: Sequence[Data]) -> Iterator[_Piece]:
    for place, amount in enumerate(amounts):
        if place:
            yield from (("text", "×", "regular"), _gap(_TIMES))
        yield from _run(amount["number"])
        if amount["units"] or amount["of"]:
            yield _gap(_BEFORE_UNITS)
        for unit in amount["units"]:
            yield _gap(_SPACE) if unit["join"] == " " else ("text", unit["join"], "regular")
            yield from (("text", unit["text"], "regular"), ("sup" if unit["sup"] else "text", unit["sup"], "regular"))
        if amount["units"] and amount["of"]:
            yield _gap(_SPACE)
        yield from _run(amount["of"])


def _line(line: Sequence[Data]) -> Iterator[_Piece]:
    for piece in line:
        if piece["kind"] == "chemical":
            yield from _run(piece["pieces"])
        elif piece["kind"] == "symbol":
            yield ("text", piece["letter"], "italic")
            if piece["sub"]:
                yield ("sub", piece["sub"], "regular")
            if piece["of"]:
                yield from (("text", "()", "regular"), *_run(piece["of"]))
        else:
            yield ("text", piece["text"], "bold" if piece["kind"] == "strong" else "regular")
