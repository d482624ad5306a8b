"""The notation of citations: what is read, and what is refused."""

from __future__ import annotations

import re

import pytest

from problemgen.errors import CitationError
from problemgen.model.citation import Citation, read_citations


@pytest.mark.parametrize(
    ("text", "citations"),
    [
        ("from-memory", [Citation("from-memory")]),
        ("green-book-2007 2.10: c = n/V", [Citation("green-book-2007", "2.10", "c = n/V")]),
        ("gold-book optical purity", [Citation("gold-book", "optical purity")]),
        ("derived: masses add up", [Citation("derived", words="masses add up")]),
        ("own: 2 : 3 by count: as it reads", [Citation("own", words="2 : 3 by count: as it reads")]),
        ("a 1: b; c; d: e", [Citation("a", "1", "b"), Citation("c"), Citation("d", words="e")]),
    ],
)
def test_a_text_is_read(text: str, citations: list[Citation]) -> None:
    assert list(read_citations(text)) == citations


@pytest.mark.parametrize(
    ("text", "refused"),
    [
        ("", ""),
        (" ", " "),
        ("IUPAC Green Book", "IUPAC Green Book"),
        ("green--book", "green--book"),
        ("green-", "green-"),
        ("green_book", "green_book"),
        ("green-book  2.10", "green-book  2.10"),
        ("green-book 2.10:c", "green-book 2.10:c"),
        ("derived:", "derived:"),
        ("derived: ", "derived: "),
        ("derived:  twice", "derived:  twice"),
        ("derived: masses ", "derived: masses "),
        ("a; ", ""),
        ("a;b", "a;b"),
        ("a; b;", "b;"),
        ("a\nb", "a\nb"),
        ("a: b\nc", "a: b\nc"),
    ],
)
def test_another_text_is_refused(text: str, refused: str) -> None:
    message = f"{refused!r} is not a citation: key place: words; another key"
    with pytest.raises(CitationError, match=f"^{re.escape(message)}$"):
        read_citations(text)
