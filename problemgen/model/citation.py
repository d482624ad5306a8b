"""Where a figure, a law or a rule is from: citations by the keys of banks/sources.toml.

The notation, in banks, templates, laws and tests alike:

    green-book-2007 2.10: c = n/V; common-practice: percent m/V

One citation, or several with a semicolon and a space between them. Each is a key of small letters, digits and hyphens;
then, behind a space, the place (a section, a table, an entry); then, behind a colon and a space, what is taken from
there. A source tells whether a place or words are needed.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import BeforeValidator

from problemgen.errors import CitationError

__all__ = ["Citation", "Citations", "read_citations"]

_CITATION = re.compile(
    r"(?P<key>[a-z0-9]+(?:-[a-z0-9]+)*)(?: (?P<place>[^:;\s][^:;\n]*))?(?:: (?P<words>[^;\s][^;\n]*))?"
)


@dataclass(frozen=True)
class Citation:
    """A source by its key, the place in it, and what is taken from there; "" for what is not told."""

    key: str
    place: str = ""
    words: str = ""


def read_citations(text: str) -> tuple[Citation, ...]:
    """The citations of a text, in its order.

    Raises:
        CitationError: for a text that is not in the notation.

    >>> read_citations("green-book-2007 2.10: c = n/V; from-memory")
    (Citation(key='green-book-2007', place='2.10', words='c = n/V'), Citation(key='from-memory', place='', words=''))
    """
    return tuple(_read(one) for one in text.split("; "))


def _read(text: str) -> Citation:
    match = _CITATION.fullmatch(text)
    if match is None or text != text.rstrip():
        raise CitationError(f"{text!r} is not a citation: key place: words; another key")
    return Citation(match["key"], match["place"] or "", match["words"] or "")


def _citations(value: Any) -> tuple[Citation, ...]:
    if not isinstance(value, str):
        raise ValueError("citations")  # noqa: TRY004 - pydantic collects ValueError only
    try:
        return read_citations(value)
    except CitationError as error:
        raise ValueError(f"citations: {error}") from None


Citations = Annotated[tuple[Citation, ...], BeforeValidator(_citations)]
"""Citations in a field of a document."""
