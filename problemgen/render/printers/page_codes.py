"""The codes on the pages of a sheet, as far as they are known before it is laid out.

Which page of how many it is, only the layout knows. A QR code of fixed size and mask is linear, though: its modules are
those of the code without its last four characters, and then, for each bit that these set, the modules that this bit
turns. The layout puts them together (codes.typ).
"""

from __future__ import annotations

from functools import cache
from itertools import groupby
from typing import Any

import segno

from problemgen.model.blocks import Document, NewSheet
from problemgen.model.page_code import LETTERS, MOST_PAGES, RADIX, PageCode, check_state

__all__ = ["Rows", "page_code_data", "qr_rows"]

Rows = tuple[int, ...]
"""The modules of a code, three rows a number: the first module is the highest bit."""

_ALPHANUMERIC = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
"""The characters of the mode, by their values. Source: ISO/IEC 18004:2015, table 5."""

_VERSION, _LEVEL, _MASK = 1, "Q", 2  # 21 modules, of which a quarter may be lost; any mask can be read
_BITS, _SEVEN = 63, 7  # three rows of 21 modules, which a number of Typst holds; and a third of a row
_FOURS = ((0, 16), (4, 16), (8, 8))  # four bits at a time of the eleven that two characters take
_PAIRS = (12, 14)  # where those begin that tell the page


def page_code_data(document: Document) -> dict[str, Any]:
    """What the layout needs for the codes on the pages of a document: nothing where it has none.

    `sheets` has an entry for each sheet: the characters that all its pages share, what these leave of the check, the
    number that its first page adds to, and the modules without the last four characters.
    """
    if not document.build or not PageCode.is_sheet_code(document.code):
        return {}
    front = PageCode(document.build, document.code, 0, 1, 1).front
    shared = {"front": front, "state": check_state(front), "rows": qr_rows(front + "0000")}
    sessions = [block.session for block in document.blocks if isinstance(block, NewSheet)]
    return {"sheets": [{**shared, "place": one * MOST_PAGES * MOST_PAGES} for one in sessions], **_common()}


def qr_rows(text: str) -> Rows:
    """The modules of the code of sixteen characters."""
    code = segno.make_qr(text, version=_VERSION, error=_LEVEL, mask=_MASK, mode="alphanumeric", boost_error=False)
    bits = "".join("01"[module] for row in code.matrix for module in row)
    return tuple(int(bits[start : start + _BITS], 2) for start in range(0, len(bits), _BITS))


@cache
def _common() -> dict[str, Any]:
    """What is the same for all codes."""
    return {
        "turned": [_turned(start) for start in _PAIRS],
        "base": len(_ALPHANUMERIC),
        "strokes": [_stroke(seven) for seven in range(1 << _SEVEN)],
        "letters": LETTERS,
        "values": {letter: _ALPHANUMERIC.index(letter) for letter in LETTERS},
        "radix": RADIX,
        "most": MOST_PAGES,
    }


def _turned(start: int) -> list[list[Rows]]:
    """What two characters turn: for each four bits of their value, from the lowest on, what each value of these turns.

    `start` tells where they stand.
    """
    none = "0" * (_PAIRS[-1] + 2)
    bare = qr_rows(none)

    def turned(value: int) -> Rows:
        code = qr_rows(none[:start] + _pair(value) + none[start + 2 :])
        return tuple(one ^ other for one, other in zip(bare, code, strict=True))

    return [[turned(value << shift) for value in range(size)] for shift, size in _FOURS]


def _pair(value: int) -> str:
    first, second = divmod(value, len(_ALPHANUMERIC))
    return _ALPHANUMERIC[first] + _ALPHANUMERIC[second]


def _stroke(seven: int) -> str:
    """Seven modules of a row as a piece of a path (SVG): drawn where they are dark, passed over where they are not."""
    runs = ((dark, len(list(run))) for dark, run in groupby(f"{seven:0{_SEVEN}b}"))
    return "".join(f"h{length}" if dark == "1" else f"m{length} 0" for dark, length in runs)
