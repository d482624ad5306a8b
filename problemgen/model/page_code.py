"""The code on a printed page: which build, whose sheet, and which of its pages; with a character that checks it.

It has sixteen letters and figures, none of which is taken for another: four for the build, eight of the sheet's own
code, three for the place in the sheet, and one that checks the others. The last one follows the pure systems of
ISO/IEC 7064:2003, with a prime modulus, that of the alphabet: every wrong character and every swap of two neighbours
changes it.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

__all__ = ["LETTERS", "MOST_PAGES", "RADIX", "SLIP", "PageCode", "build_mark", "check_state", "read_page_code"]

LETTERS = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
"""Letters and digits that are not mistaken for one another in print or handwriting: a prime number of them."""

MOST_PAGES = 54
"""Pages of a sheet that have a code, with the sessions as many as three characters tell apart."""

SLIP = 0
"""Stands in the place of a session on the slip, which has the blanks of all."""

_SESSIONS = 10
RADIX = 3
"""The least primitive root of 31: a swap changes the check however far apart the two characters are."""

_BUILD, _SHEET, _PLACE, _WHOLE = 4, 8, 3, 16


@dataclass(frozen=True)
class PageCode:
    """What the code on a page says.

    `build` is what `build_mark` gives, `sheet` the code of the student's sheets ("AB2C-DE3F"), `session` tells which of
    the sheets, or SLIP; `page` counts from 1 to `pages` within it.
    """

    build: str
    sheet: str
    session: int
    page: int
    pages: int

    @property
    def text(self) -> str:
        """The sixteen characters, as the picture holds them. Raises ValueError for what no code can say."""
        if not (0 <= self.session < _SESSIONS and 1 <= self.page <= self.pages <= MOST_PAGES):
            raise ValueError(f"no code for page {self.page} of {self.pages} in session {self.session}")
        number = (self.session * MOST_PAGES + self.pages - 1) * MOST_PAGES + self.page - 1
        told = self.front + _written(number, _PLACE)
        return told + LETTERS[(1 - check_state(told)) % len(LETTERS)]

    @property
    def front(self) -> str:
        """The twelve characters that all pages of a student share."""
        return self.build + self.sheet.replace("-", "")

    @staticmethod
    def is_sheet_code(text: str) -> bool:
        """Whether a text is the code of a sheet, which the code of a page can tell."""
        plain = text.replace("-", "")
        return len(plain) == _SHEET and not set(plain) - set(LETTERS)

    @property
    def shown(self) -> str:
        """The code as a person reads it: in groups of four."""
        return " ".join(self.text[start : start + 4] for start in range(0, _WHOLE, 4))


def read_page_code(text: str) -> PageCode:
    """What a code says, from a picture or typed, with or without blanks and hyphens.

    Raises ValueError, with the reason, for text that is no code and for one whose check character does not fit.

    >>> read_page_code("K7QX 4BRM TW9H 54UF").sheet
    '4BRM-TW9H'
    """
    plain = "".join(text.upper().replace("-", " ").split())
    if len(plain) != _WHOLE or set(plain) - set(LETTERS):
        raise ValueError("no code of a page")
    if (check_state(plain[:-1]) + LETTERS.index(plain[-1])) % len(LETTERS) != 1:
        raise ValueError("a code with a character that was misread")
    rest, page = divmod(_number(plain[_BUILD + _SHEET : -1]), MOST_PAGES)
    session, pages = divmod(rest, MOST_PAGES)
    if page > pages or session >= _SESSIONS:
        raise ValueError("a code of no page")
    sheet = plain[_BUILD : _BUILD + _SHEET]
    return PageCode(plain[:_BUILD], f"{sheet[:4]}-{sheet[4:]}", session, page + 1, pages + 1)


def build_mark(secret: str, term: str, set_id: str) -> str:
    """The four characters that tell builds apart, from the fingerprint of the secret, the term and the set's name.

    A rebuild into the same folder has the same one. Two builds in 900,000 share theirs: it says why a page is foreign,
    and whose it is says the code of the sheet.
    """
    told = "".join(f"{len(name)}:{name}" for name in (secret, term, set_id))
    digest = hashlib.sha256(f"problemgen: mark of a build {told}".encode()).digest()
    return _written(int.from_bytes(digest[:8], "big") % len(LETTERS) ** _BUILD, _BUILD)


def check_state(text: str, letters: str = LETTERS, radix: int = RADIX) -> int:
    """What the characters of a text leave of the sum that a pure system of ISO/IEC 7064 checks.

    With the value of the check character it is 1 more than a multiple of the number of letters. `letters` and `radix`
    are the system's: "0123456789X" and 2 for MOD 11-2.
    """
    state = 0
    for letter in text:
        state = (state + letters.index(letter)) * radix % len(letters)
    return state


def _written(number: int, size: int) -> str:
    """A number in so many letters, the first of which counts most."""
    written = ""
    for _ in range(size):
        number, rest = divmod(number, len(LETTERS))
        written = LETTERS[rest] + written
    return written


def _number(written: str) -> int:
    number = 0
    for letter in written:
        number = number * len(LETTERS) + LETTERS.index(letter)
    return number
