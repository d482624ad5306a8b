"""The fonts of printed sheets, and which letters of a name they can show."""

from __future__ import annotations

import importlib.util
import json
import unicodedata
from collections.abc import Callable, Iterable, Iterator
from contextlib import ExitStack, contextmanager
from functools import cache
from pathlib import Path
from typing import Any

import typst

from problemgen.write.processes import helpers

__all__ = ["NO_FOLDER", "font_families", "fonts", "missing_glyphs", "printable", "unprintable"]

_APART_FROM = 20
"""Fewer texts are looked at here: a process for it takes 0.4 s to start, but the fonts' 90 MB end with it."""

PREFERRED_FAMILIES = (
    "Libertinus Serif",  # Latin, Greek, Cyrillic, Hebrew
    "DejaVu Sans",  # Arabic, and bold Hebrew
    "Noto Serif CJK SC",
    "Noto Serif CJK JP",
    "Noto Serif CJK KR",
    "FreeSans",  # Devanagari and others
    "DejaVu Sans Mono",  # Arabic where DejaVu Sans is not installed
)
SYSTEM_FOLDERS = (
    Path("/usr/share/fonts/opentype/noto"),  # fonts-noto-cjk
    Path("/usr/share/fonts/truetype/dejavu"),  # fonts-dejavu-core
)
NO_FOLDER = __file__
"""The root of a compiler. Nothing lies below a file: what a layout asks for by name can only be a virtual one."""
NO_GLYPH = "\u25a1"  # a white square, which the fonts have
PROBE = b"""#let data = json("data.json")
#set document(title: "probe", date: none)
#set text(font: data.fonts, fallback: false, lang: "en")
= #text(data.text)
"""


@cache
def fonts() -> typst.Fonts:
    """Typst's own fonts, RDKit's FreeSans and, where installed, the system's Noto CJK and DejaVu."""
    folders = [folder for folder in (*_wheel_folders(), *SYSTEM_FOLDERS) if folder.is_dir()]
    return typst.Fonts(include_system_fonts=False, font_paths=list(map(str, folders)))


@cache
def font_families() -> tuple[str, ...]:
    """The families of `fonts` that sheets use, in the order in which a letter is looked for.

    Others are never used, so that a sheet does not change with what else lies in those folders.
    """
    present = set(fonts().families())
    return tuple(family for family in PREFERRED_FAMILIES if family in present)


def missing_glyphs(text: str) -> str:
    """The characters of the text that no font can show, each once; "" if it can be printed.

    Typst itself is asked, under the same standard as the sheets, because a missing letter stops a sheet.
    """
    letters = "".join(sorted({letter for letter in text if not letter.isascii()}))
    if not letters or (_shows(text) and _shows(letters)):
        return ""
    return "".join(letter for letter in letters if not _shows(letter)) or letters


@contextmanager
def unprintable(texts: Iterable[str]) -> Iterator[Callable[[], frozenset[str]]]:
    """Look for those of some texts that have `missing_glyphs`, many in a process of its own; the call waits for it."""
    asked = sorted({text for text in texts if not text.isascii()})
    if len(asked) < _APART_FROM:
        found = frozenset(filter(missing_glyphs, asked))
        yield lambda: found
        return
    with ExitStack() as stack:
        missing = stack.enter_context(helpers(1)).submit(_each_missing, asked)

        @cache
        def answer() -> frozenset[str]:
            with stack:  # the process, with all its fonts, ends as soon as it has answered
                return frozenset(text for text, one in zip(asked, missing.result(), strict=True) if one)

        yield answer


def _each_missing(texts: list[str]) -> list[str]:
    return list(map(missing_glyphs, texts))


def printable(value: Any) -> Any:
    """The data of a sheet (strings in lists and dictionaries) with a box for every letter that no font can show.

    What a student writes may hold anything, and a missing letter would stop the sheet.
    """
    if isinstance(value, str):
        return value if value.isascii() else _boxed(value)
    if isinstance(value, dict):
        return {key: printable(one) for key, one in value.items()}
    return [printable(one) for one in value] if isinstance(value, list) else value


def _boxed(text: str) -> str:
    boxed = "".join(letter if letter.isascii() or _shows(letter) else NO_GLYPH for letter in text)
    # Marks and joiners may make a letter of their own with their neighbours: only then is the whole text asked for.
    joined = any(unicodedata.category(letter) in ("Mn", "Mc", "Me", "Cf") for letter in boxed)
    if not joined or _shows(boxed):
        return boxed
    return "".join(letter if letter.isascii() else NO_GLYPH for letter in boxed)


@cache
def _shows(text: str) -> bool:
    data = json.dumps({"text": text, "fonts": font_families()}).encode()
    files: Any = {"main.typ": PROBE, "data.json": data}  # a form that typst's declared types leave out
    try:
        _probe_compiler().compile(input=files, pdf_standards=["ua-1"])
    except typst.TypstError:
        return False
    return True


@cache
def _probe_compiler() -> typst.Compiler:
    return typst.Compiler(root=NO_FOLDER, font_paths=fonts())


def _wheel_folders() -> Iterator[Path]:
    found = importlib.util.find_spec("rdkit")
    for folder in (found.submodule_search_locations or ()) if found else ():
        yield Path(folder) / "Chem" / "Draw"
