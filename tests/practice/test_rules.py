"""The page has no thresholds of its own: it judges by the grader's, which its data carry."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from playwright.sync_api import Browser

import problemgen.practice
from problemgen.grade.judging import (
    closeness,
    findings,
    follow_through,
    mistakes,
    number_verdicts,
    right_digits,
    rounded_early,
)
from problemgen.grade.judging.judge import judge_student
from problemgen.grade.reading import cell, numerals, spelling
from problemgen.load.answers.answers import Answers
from problemgen.practice.rules import RULES, page_rules
from tests.support.judged_in_page import forms_of, judged_in_page, shown
from tests.support.vectors import ANSWERS, JUDGED, results_of

ASSETS = Path(problemgen.practice.__file__).parent / "assets"
RESPONSES = [
    *((one["student"], one["cells"]) for one in json.loads(JUDGED.read_text(encoding="utf-8"))),
    ("s1", {"1a": "n/a", "1b": "about 3", "1c": "10/3", "1d": "1,234"}),
]


def test_the_page_reads_every_rule_and_no_other() -> None:
    text = "".join(path.read_text(encoding="utf-8") for path in ASSETS.glob("*.js"))
    read = set(re.findall(r"\brules\.(\w+)\.(\w+)", text))
    for names, module in re.findall(r"\{([^{}]*)\} = rules\.(\w+);", text):
        read |= {(module, name) for name in re.findall(r"\w+", names)}
    weighed = {("shares", verdict) for verdict in RULES["shares"]}
    assert read | weighed == {(module, key) for module, rules in RULES.items() for key in rules}


def test_rules_are_told_by_their_kind() -> None:
    told = page_rules()
    assert told["follow_through"]["coarsest"] == {"exact": "1/20"}
    assert told["windows"]["least_figures"] == 3
    assert told["right_digits"]["slips"][:2] == [3, -3]
    assert told["findings"]["unread"] == {"map": {"blank": "blank", "wrong_dimension": "unit"}}
    assert told["cell"]["sides"] == {"pattern": "[=~]"}
    assert told["words"]["by_mass"] == {"set": ["m/m", "v/v", "w/w"]}


def in_grader() -> list[dict[str, list[Any]]]:
    with Answers(ANSWERS) as answers:
        judged = [judge_student(answers.head, answers.student(who), cells) for who, cells in RESPONSES]
        return [results_of(one) for one in judged]


def in_page(browser: Browser, rules: Mapping[str, Any]) -> list[dict[str, list[Any]]]:
    page = browser.new_page()
    judged = judged_in_page(page, json.loads(ANSWERS.read_text(encoding="utf-8")), RESPONSES, rules)
    page.close()
    return [{column: result[1:] for column, result in one.items()} for one in judged]


@pytest.fixture(scope="module")
def unchanged() -> list[dict[str, list[Any]]]:
    return in_grader()


CHANGED: tuple[tuple[ModuleType, str, str, Any], ...] = (
    (right_digits, "_SLIPS", "slips", ()),
    (findings, "_TELLING", "telling", 4),
    (findings, "_SPARE", "spare", 0),
    (follow_through, "_COARSEST", "coarsest", Fraction(1, 10**6)),
    (mistakes, "LIKELY_BY_CHANCE", "likely_by_chance", 0.0),
    (mistakes, "MOST_TOLD", "most_told", 1),
    (mistakes, "_LEAST_WRITTEN", "least_written", 1e-5),
    (number_verdicts, "_PREFERRED", "preferred", tuple(reversed(RULES["number_verdicts"]["preferred"]))),
    (numerals, "_LONGEST_FRACTION", "longest_fraction", 0),
    (cell, "_LEADS", "leads", re.compile("(?!)")),
    (closeness, "_FARTHEST", "farthest", Fraction(1, 1000)),
    (rounded_early, "_EARLY", "early", 3),
    (spelling, "_NO_ANSWER", "no_answer", frozenset()),
)


@pytest.mark.parametrize(
    ("module", "name", "key", "value"), CHANGED, ids=[f"{m.__name__}.{k}" for m, _, k, _ in CHANGED]
)
def test_a_changed_rule_changes_what_both_say_alike(
    module: ModuleType,
    name: str,
    key: str,
    value: Any,
    unchanged: list[dict[str, list[Any]]],
    monkeypatch: pytest.MonkeyPatch,
    browser: Browser,
) -> None:
    """A rule that only one side knew would change that side alone."""
    monkeypatch.setattr(module, name, value)
    monkeypatch.setitem(RULES[module.__name__.rpartition(".")[2]], key, value)
    forms = forms_of(json.loads(ANSWERS.read_text(encoding="utf-8")))
    grader = [shown(one, forms) for one in in_grader()]
    assert grader != [shown(one, forms) for one in unchanged]
    assert grader == [shown(one, forms) for one in in_page(browser, page_rules())]
