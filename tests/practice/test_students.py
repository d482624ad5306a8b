"""A weak, a middling and a strong student at the page in a real browser, from the first screen to the aim reached."""

from __future__ import annotations

import json
import random
import re
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Locator, Page

from problemgen.exact.rounding import figures_text
from problemgen.practice.packing import grown

PROBLEMS = 5


class Student:
    """Who answers a part rightly by chance, and else by a factor wrong; `stuck`: how often all help is asked for."""

    def __init__(self, right: float, stuck: float, file: Path, seed: int) -> None:
        self.right, self.stuck = right, stuck
        self.rng = random.Random(seed)  # noqa: S311 - what a student does
        text = file.read_text(encoding="utf-8")
        found = re.search(r'id="practice-data"[^>]*>(.*?)</script>', text, re.DOTALL)
        assert found is not None
        self.bodies = {one["id"]: grown(one["body"]) for one in json.loads(found[1])["templates"]}

    def truths(self, name: str) -> dict[str, Any]:
        """The right answers of a problem, by label."""
        template, code = name.split(":")
        body = self.bodies[template]
        problem = next(one for one in body["problems"] if one["code"] == code)
        ids = [part["id"] for part in body["key"]["parts"]]
        return dict(zip([part["label"] for part in body["parts"]], map(problem["answers"].get, ids), strict=True))

    def solve(self, page: Page) -> None:
        """Answer every part that is shown, and check each."""
        name = page.locator("article").get_attribute("data-problem")
        assert name is not None
        truths = self.truths(name)
        for part in page.locator("form.part").all():
            label = part.locator(".prompt strong").first.inner_text().strip(" ()")
            if self.rng.random() < self.stuck:
                part.locator("button.more").click()
            self.answer(part, truths[label])
            part.locator("button[type=submit]").click()
            if self.rng.random() < self.stuck and part.locator("text=Look at this step:").count():
                part.locator("text=Look at this step:").click()
                part.locator(".working input").fill("2.00 g / 58.44 g/mol")
                page.keyboard.press("Enter")

    def answer(self, part: Locator, truth: dict[str, Any]) -> None:
        """Write an answer."""
        is_right = self.rng.random() < self.right
        if "choice" in truth:
            wanted = f"input[value='{truth['choice']}']" if is_right else "input[type=radio] >> nth=-1"
            part.locator(wanted).check()
        elif "text" in truth:
            part.locator("input.answer").fill(truth["text"] if is_right else "X")
        else:
            value = Fraction(truth["value"]) * (1 if is_right else Fraction(17, 10))
            part.locator("input.answer").fill(figures_text(value, max(truth.get("figures", 4), 3)))


def walk(page: Page, student: Student) -> dict[str, Any]:
    """An aim of five problems, twice; the record after it, and why each problem came."""
    whys = []
    for _ in range(2):
        page.click("nav >> text=Choose")
        page.wait_for_selector(".start")
        page.select_option("#aim", label="5 problems")
        page.click("button.main")
        before = ""
        for _ in range(PROBLEMS):
            page.wait_for_function(
                "before => document.querySelector('article')?.dataset.problem !== before", arg=before
            )
            page.wait_for_selector("article")
            whys.append(page.locator(".why").inner_text())
            student.solve(page)
            before = page.locator("article").get_attribute("data-problem") or ""
            page.click("text=Next problem")
        page.wait_for_selector("text=That is what you set out to do")
    page.click("nav >> text=My record")
    with page.expect_download() as told:
        page.click("text=Export as a file")
    record: dict[str, Any] = json.loads(Path(told.value.path()).read_text(encoding="utf-8"))
    return {**record, "whys": whys}


@pytest.mark.parametrize(("right", "stuck"), [(1.0, 0.0), (0.7, 0.2), (0.2, 0.6)], ids=["strong", "middling", "weak"])
def test_a_student_is_led_by_what_they_have_shown(page: Page, practice_file: Path, right: float, stuck: float) -> None:
    record = walk(page, Student(right, stuck, practice_file, seed=7))
    outcomes = [got for idea in record["ideas"].values() for _code, got in idea["log"]]
    assert all(re.match(r"(Something new|This comes now|Everything here)", why) for why in record["whys"])
    assert sum(map(len, record["seen"].values())) == record["turn"] <= 2 * PROBLEMS
    if right == 1:
        assert "missed" not in outcomes
        assert record["alone"] == 2 * PROBLEMS
        assert record["level"] > 1
    elif stuck > right:
        assert record["level"] == 1
        assert outcomes.count("right") < len(outcomes) or record["alone"] < PROBLEMS
    else:
        assert 0 < record["alone"] < 2 * PROBLEMS


def test_a_rehearsal_of_a_chosen_idea_asks_for_it_each_time(page: Page) -> None:
    page.select_option("#idea", label="which reagent limits")
    page.click("text=Rehearse: 3 problems without help")
    for _ in range(3):
        name = page.evaluate("decodeURIComponent(location.hash.slice(1))")
        page.wait_for_selector(f'article.silent[data-problem="{name}"]')
        assert page.locator("form.part input[type=radio]").count() > 0
        page.click("article >> text=Go on")
