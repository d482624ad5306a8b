"""The page judges as the grader does: over vectors that stand in a file, and over twenty thousand random answers."""

from __future__ import annotations

import json
import random
from collections import Counter
from fractions import Fraction
from pathlib import Path

from playwright.sync_api import Browser

from problemgen.exact.rounding import figures_text
from problemgen.grade.judging.judge import judge_student
from problemgen.load.answers.answers import Answers
from problemgen.load.resources import templates_folder
from problemgen.load.sets.courses import template_ids
from problemgen.model.truths import number_in
from tests.support.answered_at_random import answered_at_random
from tests.support.judged_in_page import forms_of, judged_in_page, shown
from tests.support.vectors import ANSWERS, JUDGED, results_of, write_answers

VECTORS = json.loads(JUDGED.read_text(encoding="utf-8"))
WANTED = 20_000


def test_the_vectors_hold_verdicts_of_every_kind() -> None:
    verdicts = Counter(result[0] for one in VECTORS for result in one["results"].values())
    assert set(verdicts) == {"right", "slip", "follows", "mistake", "rounded", "wrong", "unit", "unread", "blank"}
    assert min(verdicts.values()) >= 3


def test_the_grader_gives_what_the_vectors_say() -> None:
    with Answers(ANSWERS) as answers:
        for one in VECTORS:
            result = judge_student(answers.head, answers.student(one["student"]), one["cells"])
            assert results_of(result) == one["results"]


def test_the_page_gives_what_the_vectors_say(browser: Browser) -> None:
    answers = json.loads(ANSWERS.read_text(encoding="utf-8"))
    forms, page = forms_of(answers), browser.new_page()
    judged = judged_in_page(page, answers, [(one["student"], one["cells"]) for one in VECTORS])
    page.close()
    for one, results in zip(VECTORS, judged, strict=True):
        mine = {column: result[1:] for column, result in results.items()}
        assert shown(mine, forms) == shown(one["results"], forms)


def test_own_values_that_cannot_be_divided_by_stop_neither_side(browser: Browser, tmp_path: Path) -> None:
    # The third part divides by the difference of the first two.
    write_answers(tmp_path / "answers.json", ("mixtures/table-salt-with-potassium",), 1)
    with Answers(tmp_path / "answers.json") as answers:
        key = answers.student("s1")
        second = key.problems[0].truths[answers.head.templates[key.problems[0].template].parts[1].id].printed
        same = [{"1a": one, "1b": one, "1c": third} for one in ("2.2", second) for third in ("33", "0.4")]
        theirs = [results_of(judge_student(answers.head, key, cells)) for cells in same]
    data = json.loads((tmp_path / "answers.json").read_text(encoding="utf-8"))
    page = browser.new_page()
    judged = judged_in_page(page, data, [("s1", cells) for cells in same])
    page.close()
    assert [one["1c"][0] for one in theirs] == ["wrong"] * len(same)
    assert [{column: result[1:] for column, result in one.items()} for one in judged] == theirs


def test_twenty_thousand_random_answers_get_no_different_verdict(browser: Browser, tmp_path: Path) -> None:
    names = tuple(template_ids(templates_folder()))
    write_answers(tmp_path / "answers.json", names, 1)
    draw = random.Random("twenty thousand")  # noqa: S311 - a test keeps no secret
    theirs, responses = [], []
    with Answers(tmp_path / "answers.json") as answers:
        (student,) = answers.students
        key = answers.student(student)
        while sum(map(len, theirs)) < WANTED:
            cells = answered_at_random(answers.head, key, draw)
            theirs.append(results_of(judge_student(answers.head, key, cells)))
            responses.append((student, cells))
    data = json.loads((tmp_path / "answers.json").read_text(encoding="utf-8"))
    forms, page = forms_of(data), browser.new_page()
    judged = judged_in_page(page, data, responses)
    page.close()
    different = [
        (column, responses[turn][1][column], wanted[column], got[column])
        for turn, (wanted, got) in enumerate(zip(theirs, judged, strict=True))
        for column in wanted
        if shown({column: got[column][1:]}, forms) != shown({column: wanted[column]}, forms)
    ]
    assert different == []


def test_what_lies_beside_the_window_is_followed_on_both_sides(browser: Browser, tmp_path: Path) -> None:
    # Half of an amount that is written with a figure fewer; waters before they are rounded, right and followed.
    write_answers(tmp_path / "answers.json", ("pinned/fluorescein", "hydrates/weathered-epsom-salt"), 2)
    with Answers(tmp_path / "answers.json") as answers:
        rows, theirs = [], []
        for student in ("s1", "s2"):
            key = answers.student(student)
            amount, water = (number_in(next(iter(one.truths.values()))) for one in key.problems)
            short = figures_text(amount.value, amount.figures - 1)
            cells = {"1a": short, "1c": figures_text(Fraction(short) / 2, amount.figures), "2d": "7.002"}
            own = figures_text(water.value * Fraction(9, 10), 5)
            for one in (cells, {**cells, "2a": own, "2d": "6.302"}):
                rows.append((student, one))
                theirs.append(results_of(judge_student(answers.head, key, one)))
    data = json.loads((tmp_path / "answers.json").read_text(encoding="utf-8"))
    page = browser.new_page()
    judged = judged_in_page(page, data, rows)
    page.close()
    assert [{column: result[1:] for column, result in one.items()} for one in judged] == theirs
    assert {"one-figure-fewer", "follows-accepted"} <= {result[1] for one in theirs for result in one.values()}
