from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import problemgen.practice
from problemgen.language.languages import ACCENTED, ENGLISH, LANGUAGES, REVERSED
from problemgen.language.messages import speaking
from problemgen.model.verdict import UNJUDGED, VERDICTS
from problemgen.practice.page import page_words

ROOM = Path(problemgen.practice.__file__).parent
MESSAGES: dict[str, str | list[str]] = json.loads((ROOM / "messages.json").read_text(encoding="utf-8"))
PROGRAM = "".join(path.read_text(encoding="utf-8") for path in sorted((ROOM / "assets").glob("*.js")))
BUILT = re.compile(r"^(aim|hint|level|named|problem|reason|remark|said|state|verdict|why|working|part\.none)\.")
"""Keys that the program puts together."""


def gaps(sentence: str) -> set[str]:
    return set(re.findall(r"\{\w+\}", sentence))


def sentences(language: str) -> Iterator[tuple[str, str]]:
    with speaking(language):
        words = page_words()
    for key, said in words.items():
        for sentence in [said] if isinstance(said, str) else said.values():
            yield key, sentence


@pytest.mark.parametrize("language", [*LANGUAGES, ACCENTED, REVERSED])
def test_every_language_has_every_sentence_with_its_gaps(language: str) -> None:
    assert list(dict(sentences(language))) == list(MESSAGES)
    for key, sentence in sentences(language):
        message = MESSAGES[key]
        several = message if isinstance(message, str) else message[-1]
        assert gaps(several) - gaps(sentence) <= (set() if isinstance(message, str) else {"{n}"}), key
        assert gaps(sentence) <= gaps(several), key
        assert sentence.strip() == sentence != "", key


def test_a_sentence_with_a_number_has_a_form_for_every_plural_of_the_language() -> None:
    with speaking(ENGLISH):
        assert page_words()["record.solved"] == {
            "one": "{n} problem solved, {alone} of them without help.",
            "other": "{n} problems solved, {alone} of them without help.",
        }
    with speaking(REVERSED):
        forms = page_words()["record.solved"]
    assert set(forms) == {"zero", "one", "two", "few", "many", "other"}


def test_every_sentence_that_the_program_says_is_there() -> None:
    said = set(re.findall(r'say\("([a-z.]+)"', PROGRAM))
    assert said
    assert said <= set(MESSAGES)


def test_no_sentence_is_left_over() -> None:
    quoted = set(re.findall(r'"([a-z.]+)"', PROGRAM)) | {"page.script"}
    left = {key for key in MESSAGES if key not in quoted and not BUILT.match(key)}
    assert {key for key in left if not key.endswith(".title")} == set()


def test_verdicts_are_called_as_in_the_feedback() -> None:
    pages_own = {"right.minded"}
    english = {key.removeprefix("verdict."): text for key, text in MESSAGES.items() if key.startswith("verdict.")}
    told = {name: one.words for name, one in VERDICTS.items() if name not in ("blank", UNJUDGED)}
    assert {name: text for name, text in english.items() if name not in pages_own} == told
