from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from problemgen.chemistry.elements import ELEMENTS
from problemgen.load.resources import templates_folder
from problemgen.load.sets.courses import template_ids
from problemgen.model.verdict import UNJUDGED, VERDICTS
from problemgen.practice.page import catalogues

ASSETS = Path(__file__).parents[2] / "problemgen" / "practice" / "assets"
CATALOGUES = catalogues()
PROGRAM = "".join(path.read_text(encoding="utf-8") for path in sorted(ASSETS.glob("*.js")))
BUILT = re.compile(r"^(level|verdict|said|named|reason|remark|hint|element|topic)\.")
"""Keys that the program puts together."""


def gaps(sentence: str) -> list[str]:
    return sorted(set(re.findall(r"\{\w+\}", sentence)))


def test_english_comes_first() -> None:
    assert next(iter(CATALOGUES)) == "en"


@pytest.mark.parametrize("language", list(CATALOGUES))
def test_every_language_has_every_sentence_with_its_gaps(language: str) -> None:
    english, other = CATALOGUES["en"], CATALOGUES[language]
    assert list(other) == list(english)
    assert {key: gaps(text) for key, text in other.items()} == {key: gaps(text) for key, text in english.items()}
    assert all(text.strip() for text in other.values())


def test_every_sentence_that_the_program_says_is_there() -> None:
    said = set(re.findall(r'say\("([a-z.]+)"', PROGRAM))
    assert said
    assert said <= set(CATALOGUES["en"])


def test_no_sentence_is_left_over() -> None:
    quoted = set(re.findall(r'"([a-z.]+)"', PROGRAM)) | {"language.name", "page.script"}
    left = {key for key in CATALOGUES["en"] if key not in quoted and not BUILT.match(key)}
    assert {key for key in left if key.removesuffix(".one") not in quoted and not key.endswith(".title")} == set()


def test_verdicts_are_called_as_in_the_feedback() -> None:
    pages_own = {"right.minded"}
    english = {
        key.removeprefix("verdict."): text for key, text in CATALOGUES["en"].items() if key.startswith("verdict.")
    }
    told = {name: one.words for name, one in VERDICTS.items() if name not in ("blank", UNJUDGED)}
    assert {name: text for name, text in english.items() if name not in pages_own} == told


def test_a_translation_says_that_it_needs_review() -> None:
    assert "revisar" in CATALOGUES["es"]["language.name"]


def test_english_calls_the_elements_and_topics_as_the_rest_of_the_program_does() -> None:
    english = CATALOGUES["en"]
    assert {key: text for key, text in english.items() if key.startswith("element.")} == {
        f"element.{symbol}": name for symbol, name in ELEMENTS.items()
    }
    paths = template_ids(templates_folder()).values()
    topics = {tomllib.loads(path.read_text(encoding="utf-8"))["topic"] for path in paths}
    assert {key for key in english if key.startswith("topic.")} == {f"topic.{topic}" for topic in topics}
