"""The languages that there are: English, in which messages stand in the code, and those with a catalogue.

`en-XA` and `ar-XB` are the pseudo-locales of the Unicode CLDR: English with accents and 40 % longer, and the same from
right to left. They show what is left out, and which layout breaks.
"""

from __future__ import annotations

from pathlib import Path

__all__ = ["ACCENTED", "ENGLISH", "FOLDER", "LANGUAGES", "REVERSED", "direction", "known"]

ENGLISH = "en"
"""The language of the messages in the code."""

ACCENTED, REVERSED = "en-XA", "ar-XB"

_RIGHT_TO_LEFT = frozenset({"ar", "dv", "fa", "he", "ps", "sd", "ug", "ur", "yi"})

FOLDER = Path(__file__).resolve().parent / "catalogues"
"""Where the catalogues are, a file a language."""

LANGUAGES = (ENGLISH, *sorted(path.stem for path in FOLDER.glob("*.po")))
"""The languages that sheets can be in."""


def direction(language: str) -> str:
    """How a language (BCP 47) is written: "ltr", from left to right, or "rtl"."""
    return "rtl" if language.partition("-")[0] in _RIGHT_TO_LEFT else "ltr"


def known(tag: str) -> str:
    """The language of ours that goes with a tag (BCP 47): itself, the one without its region, or English.

    >>> known("de-AT"), known("tlh")
    ('de', 'en')
    """
    for one in (tag, tag.partition("-")[0]):
        if one in (*LANGUAGES, ACCENTED, REVERSED):
            return one
    return ENGLISH
