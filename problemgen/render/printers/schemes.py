"""Reaction schemes for the layout, with all widths worked out: it measures nothing, and only puts things in place.

A scheme is a few rows of cells: a side in formulas or a species with its drawing and name, a plus sign, an arrow as
long as its conditions. A row a little wider than its room is printed smaller; one that is wider still is broken.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from problemgen.model import blocks as b
from problemgen.render.printers.sizes import COMPACT, Sizes
from problemgen.render.printers.widths import LINE_HEIGHT, SLACK, lines_of, longest_word, pieces_width, text_width
from problemgen.render.sheet.structures import draw, has_skeleton
from problemgen.render.words.spoken import spoken_scheme
from problemgen.render.words.text import Pieces, chemical_pieces, clean_text, word_pieces

__all__ = ["drawings_data", "scheme_data"]

Data = dict[str, Any]

LARGE = 1.1  # the type of formulas, against that of the text
LEGEND, LEGEND_WIDTH = 0.8, 78  # the type below drawings; it is broken into lines of so many points
CONDITION, CONDITION_WIDTH = 0.82, 112  # the same at arrows, so that they leave room for the molecules
SHORTEST, ENDS = 30, 14  # points: an arrow without words, and what it has beyond them
BESIDE_COEFFICIENT = 0.3  # em
BETWEEN_LINES = 0.35  # em, of the conditions
BETWEEN_DRAWN, BETWEEN_WRITTEN = 7, 8  # points, between two cells
LONG_ARROW = "⟶"


@dataclass(frozen=True)
class _Cell:
    """What stands in one place of a row: its width in points, and what the layout prints there."""

    width: float
    data: Data


_Row = Sequence[_Cell]


@dataclass(frozen=True)
class _Geometry:
    """Where a scheme stands: the width of its line in points, the sizes of the layout, and the size of its type."""

    room: float
    sizes: Sizes
    size: float

    @property
    def compact(self) -> bool:
        return self.sizes is COMPACT

    def widest(self, *, bare: bool = False) -> float:
        """How wide a row may be: it is shrunk by so much before it is broken.

        On a compact sheet what is as small as may be stands at an arrow and below drawings; formulas alone are set a
        little larger.
        """
        if self.compact:
            return 1.15 * self.room if bare else self.room
        return 1.2 * self.room

    def fitted(self, row: _Row, gutter: float) -> Data:
        """A row for the layout, with the factor by which it is smaller."""
        width = _width(row, gutter)
        return {
            "cells": [cell.data for cell in row],
            "columns": [cell.width for cell in row],
            "width": width,
            "factor": min(1.0, self.room / width) if width else 1.0,
        }


def drawings_data(schemes: Iterable[b.Scheme]) -> Data:
    """The drawings of all species that are drawn, by SMILES, with their sizes in points."""
    wanted = {_drawable(item) for scheme in schemes if scheme.drawn for item in (*scheme.left, *scheme.right)}
    drawings = {smiles: draw(smiles) for smiles in sorted(wanted - {""})}
    return {
        smiles: {"svg": drawing.svg, "width": drawing.width_pt, "height": drawing.height_pt}
        for smiles, drawing in drawings.items()
    }


def scheme_data(block: b.Scheme, room: float, sizes: Sizes) -> Data:
    """What a scheme says; and how it is laid out in a line `room` points wide: in which form, and its rows of cells."""
    drawn = block.drawn and any(_drawable(item) for item in (*block.left, *block.right))
    size = sizes.base if drawn else LARGE * sizes.base
    laid_out = (_drawn if drawn else _written)(block, _Geometry(room, sizes, size))
    return {
        "left": [_said(item, drawn=block.drawn) for item in block.left],
        "right": [_said(item, drawn=block.drawn) for item in block.right],
        "above": word_pieces(block.above),
        "below": word_pieces(block.below),
        "alt": spoken_scheme(block),
        "drawn": drawn,
        **laid_out,
    }


def _said(item: b.SchemeItem, *, drawn: bool) -> Data:
    return {
        "coefficient": _coefficient(item),
        "formula": chemical_pieces(item.formula),
        "name": clean_text(item.name),
        "smiles": _drawable(item) if drawn else "",
    }


def _coefficient(item: b.SchemeItem) -> str:
    return "" if item.coefficient == 1 else str(item.coefficient)


def _drawable(item: b.SchemeItem) -> str:
    return item.smiles if item.smiles and has_skeleton(item.smiles) else ""


def _sides(block: b.Scheme) -> tuple[tuple[str, Sequence[b.SchemeItem]], ...]:
    return ("left", block.left), ("right", block.right)


def _width(row: _Row, gutter: float) -> float:
    return sum(cell.width for cell in row) + gutter * max(0, len(row) - 1)


def _drawn(block: b.Scheme, place: _Geometry) -> Data:
    """Drawings in one row, or one a side, or as many as it takes; formulas and names where a column is too narrow."""
    left, right = (list(_drawn_side(name, side, place)) for name, side in _sides(block))
    arrow = _arrow(block, place)
    whole = [*left, arrow, *right]
    ways: list[list[_Row]] = [[whole]] if place.compact else [[whole], [left, [arrow, *right]]]
    fitting = next((rows for rows in ways if all(_width(r, BETWEEN_DRAWN) <= place.widest() for r in rows)), None)
    if fitting is None and place.compact:
        return _written(block, place)
    rows = fitting or list(_packed(whole, place.room))
    return {"form": "drawn", "rows": [place.fitted(row, BETWEEN_DRAWN) for row in rows]}


def _packed(cells: Iterable[_Cell], room: float) -> Iterator[_Row]:
    """Cells in as many rows as they need; each row has one at least."""
    row: list[_Cell] = []
    for cell in cells:
        if row and _width([*row, cell], BETWEEN_DRAWN) > room:
            yield row
            row = []
        row.append(cell)
    if row:
        yield row


def _drawn_side(name: str, side: Sequence[b.SchemeItem], place: _Geometry) -> Iterator[_Cell]:
    for index, item in enumerate(side):
        if index:
            yield _Cell(LARGE * place.size * text_width("+"), {"kind": "plus"})
        width, columns = _species(item, place)
        yield _Cell(width, {"kind": "species", "side": name, "index": index, "columns": columns})


def _species(item: b.SchemeItem, place: _Geometry) -> tuple[float, tuple[float, float]]:
    """The width of a species, and those of coefficient and picture.

    A species stands above its name, and the formula if it is drawn, in lines no wider than they need.
    """
    smiles, name, formula = _drawable(item), clean_text(item.name), chemical_pieces(item.formula)
    large, small = LARGE * place.size, place.sizes.smaller(LEGEND, place.size)
    pictured = draw(smiles).width_pt * place.sizes.drawings if smiles else large * pieces_width(formula)
    coefficient = _coefficient(item)
    before = large * text_width(coefficient)
    beside = before + BESIDE_COEFFICIENT * place.size if coefficient else 0.0
    below = pieces_width(formula) if smiles else 0.0
    in_one_line, narrowest = max(text_width(name), below), max(longest_word(name), below)
    legend = min(small * in_one_line, max(LEGEND_WIDTH, small * narrowest))
    return max(beside + pictured, legend) + SLACK, (before, pictured)


def _arrow(block: b.Scheme, place: _Geometry) -> _Cell:
    """An arrow as long as its conditions, which stand above and below it at equal heights."""
    small = place.sizes.smaller(CONDITION, place.size)
    above, below = (lines_of(word_pieces(words), CONDITION_WIDTH / small) for words in (block.above, block.below))
    room = max(SHORTEST, *(_conditions_width(lines, small) for lines in (above, below)))
    most = max(len(above), len(below))
    height = most * LINE_HEIGHT * small + max(0, most - 1) * BETWEEN_LINES * place.size
    data = {"lines": (above, below), "room": room, "height": height, "length": room + ENDS}
    return _Cell(room + ENDS, {"kind": "arrow", **data})


def _conditions_width(lines: Sequence[Pieces], size: float) -> float:
    natural = max((size * pieces_width(line) + SLACK for line in lines), default=0.0)
    return natural if len(lines) < 2 else max(natural, CONDITION_WIDTH)


def _written(block: b.Scheme, place: _Geometry) -> Data:
    """Formulas in one row, or in lines: those of an arrow without words go on as text does."""
    bare = not block.above and not block.below
    left, right = (_written_side(name, side, place) for name, side in _sides(block))
    arrow = _Cell(place.size * text_width(LONG_ARROW), {"kind": "bare arrow"}) if bare else _arrow(block, place)
    whole = (left, arrow, right)
    too_wide = _width(whole, BETWEEN_WRITTEN) > place.widest(bare=bare)
    rows = _written_rows(left, arrow, right, place) if too_wide and not bare else [whole]
    form = "wrapped" if too_wide and bare else "written"
    return {"form": form, "rows": [place.fitted(row, BETWEEN_WRITTEN) for row in rows]}


def _written_rows(left: _Cell, arrow: _Cell, right: _Cell, place: _Geometry) -> list[_Row]:
    """The left side alone, and the right one behind the arrow if there is room for both."""
    if _width((arrow, right), BETWEEN_WRITTEN) <= place.widest():
        return [(left,), (arrow, right)]
    return [(left,), (arrow,), (right,)]


def _written_side(name: str, side: Sequence[b.SchemeItem], place: _Geometry) -> _Cell:
    width = text_width(" + ") * max(0, len(side) - 1)
    for item in side:
        coefficient = _coefficient(item)
        width += pieces_width(chemical_pieces(item.formula))
        width += text_width(coefficient) + BESIDE_COEFFICIENT if coefficient else 0.0
    return _Cell(place.size * width + SLACK, {"kind": "side", "side": name})
