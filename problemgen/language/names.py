"""What languages are called, for those who write one into a roster."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from problemgen.language.languages import LANGUAGES
from problemgen.language.numbers import locale_of

__all__ = ["language_called", "languages_told"]


def language_called(text: str) -> str:
    """The language that a text means: its code, or its name in English or in itself; "" for none that we speak.

    >>> language_called("German"), language_called("español"), language_called("en-GB"), language_called("Klingon")
    ('de', 'es', 'en', '')
    """
    wanted = " ".join(text.split()).casefold()
    return _names().get(wanted) or _names().get(wanted.replace("_", "-").partition("-")[0], "")


@cache
def _names() -> Mapping[str, str]:
    found: dict[str, str] = {}
    for language in LANGUAGES:
        locale = locale_of(language)
        said = (language, locale.get_language_name("en"), locale.get_language_name(language))
        found |= {one.casefold(): language for one in said if one}
    return found


def languages_told() -> str:
    """All languages that we speak, with their codes: "de (German), en (English)"."""
    return ", ".join(f"{language} ({locale_of(language).get_language_name('en')})" for language in LANGUAGES)
