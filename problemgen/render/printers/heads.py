"""Whether what stands at the head of a page has room beside each other: where it surely has, nothing is measured."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from problemgen.render.printers.sizes import MM, Sizes
from problemgen.render.printers.widths import text_width

__all__ = ["has_room"]

_SMALL = 0.86  # the type of a head, against that of the text; a name is as large as the text, and bold
_BOLD, _ITALIC = 1.25, 1.1  # by how much such letters are wider at most, all of a text together
_LINE = 62 * MM  # to write a name on
_CODE = 14 * MM  # the place of a page's code, at the head of a compact sheet
_BETWEEN, _SHARE = 12, 0.62  # points between both sides; of the line, what a name may take


def has_room(data: Mapping[str, Any], sizes: Sizes) -> bool:
    """Whether there is room for course and titles beside the name and what is told below it; `data` is the sheet's."""
    words = data["words"]
    names = [data["student"]] if data["student"] else [words["confidential"], data["code"]]
    labels = [words["name"], words["sheet"]]
    titles = [data["title"], *(block["title"] for block in data["blocks"] if block["kind"] == "sheet")]
    small = sizes.smaller(_SMALL, sizes.base)
    name = small * _widest([f"{label}: " for label in labels]) + max(_LINE, sizes.base * _BOLD * _widest(names))
    right = max(name, small * text_width(data["about"]))
    left = small * max(text_width(data["course"]), _ITALIC * _widest(titles))
    room = sizes.page(data["paper"]) - (_CODE if data["compact"] else 0)
    return right <= _SHARE * room and left + right + _BETWEEN <= room


def _widest(texts: list[str]) -> float:
    return max(map(text_width, texts))
