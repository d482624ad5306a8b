"""What of a document is in English still: words that no catalogue had.

In the pseudo-language every message has its letters accented, so that a word of plain letters is one that went past
the catalogue. In German or Spanish a word is English when English messages have it, and none of the language's own.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from functools import cache
from typing import Any

from problemgen.chemistry.formula import read_formula
from problemgen.chemistry.unit_list import UNITS
from problemgen.errors import FormulaError
from problemgen.language.catalogues import pseudo
from problemgen.language.languages import ACCENTED
from problemgen.language.messages import speaking
from problemgen.load.sets.translated import set_in
from problemgen.model.banks import Banks, Names
from problemgen.model.blocks import Amount, Chemical, Document, SchemeItem, Symbol, UnitPiece
from problemgen.model.problem_set import Student
from problemgen.render.key.variant_key import key_document
from problemgen.render.sheet.sheet import sheet_document
from tests.support.catalogues import collected, translated
from tests.support.shipped import set_of
from tests.support.small_set import banks, made

__all__ = ["banks_of", "english_words", "said", "sheet_and_key"]

_WORD = re.compile(r"(?<![\w.-])[A-Za-z][a-z]{2,}(?![\w])")
_UNITS = frozenset(piece for unit in UNITS for piece in re.findall(r"[A-Za-z]{3,}", unit.symbol))
_SYMBOLS = frozenset({"exc", "rec", "PMI"})
"""Abbreviations of the trade that stand for quantities where no letter is free."""


@cache
def accented_banks() -> Banks:
    """The banks with names in the pseudo-language."""
    known = banks()
    names = Names(
        substances={one.id: pseudo(one.name) for one in known.substances.values()},
        glassware={one.id: pseudo(one.name) for one in known.glassware.values()},
        bottles={one.id: pseudo(one.name) for one in known.bottles.values()},
        statements={code: pseudo(text) for code, text in known.hazard_statements.items()},
    )
    return replace(known, names={**known.names, ACCENTED: names})


def banks_of(language: str) -> Banks:
    """The banks of a language, the pseudo-language too."""
    return accented_banks() if language == ACCENTED else banks()


def sheet_and_key(name: str, language: str, student: Student) -> Iterator[Document]:
    """A template's sheet and key for a student, in a language."""
    problem_set = set_in(set_of(name), language, banks_of(language))
    with speaking(language):
        variants = made(problem_set, student.id)
        yield sheet_document(problem_set, student, student.name, "XY", variants, 1, None)
        yield key_document(problem_set, student, student.name, "XY", variants)


def said(part: Any) -> Iterator[str]:
    """All words of a document, a block or a line, without formulas, units and drawings."""
    if isinstance(part, str):
        yield part
    elif isinstance(part, tuple(_WORDS_OF)):
        yield from said(_WORDS_OF[type(part)](part))
    elif is_dataclass(part):
        yield from (text for field in fields(part) for text in said(getattr(part, field.name)))
    elif isinstance(part, Iterable):
        yield from (text for one in part for text in said(one))


_WORDS_OF: Mapping[type, Callable[[Any], Any]] = {
    Chemical: lambda _: (),
    UnitPiece: lambda _: (),
    Symbol: lambda one: (one.sub, "" if one.chemical else one.of),
    SchemeItem: lambda one: one.name,
    Amount: lambda one: one.of,
    Document: lambda one: (one.title, one.course, one.about, one.blocks),
}
"""Pieces that have more than words in them."""


def english_words(texts: Iterable[str], language: str) -> dict[str, str]:
    """The words of texts that are English in a language that is not, each with a text that has it."""
    found: dict[str, str] = {}
    for text in texts:
        for word in _WORD.findall(text):
            if _is_english(word, language):
                found.setdefault(word, text)
    return found


def _is_english(word: str, language: str) -> bool:
    if word in _UNITS or word in _SYMBOLS or _is_formula(word):
        return False
    return language == ACCENTED or word.casefold() in _english_alone(language)


def _is_formula(word: str) -> bool:
    try:
        read_formula(word)
    except FormulaError:
        return False
    return True


@cache
def _english_alone(language: str) -> frozenset[str]:
    """The words that English messages and names have, and none of the language's."""
    return _words(_english()) - _words(_own(language))


def _english() -> Iterator[str]:
    yield from (text for message in collected() for text in _texts(message.id))
    known = banks()
    yield from (one.name for kind in (known.substances, known.glassware, known.bottles) for one in kind.values())
    yield from known.hazard_statements.values()


def _own(language: str) -> Iterator[str]:
    yield from (text for message in translated(language) for text in _texts(message.string))
    names = banks().names[language]
    yield from (text for field in fields(names) for text in getattr(names, field.name).values())


def _texts(message: str | Iterable[str]) -> Iterable[str]:
    return (message,) if isinstance(message, str) else message


def _words(texts: Iterable[str]) -> frozenset[str]:
    return frozenset(word.casefold() for text in texts for word in re.findall(r"[^\W\d_]{3,}", text))
