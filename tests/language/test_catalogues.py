"""Every language says everything, with the same places and the same edges."""

from __future__ import annotations

import re

import pytest

from problemgen.chemistry.elements import ELEMENTS
from problemgen.language.catalogues import catalogue
from problemgen.language.languages import ENGLISH, LANGUAGES
from tests.support.catalogues import collected, translated
from tests.support.every_row import for_every
from tests.support.small_set import banks

FOREIGN = [language for language in LANGUAGES if language != ENGLISH]
PLACE = re.compile(r"\{[^{}]*\}")
Forms = tuple[str, ...]


def forms(told: str | tuple[str, ...] | list[str]) -> Forms:
    return (told,) if isinstance(told, str) else tuple(told)


def messages(language: str) -> dict[tuple[str | None, Forms], Forms]:
    return {(one.context, forms(one.id)): forms(one.string) for one in translated(language) if one.id}


@pytest.mark.parametrize("language", FOREIGN)
def test_a_catalogue_has_all_messages_and_no_others(language: str) -> None:
    """Else: python tests/support/catalogues.py, and translate what it leaves empty."""
    assert messages(language).keys() == {(one.context, forms(one.id)) for one in collected() if one.id}


@pytest.mark.parametrize("language", FOREIGN)
def test_all_is_translated_and_nothing_is_in_doubt(language: str) -> None:
    assert [one.id for one in translated(language) if one.fuzzy and one.id] == []
    assert [english for (_, english), told in messages(language).items() if not all(told)] == []


@for_every(FOREIGN)
def test_places_stay(language: str) -> None:
    """One form of a plural may spell its number out."""
    for (_, english), told in messages(language).items():
        wanted = set(PLACE.findall(english[-1]))
        assert all(set(PLACE.findall(one)) <= wanted for one in told), english
        assert set(PLACE.findall(told[-1])) == wanted, english


@for_every(FOREIGN)
def test_edges_stay(language: str) -> None:
    """A blank at an edge stands between this message and what comes before or behind it."""
    for (_, english), told in messages(language).items():
        for one in told:
            assert (one[:1].isspace(), one[-1:].isspace()) == (english[0][:1].isspace(), english[0][-1:].isspace()), one


@pytest.mark.parametrize("language", FOREIGN)
def test_the_banks_have_names_for_everything_once(language: str) -> None:
    known = banks()
    names = known.names[language]
    assert names.substances.keys() == known.substances.keys()
    assert names.glassware.keys() == known.glassware.keys()
    assert names.bottles.keys() == known.bottles.keys()
    assert names.statements.keys() == known.hazard_statements.keys()
    assert names.elements.keys() == ELEMENTS.keys()
    assert len({name.casefold() for name in names.substances.values()}) == len(known.substances)


def test_a_language_without_a_catalogue_is_refused_with_those_that_there_are() -> None:
    with pytest.raises(LookupError, match="no catalogue of the language 'tlh'; there are en, de, es"):
        catalogue("tlh")
