"""When mistakes come back, and which problem is next: the page's own functions, run in a browser."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser

from problemgen.practice.modules import joined
from problemgen.practice.page import page_words
from tests.support.judged_in_page import ASSETS

ENTRY = """
import { freshProblem, harderTemplate, nextTemplate } from "./choosing.js";
import { rules } from "./rules.js";
import { TIMES_RUNNING, afterMaking, afterProblem, avoidedEnough, dueFamilies } from "./spacing.js";
rules.mistakes = { pairs_up_to: 1 };
const of = (names) => new Set(names);
"""
Run = Callable[..., Any]


@pytest.fixture(scope="module")
def run(browser: Browser) -> Iterator[Run]:
    """Runs an expression over the page's functions, with `given` at hand."""
    modules = {path.name: path.read_text(encoding="utf-8") for path in ASSETS.glob("*.js")}
    script = joined({**modules, "entry.js": ENTRY.lstrip()}, "entry.js")
    page = browser.new_page()
    yield lambda expression, given=None: page.evaluate(f"given => {{ {script}; return {expression}; }}", given)
    page.close()


def test_a_mistake_is_met_again_after_one_problem_then_after_three_then_no_more(run: Run) -> None:
    state = run("afterMaking({}, 'ratio')")
    assert state == {"ratio": {"met": 1, "clean": 0, "wait": 1}}
    due = []
    for _ in range(8):
        due.append(run("dueFamilies(given)", state))
        state = run("afterProblem(given, of(['ratio', 'other']), of([]))", state)
    assert due == [[], ["ratio"], [], [], [], ["ratio"], [], []]
    assert state["ratio"]["clean"] == 2
    assert run("avoidedEnough(given)", state["ratio"]) is True


def test_the_record_says_how_often_a_mistake_was_avoided(run: Run) -> None:
    assert run("TIMES_RUNNING") == 2
    assert page_words()["record.avoided"] == "avoided twice running"


def test_a_problem_in_which_it_cannot_be_made_does_not_count(run: Run) -> None:
    state = {"ratio": {"met": 1, "clean": 0, "wait": 0}}
    assert run("afterProblem(given, of(['other']), of([]))", state) == state


def test_made_again_it_starts_from_the_beginning(run: Run) -> None:
    state = run("afterMaking(given, 'ratio')", {"ratio": {"met": 1, "clean": 1, "wait": 2}})
    assert state == {"ratio": {"met": 2, "clean": 0, "wait": 1}}
    assert run("afterProblem(given, of(['ratio']), of(['ratio']))", state) == state


TEMPLATES = [
    {"id": name, "topic": topic, "level": level, "key": {"tries": {"steps": [[[one, "", 0] for one in mistakes]]}}}
    for name, topic, level, mistakes in (
        ("easy", "yield", 1, ["density:x"]),
        ("ratio", "yield", 2, ["ratio", "density:y"]),
        ("hard", "gases", 3, ["celsius"]),
    )
]


def next_one(run: Run, record: dict[str, Any], present: str = "") -> str:
    given = {"templates": TEMPLATES, "record": record, "present": present}
    name: str = run("nextTemplate(given.templates, given.record, given.present, () => 0).id", given)
    return name


def test_the_next_problem_is_one_in_which_a_mistake_that_is_due_can_be_made(run: Run) -> None:
    due = {"ratio": {"met": 1, "clean": 0, "wait": 0}}
    assert next_one(run, {"mistakes": due, "seen": {}}) == "ratio"
    assert next_one(run, {"mistakes": due, "seen": {}}, "ratio") == "easy"


def test_else_it_is_one_that_was_seen_least(run: Run) -> None:
    assert next_one(run, {"mistakes": {}, "seen": {"easy": ["a"], "ratio": ["b"]}}) == "hard"


def test_something_harder_is_of_the_same_topic_where_there_is_one(run: Run) -> None:
    harder = "harderTemplate(given, given[{}], () => 0)"
    assert run(harder.format(0), TEMPLATES)["id"] == "ratio"
    assert run(harder.format(1), TEMPLATES)["id"] == "hard"
    assert run(harder.format(2), TEMPLATES) is None


@pytest.mark.parametrize(
    ("seen", "present", "code"), [([], "", "a"), (["a"], "a", "b"), (["a", "b"], "a", "b"), (["a", "b"], "b", "a")]
)
def test_numbers_are_new_as_long_as_there_are_any(run: Run, seen: list[str], present: str, code: str) -> None:
    given = {"template": {}, "seen": seen, "present": present}
    problems = "['a', 'b'].map((code) => ({ template: given.template, code }))"
    picked = run(f"freshProblem({problems}, given.template, given.seen, given.present, () => 0).code", given)
    assert picked == code
