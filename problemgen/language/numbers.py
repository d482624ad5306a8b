"""Numbers and lists as the language spoken writes them; the digits stay, whatever the language."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import Literal, TypeAlias

from babel import Locale
from babel.lists import format_list

from problemgen.language.languages import ACCENTED, ENGLISH, REVERSED, direction
from problemgen.language.messages import spoken

__all__ = ["Mark", "decimal_mark", "in_digits", "in_groups", "left_to_right", "listed", "locale_of"]

Mark: TypeAlias = Literal[".", ","]
"""A decimal mark."""

_LIKE = {ENGLISH: "en_GB", ACCENTED: "en_GB", REVERSED: "ar_EG"}
"""Languages that the CLDR has several ways for: ours is "a, b and c"."""

_LONG = re.compile(r"(?<![0-9.])[0-9]{5,}")
_IN_THREES = re.compile(r"(?<=[0-9])(?=(?:[0-9]{3})+$)")

_MARK = "\N{LEFT-TO-RIGHT MARK}"


@lru_cache(maxsize=16)
def locale_of(language: str) -> Locale:
    """What the Unicode CLDR knows of a language (BCP 47)."""
    return Locale.parse(_LIKE.get(language, language), sep="-" if "-" in _LIKE.get(language, language) else "_")


@lru_cache(maxsize=16)
def decimal_mark(language: str) -> Mark:
    """The decimal mark of a language: "." or ","; a point where the CLDR has another one.

    >>> decimal_mark("en"), decimal_mark("de")
    ('.', ',')
    """
    if language in (ENGLISH, ACCENTED):
        return "."
    symbol = locale_of(language).number_symbols["latn"]["decimal"]
    return "," if symbol == "," else "."


def in_digits(number: str) -> str:
    """A number that is written with a point, with the mark of the language spoken."""
    language = spoken()
    return number if language == ENGLISH else number.replace(".", decimal_mark(language))


def in_groups(number: str) -> str:
    """The same for print: five figures and more before the mark in groups of three.

    Between them stands a narrow space that no line breaks at. Source: SI Brochure, 9th edition, 2019, section 5.4.4,
    by which four figures may stay together; figures behind the mark are left as a balance shows them.

    >>> in_groups("101325"), in_groups("1013.25000")
    ('101\u202f325', '1013.25000')
    """
    return in_digits(_LONG.sub(lambda found: _IN_THREES.sub("\u202f", found[0]), number))


def left_to_right(text: str) -> str:
    """Figures with their unit, as they stand in a line of the language spoken: "2.5 g" is not turned round in any."""
    return f"{_MARK}{text}{_MARK}" if direction(spoken()) == "rtl" else text


def listed(words: Sequence[str], *, either: bool = False) -> str:
    """Words in a row: "a, b and c"; with `either`, "a, b or c".

    >>> listed(["zinc", "acid"]), listed(["zinc", "acid", "water"], either=True)
    ('zinc and acid', 'zinc, acid or water')
    """

    return format_list(list(words), "or" if either else "standard", locale_of(spoken()))
