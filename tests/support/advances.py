"""The widths of the letters that sheets are printed in, as Typst measures them: its fonts are in no file of their own.

python tests/support/advances.py        writes problemgen/render/printers/advances.py anew
"""

from __future__ import annotations

import json
import sys
import unicodedata
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import typst

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from problemgen.write.fonts import NO_FOLDER, fonts  # noqa: E402 - the checkout's own packages come first

__all__ = ["FAMILY", "PATH", "measured", "module_text"]

FAMILY = "Libertinus Serif"
PATH = ROOT / "problemgen" / "render" / "printers" / "advances.py"
_BLOCKS = (
    *((0x20, 0x7F), (0xA0, 0x250), (0x1E00, 0x1F00)),  # Latin
    *((0x370, 0x460), (0x5D0, 0x5EB)),  # Greek, Cyrillic, Hebrew
    *((0x2010, 0x2028), (0x2030, 0x203B), (0x2070, 0x2095), (0x2190, 0x2194), (0x2212, 0x2213)),  # signs
)
_NO_WIDTH_OF_ITS_OWN = frozenset({"Cc", "Cf", "Cn", "Co", "Cs", "Mn", "Me", "Mc"})
_SOURCE = b"""#let data = json("data.json")
#set text(font: data.fonts, fallback: false, size: 1000pt, dir: ltr)
#set text(weight: "bold") if data.style == "bold"
#set text(style: "italic") if data.style == "italic"
#context [#metadata(data.texts.map(one => measure(text(one)).width.pt())) <widths>]
"""
_PROBE = b"""#let data = json("data.json")
#set document(title: "probe", date: none)
#set text(font: data.fonts, fallback: false, lang: "en")
= #text(data.texts.first())
"""
_HEAD = '''"""How wide letters are in the font of printed sheets, and how far neighbours move (kerning, ligatures).

Written by tests/support/advances.py from what Typst measures; not to be changed by hand.
"""

__all__ = ["ADVANCES", "FONT_SIZE", "PAIRS"]

FONT_SIZE = 1000
"""The size, in points, that the widths are given for."""

# fmt: off
'''
_STYLES = ("regular", "bold", "italic")


def measured(texts: Sequence[str], families: Sequence[str] = (FAMILY,), style: str = "regular") -> list[float]:
    """The widths of texts at 1000 pt, in points; `style` is "bold" or "italic"."""
    compiler = typst.Compiler(_files(_SOURCE, texts, families, style), root=NO_FOLDER, font_paths=fonts())
    widths: list[float] = json.loads(compiler.query("<widths>", field="value", one=True))
    return widths


def _files(source: bytes, texts: Sequence[str], families: Sequence[str], style: str = "regular") -> Any:
    data = {"fonts": families, "texts": texts, "style": style}
    return {"main.typ": source, "data.json": json.dumps(data).encode()}


def _shown(letter: str) -> bool:
    """Whether the font has the letter: under PDF/UA-1 one that is missing is an error."""
    try:
        typst.Compiler(root=NO_FOLDER, font_paths=fonts()).compile(
            input=_files(_PROBE, [letter], (FAMILY,)), pdf_standards=["ua-1"]
        )
    except typst.TypstError:
        return False
    return True


def module_text() -> str:
    """The module as it is to be."""
    letters = [
        chr(code)
        for first, end in _BLOCKS
        for code in range(first, end)
        if unicodedata.category(chr(code)) not in _NO_WIDTH_OF_ITS_OWN and _shown(chr(code))
    ]
    tables = {style: _tables(letters, style) for style in _STYLES}
    advances = "".join(f"    {style!r}: (\n{_lines(table)}    ),\n" for style, (table, _) in tables.items())
    pairs = "".join(f"    {style!r}: (\n{_lines(table)}    ),\n" for style, (_, table) in tables.items())
    return (
        (
            f"{_HEAD}ADVANCES = {{\n{advances}}}\n"
            '"""By style: a width, and the letters that are so wide, and so on. A space is as wide as \\u00a0."""'
            f"\n\nPAIRS = {{\n{pairs}}}\n"
            '"""By style: by how much two letters stand closer (below 0) or wider, and all such pairs, and so on."""\n'
        )
        .replace("'regular'", '"regular"')
        .replace("'bold'", '"bold"')
        .replace("'italic'", '"italic"')
    )


def _tables(letters: Sequence[str], style: str) -> tuple[str, str]:
    advances = dict(zip(letters, map(round, measured(letters, style=style)), strict=True))
    ascii_letters = [letter for letter in letters if letter.isascii()]
    pairs = [one + other for one in ascii_letters for other in ascii_letters]
    moved = {
        pair: by
        for pair, width in zip(pairs, measured(pairs, style=style), strict=True)
        if (by := round(width) - advances[pair[0]] - advances[pair[1]])
    }
    del advances[" "]
    assert not any(" " in pair for pair in moved)
    return _told(advances), _told(moved)


def _told(values: Mapping[str, int]) -> str:
    by_value: dict[int, str] = {}
    for text, value in values.items():
        by_value[value] = by_value.get(value, "") + text
    return " ".join(f"{value} {texts}" for value, texts in sorted(by_value.items()))


def _lines(text: str) -> str:
    return "".join(f"        {text[start : start + 90]!r}\n" for start in range(0, len(text), 90))


if __name__ == "__main__":
    PATH.write_text(module_text(), encoding="utf-8")
