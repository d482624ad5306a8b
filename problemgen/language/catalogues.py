"""The catalogues of messages, one a language, and the made-up ones that show whether anything is left out."""

from __future__ import annotations

import gettext
import io
import re
from functools import lru_cache

from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

from problemgen.language.languages import ACCENTED, ENGLISH, FOLDER, LANGUAGES, REVERSED

__all__ = ["catalogue", "pseudo"]

_LETTERS = str.maketrans(
    "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ", "åƀçðéƒĝĥîĵķļḿñöþɋŕšţûṽŵẋýžÅƁÇÐÉƑĜĤÎĴĶĻṀÑÖÞɊŔŠŢÛṼŴẊÝŽ"
)
_PLACE = re.compile(r"(\{[^{}]*\})")
_LONGER = 3  # a syllable more for each so many letters: German and Spanish sentences are up to 40 % longer


def pseudo(message: str) -> str:
    """A message with accents on all letters, and 40 % longer; the places in braces stay.

    >>> pseudo("Density of {name}")
    'Ðéñšîţý öƒ {name} ~~~~'
    """
    pieces = _PLACE.split(message)
    told = "".join(piece if index % 2 else piece.translate(_LETTERS) for index, piece in enumerate(pieces))
    letters = sum(map(len, pieces[::2]))
    return f"{told} {'~' * (letters * 2 // 5)}".rstrip() if letters >= _LONGER else told


class _Pseudo(gettext.NullTranslations):
    """A catalogue that has every message, made up from the English one."""

    def gettext(self, message: str) -> str:
        return pseudo(message)

    def pgettext(self, context: str, message: str) -> str:  # noqa: ARG002 - gettext's signature
        return self.gettext(message)

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return self.gettext(msgid1 if n == 1 else msgid2)


@lru_cache(maxsize=16)
def catalogue(language: str) -> gettext.NullTranslations:
    """The catalogue of a language (BCP 47), read once.

    Raises LookupError for a language that has none.
    """
    if language == ENGLISH:
        return gettext.NullTranslations()
    if language in (ACCENTED, REVERSED):
        return _Pseudo()
    if language not in LANGUAGES:
        raise LookupError(f"no catalogue of the language {language!r}; there are {', '.join(LANGUAGES)}")
    # Babel takes its time to load: who speaks English alone need not wait for it.

    with (FOLDER / f"{language}.po").open("rb") as file:
        messages = read_po(file, locale=language)
    compiled = io.BytesIO()
    write_mo(compiled, messages)
    return gettext.GNUTranslations(io.BytesIO(compiled.getvalue()))
