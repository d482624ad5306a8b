"""How somebody writes numbers, told by all their answers: one cell alone leaves open what "1,234" is."""

from __future__ import annotations

import re
from collections.abc import Iterable

__all__ = ["with_points", "writes_commas"]

_BETWEEN = re.compile(r"(?<![\d.,])(\d+),(\d+)(?![\d.,])")
"""One comma between figures."""
_POINT = re.compile(r"\d\.\d(?![\d.]*,\d)")
"""A point between figures that no comma follows: such a one would divide, and the point would group."""
_BEHIND_A_GROUP = re.compile(r"\d\.\d{3},\d")
_GROUP = 3
"""Figures of a group: behind a comma and so many, "1,234" may be a number above a thousand."""


def writes_commas(texts: Iterable[str]) -> bool:
    """Whether somebody plainly divides numbers by a comma, and nowhere by a point.

    >>> writes_commas(["10,91 g", "5,453"]), writes_commas(["5,453"]), writes_commas(["10,91", "2.5"])
    (True, False, False)
    """
    texts = list(texts)
    return any(map(_divides, texts)) and not any(map(_POINT.search, texts))


def with_points(text: str) -> str:
    """The text of somebody who divides numbers by a comma, with a point in its place.

    >>> with_points("5,453 g"), with_points("1.234,5 g")
    ('5.453 g', '1.234,5 g')
    """
    return _BETWEEN.sub(r"\1.\2", text)


def _divides(text: str) -> bool:
    """Whether a comma in a text can be nothing but a decimal mark."""
    if _BEHIND_A_GROUP.search(text):
        return True
    found = _BETWEEN.finditer(text)
    return any(len(one[2]) != _GROUP or len(one[1]) > _GROUP or one[1].startswith("0") for one in found)
