"""What counts for an idea, when it comes back, and which problem is next: the page's functions, run in a browser."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from itertools import pairwise
from typing import Any

import pytest
from playwright.sync_api import Browser

from problemgen.plan.laws import LAWS
from problemgen.practice.ideas import IDEAS, ideas_of_part
from problemgen.practice.modules import joined
from tests.support.judged_in_page import ASSETS
from tests.support.shipped import NAMES, shipped

ENTRY = """
import { afterProblem, freshCode, nextStep } from "./choosing.js";
import { dueIdeas, missedLately, stateOf, withEvidence } from "./ideas.js";
import { merged, soundRecord, withSeen } from "./store.js";
"""
Run = Callable[..., Any]
Record = dict[str, Any]


@pytest.fixture(scope="module")
def run(browser: Browser) -> Iterator[Run]:
    """Runs an expression over the page's functions, with `given` at hand."""
    modules = {path.name: path.read_text(encoding="utf-8") for path in ASSETS.glob("*.js")}
    script = joined({**modules, "entry.js": ENTRY.lstrip()}, "entry.js")
    page = browser.new_page()
    yield lambda expression, given=None: page.evaluate(f"given => {{ {script}; return {expression}; }}", given)
    page.close()


@pytest.fixture
def record(run: Run) -> Record:
    return dict(run("soundRecord(null)"))


def shown(run: Run, record: Record, *outcomes: str) -> Record:
    """A record after problems that said these of the idea "limit", a turn each."""
    for outcome in outcomes:
        turned = {**record, "turn": record["turn"] + 1}
        record = run("withEvidence(...given)", [turned, "limit", f"code {turned['turn']}", outcome])
    return record


@pytest.mark.parametrize(
    ("outcomes", "state"),
    [
        ([], "new"),
        (["right"], "shaky"),
        (["right", "right"], "shaky"),
        (["right", "right", "right"], "steady"),
        (["missed", "right", "right"], "shaky"),
        (["missed", "right", "right", "right"], "steady"),
        (["right", "right", "right", "missed"], "shaky"),
    ],
)
def test_an_idea_is_steady_when_the_last_three_problems_said_so(
    run: Run, record: Record, outcomes: list[str], state: str
) -> None:
    assert run("stateOf(...given)", [shown(run, record, *outcomes), "limit"]) == state


def test_a_problem_says_one_thing_of_an_idea_and_a_mistake_outweighs_the_rest(run: Run, record: Record) -> None:
    for outcome in ("right", "right", "missed", "right"):
        record = run("withEvidence(...given)", [record, "limit", "one code", outcome])
    assert record["ideas"]["limit"]["log"] == [["one code", "missed"]]


def test_a_missed_idea_comes_back_after_one_three_and_seven_others(run: Run, record: Record) -> None:
    record = shown(run, record, "missed")
    back = []
    for turn in range(2, 20):
        due = run("dueIdeas(given)", record) == ["limit"]
        record = {**record, "turn": turn}
        if due:
            back.append(turn)
            record = run("withEvidence(...given)", [record, "limit", f"back {turn}", "right"])
    assert back == [3, 7, 15]


def test_missed_again_it_starts_from_the_beginning(run: Run, record: Record) -> None:
    record = shown(run, record, "missed", "right", "missed")
    assert record["ideas"]["limit"]["stage"] == 0
    assert record["ideas"]["limit"]["due"] == record["turn"] + 2
    assert run("missedLately(...given)", [record, "limit"]) == [2, 3]


@pytest.mark.parametrize(
    ("problems", "level"),
    [("cc", 2), ("cxc", 1), ("cccc", 3), ("mm", 1), ("ccmm", 1), ("cccmm", 1), ("cccccccccc", 5), ("chchc", 1)],
)
def test_the_level_rises_after_two_clean_problems_and_falls_after_two_mistaken(
    run: Run, record: Record, problems: str, level: int
) -> None:
    for one in problems:
        record = run("afterProblem(...given)", [record, {"clean": one == "c", "missed": one == "m"}])
    assert record["level"] == level


def test_every_law_belongs_to_one_idea() -> None:
    listed = [law for idea in IDEAS for law in idea.laws]
    assert sorted(listed) == sorted(law.id for law in LAWS)
    assert len({idea.key for idea in IDEAS}) == len({idea.title for idea in IDEAS}) == len(IDEAS)


def templates_of_all() -> list[dict[str, Any]]:
    """All shipped templates as the page's chooser sees them."""
    found = []
    for name in NAMES:
        template, before, ideas = shipped(name), [], dict[str, None]()
        for part in template.parts:
            ideas |= dict.fromkeys(ideas_of_part(template.plan, part.asked, before))
            before.append(part.asked.quantity.id)
        level = sum(len(before) > most for most in (2, 4, 6, 9)) + 1
        found.append({"id": name, "ideas": list(ideas), "level": level, "drills": {}})
    return found


def page_of_all() -> dict[str, Any]:
    return {"templates": templates_of_all(), "ideas": [{"key": idea.key} for idea in IDEAS]}


def test_the_first_problem_is_easy_and_of_the_first_idea(run: Run, record: Record) -> None:
    chosen = run("nextStep(given[0], given[1], '', null, Math.random)", [page_of_all(), record])
    assert (chosen["template"]["level"], chosen["idea"], chosen["why"]["key"]) == (1, IDEAS[0].key, "new")


