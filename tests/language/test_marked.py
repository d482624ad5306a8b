"""What comes out of marking in every language: feedback with its working, and the class report, in its words alone."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from problemgen.grade.classes.record import ClassRecord
from problemgen.grade.classes.report import class_statistics
from problemgen.grade.judging.judge import judge_student
from problemgen.language.languages import ACCENTED
from problemgen.language.messages import speaking
from problemgen.load.answers.answers import Answers
from problemgen.load.resources import layouts
from problemgen.load.sets.translated import set_in
from problemgen.model.problem_set import Student
from problemgen.render.classes.report import class_report
from problemgen.render.feedback.feedback import feedback_document
from problemgen.render.key.answers import AnswerLines
from tests.support.answered_at_random import answered_at_random
from tests.support.every_row import for_every
from tests.support.shipped import NAMES, set_of
from tests.support.small_set import made
from tests.support.spoken import banks_of, english_words, said

CLASS = [Student(f"s{n}", f"s{n}", "") for n in range(1, 5)]
TESTS_OWN = {"Sheet", "see", "notebook", "abc"}  # the title of the tests' own set, and what the students wrote
CONJUNCTIONS = {"and", "or"}  # the CLDR's own: it has no pseudo-locale
_DRAWN = re.compile(r"<(style|svg|script)\b.*?</\1>", re.DOTALL)
_TAG = re.compile(r"<[^>]+>")


def texts(name: str, language: str, folder: Path) -> Iterator[str]:
    """All that a class reads that answered at random: right, mistaken, in other units, unreadable, not at all."""
    problem_set, path = set_in(set_of(name), language, banks_of(language)), folder / f"{language}.json"
    lines, rng = AnswerLines(), random.Random(name)  # noqa: S311 - what students wrote, not a secret
    with speaking(language):
        pieces = [lines.opening(problem_set, {})]
        pieces += [lines.student(one, "AB", made(problem_set, one.id)) for one in CLASS]
        path.write_bytes(b"".join([*pieces, lines.closing()]))
        with Answers(path) as answers:
            record = ClassRecord(answers.head)
            for key in answers:
                result = judge_student(answers.head, key, answered_at_random(answers.head, key, rng))
                record.take(key, result)
                yield from said(feedback_document(answers.head, key, result))
            report = class_report(answers.head, class_statistics(record), layouts())
    yield from _TAG.sub("\n", _DRAWN.sub("", report)).splitlines()


def left(name: str, language: str) -> dict[str, str]:
    with TemporaryDirectory() as folder:
        found = english_words(texts(name, language, Path(folder)), language)
    return {word: text for word, text in found.items() if word not in TESTS_OWN | CONJUNCTIONS}


@for_every(NAMES)
def test_no_word_goes_past_the_catalogue(name: str) -> None:
    assert left(name, ACCENTED) == {}


@pytest.mark.parametrize("language", ["de", "es"])
@pytest.mark.parametrize("name", NAMES[4::9])
def test_no_english_is_left(name: str, language: str) -> None:
    assert left(name, language) == {}
