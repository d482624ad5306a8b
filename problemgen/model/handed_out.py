"""What is handed out to be filled in on a screen: its fields, and the stamp by which it is known when it comes back."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from hmac import compare_digest
from typing import Literal, TypeAlias
from urllib.parse import quote, unquote

from problemgen.model.from_secret import sealed

__all__ = ["BookRow", "Field", "Kind", "Stamp", "digest_of", "read_stamp", "stamps_in"]

Kind: TypeAlias = Literal["sheet", "workbook"]

_PREFIX = "problemgen:1"
"""What a stamp begins with: its maker, and the version of its form."""
_STAMP = re.compile(
    rf"{_PREFIX}:(?P<kind>sheet|workbook):(?P<set_id>[^:\s]{{1,200}}):(?P<build>[0-9a-f]{{16}})"
    r":(?P<code>[0-9A-Z]{4}-[0-9A-Z]{4}):(?P<contents>[0-9a-f]{32}):(?P<seal>[a-z2-7]{24})"
)
_DIGEST_BYTES = 16
"""128 bits: two pages that print differently never have the same by chance."""


@dataclass(frozen=True)
class Field:
    """A blank: its column in the responses, what is read aloud of it, and of a choice each letter with its words."""

    name: str
    said: str
    options: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class BookRow:
    """A row of a workbook: words, a given number as it is written or a `field` to fill in, its unit, what else is said.

    Without either, the words are a heading or a sentence.
    """

    words: str
    number: str = ""
    unit: str = ""
    about: str = ""
    field: Field | None = None
    is_heading: bool = False


@dataclass(frozen=True)
class Stamp:
    """What a file says of itself where nobody sees it: which sheet of which build it is, and what it printed.

    `build` is the fingerprint of the secret that the numbers were drawn from, `code` that on the sheet, `contents` the
    digest of all that is not to be filled in. The `seal` shows that who wrote all this had the secret.
    """

    kind: Kind
    set_id: str
    build: str
    code: str
    contents: str
    seal: str = ""

    def __str__(self) -> str:
        """The stamp in one word, which every program keeps as it is."""
        return ":".join((_PREFIX, *self._told, self.seal))

    @property
    def _told(self) -> tuple[str, ...]:
        return self.kind, quote(self.set_id, safe=""), self.build, self.code, self.contents

    def sealed(self, secret: bytes) -> Stamp:
        """The stamp with the seal of whoever has this secret."""
        return replace(self, seal=sealed(secret, *self._told))

    def is_sealed_with(self, secret: bytes) -> bool:
        """Whether the seal is the one that this secret gives to this stamp."""
        return compare_digest(self.seal, sealed(secret, *self._told))


def stamps_in(text: str) -> tuple[str, ...]:
    """All stamps in a text, as they stand there."""
    return tuple(found[0] for found in _STAMP.finditer(text))


def read_stamp(text: str) -> Stamp | None:
    """A stamp by its text; None for a text of another form."""
    found = _STAMP.fullmatch(text)
    if found is None:
        return None
    kind: Kind = "sheet" if found["kind"] == "sheet" else "workbook"
    told = (found[name] for name in ("build", "code", "contents", "seal"))
    return Stamp(kind, unquote(found["set_id"]), *told)


def digest_of(pieces: Iterable[bytes]) -> str:
    """The digest of what a file prints, piece by piece: each goes in with its length, without blanks at its ends."""
    digest = hashlib.sha256()
    for piece in pieces:
        told = piece.strip()
        digest.update(len(told).to_bytes(8, "big") + told)
    return digest.digest()[:_DIGEST_BYTES].hex()
