"""The head of a page with its widths worked out, so that the layout need not measure it on every page."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from problemgen.render.printers.sizes import MM, Sizes
from problemgen.render.printers.widths import SLACK, is_known, text_width

__all__ = ["head_data"]

Data = dict[str, Any]

_SMALL = 0.86  # the type of a head, against that of the text; a name is as large as the text
_LINE, _COMPACT_LINE = 62 * MM, 56 * MM  # to write a name on
_CODE = 14 * MM  # the place of a page's code, at the head of a compact sheet
_BETWEEN = 12  # points between both sides
_NAME, _ABOUT = 0.62, 0.5  # of the line: what a name may take beside the course, and what is told below it


def head_data(data: Mapping[str, Any], sizes: Sizes) -> Data | None:
    """Where everything in a head stands, by the data of the sheet; None where that must be measured.

    A name has a line to itself where it has no room beside the course (`beside`); `share` is the width of the right
    side in points. Each text has its width, and the factor by which it is smaller where its place is too narrow. Texts
    in letters of other fonts are measured, unless there is room however wide they are.
    """
    small = sizes.smaller(_SMALL, sizes.base)
    titles = data["titles"]
    room = sizes.page(data["paper"]) - (_CODE if data["compact"] and data["codes"] else 0)
    name, about = _name_width(data, sizes, small), small * text_width(data["about"])
    beside = name <= _NAME * room
    share = SLACK + (min(max(name, about), _NAME * room) if beside else min(about, _ABOUT * room))
    left = room - share - _BETWEEN
    head = {
        "share": share,
        "beside": beside,
        "name": _fitted(name, share if beside else room),
        "about": _fitted(about, share),
        "course": _fitted(small * text_width(data["course"]), left),
        "titles": [_fitted(small * text_width(title, "italic"), left if beside else room) for title in titles],
    }
    told = [data["student"], data["about"], data["course"], *data["words"].values(), *titles]
    return head if all(map(is_known, told)) or (beside and _whole(head)) else None


def _name_width(data: Mapping[str, Any], sizes: Sizes, small: float) -> float:
    """The width of the name or of what stands in its place (`name-of` in pages.typ), in points."""
    words = data["words"]
    if data["student"]:
        return small * text_width(f"{words['name']}: ") + sizes.base * text_width(data["student"], "bold")
    if data["name_line"]:
        return small * text_width(f"{words['name']}: ") + (_COMPACT_LINE if data["compact"] else _LINE)
    if data["confidential"]:
        return sizes.base * text_width(words["confidential"], "bold")
    return small * text_width(f"{words['sheet']}: ") + sizes.base * text_width(data["code"], "bold")


def _fitted(width: float, room: float) -> Data:
    return {"width": width + SLACK, "factor": min(1.0, room / (width + SLACK))}


def _whole(head: Data) -> bool:
    """Whether nothing is made smaller."""
    return all(one["factor"] == 1 for one in (head["name"], head["about"], head["course"], *head["titles"]))
