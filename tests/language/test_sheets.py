"""Sheets, keys and what is marked in every language: its words alone, and the same numbers, windows and verdicts."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from problemgen.grade.judging.judge import judge_student
from problemgen.language.languages import ACCENTED, LANGUAGES
from problemgen.language.messages import speaking
from problemgen.load.answers.answers import Answers
from problemgen.load.sets.translated import set_in
from problemgen.model.blocks import Document
from problemgen.model.problem_set import Student
from problemgen.render.feedback.feedback import feedback_document
from problemgen.render.key.answers import AnswerLines
from problemgen.render.key.marking_key import KeyEntry, marking_key
from problemgen.render.sheet.slip import slip_document
from tests.support.every_row import for_every
from tests.support.shipped import NAMES, set_of
from tests.support.small_set import banks, made
from tests.support.spoken import banks_of, english_words, said, sheet_and_key

ADA = Student("s1", "Ada", "")
TESTS_OWN = {"Ada", "Sheet"}  # the student, and the title of the sheet of the tests' own set
CONJUNCTIONS = {"and"}  # the CLDR's own: it has no pseudo-locale
SOME = NAMES[::9]


def documents(name: str, language: str) -> Iterator[Document]:
    yield from sheet_and_key(name, language, ADA)
    problem_set = set_in(set_of(name), language, banks_of(language))
    with speaking(language):
        variants = made(problem_set, ADA.id)
        yield marking_key(problem_set, [KeyEntry(ADA, "Ada", "XY", variants, 1)], None)


def left(name: str, language: str) -> set[str]:
    texts = [text for one in documents(name, language) for text in said(one)]
    return english_words(texts, language).keys() - TESTS_OWN - CONJUNCTIONS


@for_every(NAMES)
def test_no_word_goes_past_the_catalogue(name: str) -> None:
    assert left(name, ACCENTED) == set()


@for_every(SOME)
def test_no_word_of_a_slip_goes_past_the_catalogue(name: str) -> None:
    problem_set = set_in(set_of(name), ACCENTED, banks_of(ACCENTED))
    with speaking(ACCENTED):
        slip = slip_document(problem_set, ADA, "Ada", "XY", made(problem_set, ADA.id))
    assert english_words(said(slip), ACCENTED).keys() - {*TESTS_OWN, *CONJUNCTIONS, "Shipped"} == set()


@pytest.mark.parametrize("language", ["de", "es"])
def test_no_english_is_left_in_a_translated_sheet(language: str) -> None:
    assert {name: found for name in SOME if (found := left(name, language))} == {}


def judged(name: str, language: str, folder: Path) -> tuple[object, ...]:
    """Answers, windows, and the verdicts on a number that is hardly ever right."""
    problem_set, lines = set_in(set_of(name), language, banks()), AnswerLines()
    path = folder / f"{language}.json"
    with speaking(language):
        pieces = [lines.opening(problem_set, {}), lines.student(ADA, "AB", made(problem_set, ADA.id)), lines.closing()]
    path.write_bytes(b"".join(pieces))
    with Answers(path) as answers:
        key = answers.student(ADA.id)
        cells = dict.fromkeys(answers.head.columns, "0.0123")
        result = judge_student(answers.head, key, cells)
        assert feedback_document(answers.head, key, result)
        return (key.problems, *((part.verdict, part.points) for part in result.parts))


@pytest.mark.parametrize("name", SOME)
def test_numbers_windows_and_verdicts_are_the_same(name: str, tmp_path: Path) -> None:
    english, *others = (judged(name, language, tmp_path) for language in LANGUAGES)
    assert all(other == english for other in others)
