"""Slips of the keyboard in the names of substances, and what is no slip but another substance."""

from __future__ import annotations

import re

from rapidfuzz.distance import OSA

__all__ = ["confusable", "name_slips"]

_LETTERS_FOR_A_SLIP = 4
_MOST_IN_A_WORD = 2
_MOST_IN_A_NAME = 3
"""Tried on the names of the bank with one and with two random slips in each, and on all pairs of names.

With four letters a slip, 84 % and 58 % are read, and 3 pairs of substances are within slips of each other (where both
are offered, the nearer one counts, or the answer is ambiguous). Three letters: 85 % and 70 %, but 7 pairs, boric and
formic acid among them; five: 77 % and 43 %. A word with one slip at most: 31 % of those with two; with three at most,
and a name with two or four: no more than with these.
"""

# What tells substances apart: where both names have one of these and they differ, neither is a slip.
_STEM = re.compile("meth|eth|prop|but|pent|hex|hept|oct|chlor|brom|iod|fluor|sulf|nitr|phosph|carbon|citr")
_ENDING = re.compile(r"(?:ate|ite|ide|ane|ene|yne|ine|anol|anal|one|ous|ic|ium|ia|yl)s?$")
# A multiplying or oxidation-state prefix at the start of a word: there or not, it makes another substance.
_PREFIX = re.compile(r"\b(?:mono|di|tri|tetra|penta|hexa|hemi|sesqui|per|hypo|thio|iso|tert|bi)")
# o-, m-, p-, N-, and the words for them: another place in the molecule.
_POSITION = re.compile(r"\b(?:[a-z]|ortho|meta|para|cis|trans)\b")
_NUMERAL = re.compile(r"\b(?:i{1,3}|iv|vi{0,3})\b|[0-9]+")


def name_slips(written: str, name: str) -> int | None:
    """The slips that make what was written of a name, or None if it is not that name with slips.

    A slip is a letter put in, left out, wrong, or swapped with the next (the distance of optimal string alignment).
    Both in small letters, digits and single spaces. A word may have one slip for every four letters, two at
    most; the name three. Words run together or apart leave one.

    >>> name_slips("sodum chlorde", "sodium chloride"), name_slips("barium chloride", "calcium chloride")
    (2, None)
    """
    if confusable(written, name):
        return None
    words, known = written.split(), name.split()
    if len(words) != len(known):
        together = OSA.distance("".join(words), "".join(known), score_cutoff=1)
        return together if together <= 1 else None
    total = 0
    for word, right in zip(words, known, strict=True):
        most = min(len(right) // _LETTERS_FOR_A_SLIP, _MOST_IN_A_WORD)
        count = OSA.distance(word, right, score_cutoff=most)  # most + 1 for any distance above it
        if count > most:
            return None
        total += count
    return total if total <= _MOST_IN_A_NAME else None


def confusable(written: str, name: str) -> bool:
    """Whether two names in plain small letters differ in what makes them two substances.

    >>> confusable("sodium sulfite", "sodium sulfate"), confusable("sodium sulfat", "sodium sulfate")
    (True, False)
    """
    if any(part.findall(written) != part.findall(name) for part in (_NUMERAL, _PREFIX, _POSITION)):
        return True
    if _both_differ(_STEM.findall(written), _STEM.findall(name)):
        return True
    words, known = written.split(), name.split()
    if len(words) != len(known):
        return _both_differ(_ENDING.findall(written), _ENDING.findall(name))
    pairs = zip(words, known, strict=True)
    return any(_both_differ(_ENDING.findall(one), _ENDING.findall(other)) for one, other in pairs)


def _both_differ(ours: list[str], theirs: list[str]) -> bool:
    """Whether both names have such parts, and not the same ones."""
    return bool(ours) and bool(theirs) and ours != theirs
