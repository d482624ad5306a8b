"""Words beside a number: what is listed, what a substance's name is, and what is neither."""

from __future__ import annotations

import pytest

from problemgen.chemistry.elements import ELEMENTS
from problemgen.grade.reading.words import RULES, are_names, is_known
from problemgen.load.banks.banks import load_banks
from problemgen.load.resources import banks_folder
from tests.support.every_row import for_every

SUBSTANCES = load_banks(banks_folder()).substances.values()


@for_every(sorted({name for one in SUBSTANCES for name in (one.name, *one.synonyms)}))
def test_every_name_of_the_banks_is_known(name: str) -> None:
    # The number of a dye ("Orange 7") is a second number.
    assert [word for word in name.split() if not is_known(word) and not word.isdecimal()] == []


def test_every_element_is_known() -> None:
    assert [name for name in ELEMENTS.values() if not is_known(name)] == []


@pytest.mark.parametrize(
    "word",
    [
        *("2-methylpropan-2-ol", "N,N-dimethylformamide", "hexacyanoferrate(II)", "trichloroacetic", "perchlorate"),
        *("1,2-dibromo-1,2-diphenylethane", "tert-butanol", "KHP", "Glauber's", "α-D-glucose", "permanganate"),
        *(
            "thiosulfate",
            "dihydrogenphosphate",
            "acetylacetonate",
            "sulphuric",
            "aluminum",
            "Fe",
            "H2SO4(aq)",
            "Ph3COH",
        ),
        *("yield", "Yield", "approx.", "(dry)", "w/w", "solution"),
    ],
)
def test_known(word: str) -> None:
    assert is_known(word)


@pytest.mark.parametrize(
    "word",
    [
        *(
            "squared",
            "thousand",
            "half",
            "each",
            "negative",
            "divided",
            "maybe",
            "forty",
            "kilos",
            "grms",
            "moll",
            "per",
        ),
        *(
            "but",
            "hex",
            "decide",
            "one",
            "ten",
            "person",
            "period",
            "method",
            "online",
            "alone",
            "none",
            "inside",
        ),
        *("2-", "40", "water-40", "1,2", "x" * 200, "an" * 60, "meth" * 30),
    ],
)
def test_unknown(word: str) -> None:
    assert not is_known(word)


@pytest.mark.parametrize("words", ["of blorf", "of the blorf", "of the crude product", "in total", "left over", ""])
def test_what_may_be_passed_over(words: str) -> None:
    assert are_names(words.split())


@pytest.mark.parametrize(
    "words", ["blorf", "of", "of the", "of half", "of each", "of blorf zork", "of product blorf", "of blorf2", "in"]
)
def test_what_may_not_be_passed_over(words: str) -> None:
    assert not are_names(words.split())


def test_no_word_is_listed_that_changes_what_is_said() -> None:
    listed, meaning = RULES["listed"], RULES["meaning"]
    assert isinstance(listed, frozenset)
    assert isinstance(meaning, frozenset)
    assert not listed & meaning
    assert [word for word in sorted(meaning) if is_known(word)] == []
