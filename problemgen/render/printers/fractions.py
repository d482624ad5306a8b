"""Which side of a fraction is the wider one, whose edge is the bar: the layout measures neither.

Both sides are known by their letters; where one is of a font that the tables do not have, the layout measures.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from problemgen.render.printers.widths import SMALL, Style, is_known, text_width

__all__ = ["wider_amounts", "wider_line", "with_bars"]

Data = Mapping[str, Any]

_SPACE, _TIMES, _BEFORE_UNITS = 0.25, 0.44, 0.22  # em: between units, beside "×", behind a number (worked.typ)

_Piece = tuple[str, str, Style]
"""A text with its place ("text", "sub", "sup") and style; a gap is a number of em as text, in the place "gap"."""


def with_bars(calculation: Data) -> dict[str, Any]:
    """The data of a line of working; each fraction in it is told its wider side as "bar"."""
    relation = calculation["relation"]
    terms = [{**ratio, "bar": wider_amounts(ratio["top"], ratio["bottom"])} for ratio in calculation["terms"]]
    return {**calculation, "relation": {**relation, "bar": wider_line(relation["top"], relation["bottom"])},
            "terms": terms}  # fmt: skip


def wider_amounts(top: Sequence[Data], bottom: Sequence[Data]) -> str:
    """Which of two products of amounts is wider, as the layout's data have them: "top", "bottom", or "" for unknown."""
    return _wider([*_product(top)], [*_product(bottom)])


def wider_line(top: Sequence[Data], bottom: Sequence[Data]) -> str:
    """The same of two lines of symbols and words."""
    return _wider([*_line(top)], [*_line(bottom)])


def _wider(top: list[_Piece], bottom: list[_Piece]) -> str:
    if not bottom or not all(is_known(text) for _, text, _ in (*top, *bottom)):
        return ""
    return "top" if _width(top) > _width(bottom) else "bottom"


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
