"""Slips of the keyboard in the names of substances, and what is no slip but another substance."""

from __future__ import annotations

import re

__all__ = ["confusable", "name_slips", "slips"]

_LETTERS_FOR_A_SLIP = 4
_MOST_IN_A_WORD = 2
_MOST_IN_A_NAME = 3

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

    Both in small letters, digits and single spaces. A word may have one slip for every four letters, two at
    most; the name three. Words run together or apart leave one.

    >>> name_slips("sodum chlorde", "sodium chloride"), name_slips("barium chloride", "calcium chloride")
    (2, None)
    """
    if confusable(written, name):
        return None
    words, known = written.split(), name.split()
    if len(words) != len(known):
        return _slips_within("".join(words), "".join(known), 1)
    total = 0
    for word, right in zip(words, known, strict=True):
        count = _slips_within(word, right, min(len(right) // _LETTERS_FOR_A_SLIP, _MOST_IN_A_WORD))
        if count is None:
            return None
        total += count
    return total if total <= _MOST_IN_A_NAME else None


def _slips_within(one: str, other: str, most: int) -> int | None:
    """The slips between two words, or None where there are more than so many."""
    if abs(len(one) - len(other)) > most:
        return None
    count = slips(one, other)
    return count if count <= most else None


def slips(one: str, other: str) -> int:
    """The slips between two words: letters put in, left out, wrong, or swapped with the next.

    The distance of optimal string alignment (L. Boytsov, J. Exp. Algorithmics 16, 2011, section 2.2.1).

    >>> slips("sodum", "sodium"), slips("soduim", "sodium")
    (1, 1)
    """
    before: list[int] = []
    above = list(range(len(other) + 1))
    for i, letter in enumerate(one, 1):
        row = [i]
        for j, known in enumerate(other, 1):
            cost = min(above[j] + 1, row[j - 1] + 1, above[j - 1] + (letter != known))
            if i > 1 and j > 1 and letter == other[j - 2] and known == one[i - 2]:
                cost = min(cost, before[j - 2] + 1)
            row.append(cost)
        before, above = above, row
    return above[-1]


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
