"""The languages that there are: English, in which messages stand in the code, and those with a catalogue.

`en-XA` and `ar-XB` are the pseudo-locales of the Unicode CLDR: English with accents and 40 % longer, and the same from
right to left. They show what is left out, and which layout breaks.
"""

from __future__ import annotations

from pathlib import Path

__all__ = ["ACCENTED", "ENGLISH", "FOLDER", "LANGUAGES", "REVERSED", "known"]

ENGLISH = "en"
"""The language of the messages in the code."""

ACCENTED, REVERSED = "en-XA", "ar-XB"

FOLDER = Path(__file__).resolve().parent / "catalogues"
"""Where the catalogues are, a file a language."""

LANGUAGES = (ENGLISH, *sorted(path.stem for path in FOLDER.glob("*.po")))
"""The languages that sheets can be in."""


def known(tag: str) -> str:
    """The language of ours that goes with a tag (BCP 47): itself, the one without its region, or English.

    >>> known("de-AT"), known("tlh")
    ('de', 'en')
    """
    for one in (tag, tag.partition("-")[0]):
        if one in (*LANGUAGES, ACCENTED, REVERSED):
            return one
    return ENGLISH