LEARNER = """
((page, start, skill, coins) => {
  let [record, present, coin, opened] = [start, null, 0, []];
  const toss = () => coins[coin++ % coins.length];
  const skills = new Map();
  for (let turn = 0; turn < 700; turn += 1) {
    const step = nextStep(page, record, "", present, toss);
    const { template, idea } = step;
    opened.push([template.id, idea, template.level]);
    const code = `${template.id} ${turn}`;
    record = withSeen(record, template.id, code);
    let missed = false;
    for (const key of template.ideas) {
      const chance = skills.get(key) ?? skill;
      const right = toss() < chance;
      missed ||= !right;
      record = withEvidence(record, key, code, right ? "right" : "missed");
      skills.set(key, Math.min(chance + (right ? 0.02 : 0.12), 0.97));
    }
    record = afterProblem(record, { clean: !missed, missed });
    present = { template, idea };
    if (page.ideas.every(({ key }) => stateOf(record, key) === "steady")) break;
  }
  return { opened, states: page.ideas.map(({ key }) => [key, stateOf(record, key)]) };
})(...given)
"""
"""A simulated learner: a chance to work an idea rightly, which grows each time it is worked, faster by a mistake."""


@pytest.mark.parametrize("skill", [0.15, 0.5, 0.9], ids=["weak", "middling", "strong"])
def test_learners_reach_steady_in_every_idea_and_see_no_template_over_and_over(
    run: Run, record: Record, skill: float
) -> None:
    rng = random.Random(f"learner {skill}")  # noqa: S311 - a learner's luck
    found = run(LEARNER.strip(), [page_of_all(), record, skill, [rng.random() for _ in range(9973)]])
    assert {state for _, state in found["states"]} == {"steady"}, found["states"]
    opened = [name for name, _, _ in found["opened"]]
    assert all(one != other for one, other in pairwise(opened))
    ideas = [idea for _, idea, _ in found["opened"] if idea]
    assert set(ideas) >= {idea.key for idea in IDEAS[:5]}


def test_something_else_leaves_the_idea_and_easier_and_harder_change_the_level(run: Run, record: Record) -> None:
    page = page_of_all()
    middle = next(one for one in page["templates"] if one["level"] == 3)
    present = {"template": middle, "idea": IDEAS[0].key}
    chosen = {
        wish: run("nextStep(given[0], given[1], given[2], given[3], Math.random)", [page, record, wish, present])
        for wish in ("easier", "harder", "else")
    }
    assert chosen["else"]["idea"] != IDEAS[0].key
    assert chosen["easier"]["template"]["level"] <= 2
    assert chosen["harder"]["template"]["level"] >= 4


def test_where_all_problems_are_long_the_shortest_comes_first_and_says_the_truth(run: Run, record: Record) -> None:
    page = page_of_all()
    page["templates"] = [one for one in page["templates"] if one["level"] >= 3]
    chosen = run("nextStep(given[0], given[1], '', null, Math.random)", [page, record])
    assert (chosen["template"]["level"], chosen["idea"], chosen["why"]["key"]) == (3, IDEAS[0].key, "new")


def test_every_other_problem_of_an_idea_is_a_drill_where_there_is_one(run: Run, record: Record) -> None:
    page = page_of_all()
    for template in page["templates"]:
        template["drills"] = {IDEAS[0].key: "b"}
    found = [
        run("nextStep(given[0], given[1], '', null, Math.random).drill", [page, {**record, "turn": turn}])
        for turn in range(4)
    ]
    assert found == ["", "b", "", "b"]


def test_an_unseen_problem_goes_first_and_the_same_one_does_not_come_twice_running(run: Run) -> None:
    given: dict[str, Any] = {"codes": list("abc")}
    choose = "freshCode(given, given.seen, given.present, () => 0)"
    assert run(choose, {**given, "seen": ["a"], "present": "a"}) == "b"
    assert run(choose, {**given, "seen": ["a", "b", "c"], "present": "a"}) == "b"
    assert run(choose, {"codes": ["a"], "seen": ["a"], "present": "a"}) == "a"


DAMAGED = [
    None,
    "text",
    [],
    7,
    {"version": 2, "ideas": None, "seen": [], "mistakes": "x", "turn": -1, "level": 99, "drafts": {}},
    {"ideas": {"limit": {"log": [["a", "perhaps"]], "stage": 0, "due": None}, "ratio": 3}, "seen": {"a": "b"}},
    {"ideas": {"limit": {"log": "right", "stage": "x", "due": {}}}, "streak": "many", "wanted": 3},
]


@pytest.mark.parametrize("value", DAMAGED)
def test_what_is_damaged_in_a_record_is_left_out(run: Run, record: Record, value: object) -> None:
    found = run("soundRecord(given)", value)
    assert found == {**record, "level": found["level"]}
    assert found["level"] in range(1, 6)


def test_a_record_of_the_earlier_version_keeps_what_it_saw(run: Run) -> None:
    old = {
        "version": 1,
        "topics": {"yield": {"alone": 2, "helped": 1}},
        "mistakes": {"ratio": {"met": 3, "clean": 1, "wait": 0}},
        "seen": {"yield/zinc-iodide": ["12345678"]},
    }
    found = run("soundRecord(given)", old)
    assert (found["mistakes"], found["seen"]) == ({"ratio": 3}, old["seen"])


def test_two_records_become_one(run: Run, record: Record) -> None:
    one, other = shown(run, record, "missed"), shown(run, {**record, "turn": 40}, "right", "right")
    both = run("merged(...given)", [one, other])
    assert [got for _, got in both["ideas"]["limit"]["log"]] == ["missed", "right", "right"]
    assert both["turn"] == other["turn"]
    assert run("merged(...given)", [both, other]) == both
