"""Capitals as the language spoken has them."""

from __future__ import annotations

from problemgen.language.messages import spoken

__all__ = ["inside_a_sentence", "opening_a_sentence"]

_CAPITAL_NOUNS = frozenset({"de", "lb"})
"""Languages in which a noun has its capital wherever it stands."""


def inside_a_sentence(words: str) -> str:
    """Words that open with a capital, as they stand inside a sentence.

    >>> inside_a_sentence("Run")
    'run'
    """
    return words if spoken().partition("-")[0] in _CAPITAL_NOUNS else words[:1].lower() + words[1:]


def opening_a_sentence(words: str) -> str:
    """Words with a capital; those whose second letter is one keep their own, as "pH" does.

    >>> opening_a_sentence("masa de cinc"), opening_a_sentence("pH de la disolución")
    ('Masa de cinc', 'pH de la disolución')
    """
    return words if words[1:2].isupper() else words[:1].upper() + words[1:]
