"""Nothing is lost: reloads, two tabs, a device that keeps nothing, damaged records, addresses that cannot be read."""

from __future__ import annotations

import json
import random
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Locator, Page

from tests.practice.conftest import TEMPLATES
from tests.support.browser import watched
from tests.support.opened import codes_of, open_problem

KEY = "problemgen practice"
SOLVED_BY_HAND = "titrations/borax"


def state(page: Page) -> dict[str, list[str]]:
    """What a student sees of their work."""
    return {
        "written": page.eval_on_selector_all("form.part input.answer", "all => all.map(one => one.value)"),
        "ticked": page.eval_on_selector_all("form.part input:checked", "all => all.map(one => one.value)"),
        "verdicts": page.locator(".verdict .title").all_inner_texts(),
        "lines": page.eval_on_selector_all(".working input", "all => all.map(one => one.value)"),
        "working": page.locator(".working li").all_inner_texts(),
        "hints": page.locator(".hint h2").all_inner_texts(),
    }


def reloaded(page: Page) -> None:
    page.reload()
    page.wait_for_selector("h1")


def came_back(page: Page, before: dict[str, list[str]]) -> bool:
    """Whether a page shows what was there before; a browser on a busy machine hands it over a moment late."""
    for _ in range(100):
        if state(page) == before:
            return True
        page.wait_for_timeout(100)
    return False


def write_a_line(page: Page, part: Locator, rng: random.Random) -> None:
    """Write a line of working, where the part has some, and check it, or leave it unfinished."""
    for summary in part.locator(".working:not([open]) summary").all():
        summary.click()
    for field in part.locator(".working input").all():
        field.fill(rng.choice(["1.23 g / 58.44 g/mol", "2 g = 3 mol", "n = 0.5 mol"]))
        if rng.random() < 0.7:
            page.keyboard.press("Enter")


def work(page: Page, rng: random.Random) -> None:
    """Something that a student does on a problem."""
    parts = page.locator("form.part")
    part = parts.nth(rng.randrange(parts.count()))
    deed = rng.choice(["write", "write", "check", "hint", "line"])
    if deed == "write" and part.locator("input.answer").count():
        part.locator("input.answer").fill(rng.choice(["1.23", "4,56 g", "", "?", "0.5 mmol", "78"]))
    elif deed == "line":
        write_a_line(page, part, rng)
    elif deed == "write":
        options = part.locator("input[type=radio]")
        options.nth(rng.randrange(options.count())).check()
    elif deed == "check":
        part.locator("button[type=submit]").click()
    elif part.locator("button.more:visible").count():
        part.locator("button.more:visible").first.click()


@pytest.mark.parametrize("seed", range(4))
def test_reloads_at_random_lose_nothing(page: Page, seed: int) -> None:
    rng = random.Random(seed)  # noqa: S311 - what a student does
    for _ in range(10):
        name = rng.choice(TEMPLATES)
        open_problem(page, name, rng.randrange(len(codes_of(page, name))))
        for _ in range(rng.randrange(1, 5)):
            work(page, rng)
        before = state(page)
        reloaded(page)
        assert came_back(page, before)


NOT_YET = """(() => {
  const kept = Object.getOwnPropertyDescriptor(window, "localStorage").get;
  const { query } = Permissions.prototype;
  const empty = { getItem: () => null, setItem: () => {}, removeItem: () => {} };
  let handed = null;
  let isKnown = false;
  Permissions.prototype.query = function (asked) {
    return query.call(this, asked).finally(() => { isKnown = true; });
  };
  Object.defineProperty(window, "localStorage", { get: () => (handed ??= isKnown ? kept.call(window) : empty) });
})();"""
"""A browser that hands a page an empty storage for good, where it is asked before it has heard of the page."""
SILENT = "Permissions.prototype.query = () => new Promise(() => {});"
UNHEARD_OF = "Permissions.prototype.query = () => { throw new TypeError('persistent-storage'); };"
WITHOUT = "delete Navigator.prototype.permissions;"


@pytest.mark.parametrize("script", [NOT_YET, SILENT, UNHEARD_OF, WITHOUT], ids=["late", "silent", "refuses", "without"])
def test_storage_is_asked_for_once_the_browser_knows_of_the_page(
    browser: Browser, practice_file: Path, script: str
) -> None:
    context = browser.new_context(offline=True)
    context.add_init_script(script)
    with watched(context.new_page(), practice_file) as page:
        page.goto(practice_file.as_uri())
        page.wait_for_selector("h1")
        open_problem(page, SOLVED_BY_HAND)
        page.locator("#answer-a").fill("1.23")
        page.keyboard.press("Enter")
        before, kept = state(page), page.evaluate("key => localStorage.getItem(key)", KEY)
        assert kept is not None
        page.reload()
        page.wait_for_selector("article")
        assert came_back(page, before)
        assert page.evaluate("key => localStorage.getItem(key)", KEY) == kept
    context.close()


def test_going_back_leads_to_the_problem_as_it_was_left(page: Page) -> None:
    open_problem(page, SOLVED_BY_HAND)
    page.locator("#answer-a").fill("1.23")
    page.keyboard.press("Enter")
    before = state(page)
    open_problem(page, SOLVED_BY_HAND, 1)
    assert state(page)["written"][0] == ""
    page.go_back()
    assert came_back(page, before)


def test_a_problem_solved_with_help_is_never_solved_without(page: Page) -> None:
    open_problem(page, "equations/propane-burns")
    page.locator("form.part button.more").click()
    reloaded(page)
    page.locator("#answer-a").fill("C3H8 + 5 O2 = 3 CO2 + 4 H2O")
    page.keyboard.press("Enter")
    assert "Try one more of this kind without hints." in page.locator(".end").inner_text()
    reloaded(page)
    assert "Try one more of this kind without hints." in page.locator(".end").inner_text()
    page.click("nav >> text=My record")
    page.wait_for_selector("text=1 problem solved, 0 of them without help.")
    assert page.locator(".map li.steady, .map li.shaky").count() == 0


def test_hints_and_solution_are_no_evidence(page: Page) -> None:
    for number in range(4):
        open_problem(page, "measures/poured-not-weighed", number)
        for _ in range(4):
            page.locator("form.part button.more:visible").first.click()
    page.click("nav >> text=My record")
    assert page.locator(".map li.new").count() == page.locator(".map li").count()


DRAFTS = f"count => JSON.parse(localStorage.getItem('{KEY}')).drafts.length === count"
"""A tab hears of what another one keeps a moment later."""


def test_two_tabs_add_up(page: Page, context: BrowserContext, practice_file: Path) -> None:
    right = "C3H8 + 5 O2 = 3 CO2 + 4 H2O"
    open_problem(page, "equations/propane-burns")
    with watched(context.new_page(), practice_file) as other:
        other.goto(practice_file.as_uri())
        other.wait_for_selector("h1")
        open_problem(other, SOLVED_BY_HAND)
        page.locator("#answer-a").fill(right)
        page.keyboard.press("Enter")
        other.wait_for_function(DRAFTS, arg=1)
        other.locator("#answer-a").fill("9.87")
        other.keyboard.press("Enter")
        page.wait_for_function(DRAFTS, arg=2)
    kept = json.loads(page.evaluate("key => localStorage.getItem(key)", KEY))
    assert set(kept["seen"]) == {"equations/propane-burns", SOLVED_BY_HAND}
    assert kept["ideas"]["balancing"]["log"][0][1] == "right"


OFF = "Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('off', 'SecurityError'); } });"
FULL = "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); };"


@pytest.mark.parametrize("script", [OFF, FULL], ids=["off", "full"])
def test_a_device_that_keeps_nothing_is_told_of_once_and_the_page_works(
    browser: Browser, practice_file: Path, script: str
) -> None:
    context = browser.new_context(offline=True)
    context.add_init_script(script)
    with watched(context.new_page(), practice_file) as page:
        page.goto(practice_file.as_uri())
        page.wait_for_selector("h1")
        open_problem(page, "equations/propane-burns")
        page.locator("#answer-a").fill("C3H8 + 5 O2 = 3 CO2 + 4 H2O")
        page.keyboard.press("Enter")
        assert page.locator(".verdict .title").inner_text().strip() == "✓ Right"
        told = "This browser keeps nothing for this file"
        assert page.get_by_text(told).count() == 1
        page.click("nav >> text=My record")
        page.wait_for_selector("text=1 problem solved, 1 of them without help.")
        assert page.get_by_text(told).count() == 1
    context.close()


@pytest.mark.parametrize(
    "kept",
    ["", "{", "null", "[]", '{"version":2,"seen":3,"ideas":[1],"mistakes":{"a":"b"},"drafts":"x"}', '{"version":99}'],
)
def test_a_damaged_record_opens_all_the_same(page: Page, kept: str) -> None:
    page.evaluate("([key, text]) => localStorage.setItem(key, text)", [KEY, kept])
    reloaded(page)
    page.evaluate(
        "([key, text]) => localStorage.setItem(key, text)",
        [f"{KEY} titrations/borax:{codes_of(page, SOLVED_BY_HAND)[0]}", kept],
    )
    open_problem(page, SOLVED_BY_HAND)
    page.locator("#answer-a").fill("1.23")
    page.keyboard.press("Enter")
    assert page.locator(".verdict .title").count() == 1


@pytest.mark.parametrize("address", ["#%", "#%E0%A4%A", "#::", "#titrations/borax", "#__proto__:constructor"])
def test_an_address_that_leads_nowhere_leads_to_the_choice(page: Page, address: str) -> None:
    page.goto(page.url.split("#")[0] + address)
    page.wait_for_selector(".start")
    page.wait_for_selector("text=This link leads to a problem that is not in this file.")


def test_a_record_moves_to_another_device_and_both_count(page: Page, tmp_path: Path) -> None:
    other = {"version": 2, "ideas": {"balancing": {"log": [["x", "missed"]], "stage": 0, "due": 3}}, "mistakes": {}}
    (tmp_path / "record.json").write_text(json.dumps({**other, "alone": 4, "seen": {"a": ["b"]}}), encoding="utf-8")
    (tmp_path / "photo.json").write_bytes(b"\x89PNG\x00\xff")
    open_problem(page, "equations/propane-burns")
    page.locator("#answer-a").fill("C3H8 + 5 O2 = 3 CO2 + 4 H2O")
    page.keyboard.press("Enter")
    page.click("nav >> text=My record")
    page.set_input_files("#import", tmp_path / "photo.json")
    page.wait_for_selector("text=This holds no record of this page.")
    page.set_input_files("#import", tmp_path / "record.json")
    page.wait_for_selector("text=The other record is added to this one.")
    page.wait_for_selector("text=4 problems solved, 4 of them without help.")
    kept = json.loads(page.evaluate("key => localStorage.getItem(key)", KEY))
    assert sorted(got for _, got in kept["ideas"]["balancing"]["log"]) == ["missed", "right"]


# what is said of an answer


def test_a_verdict_leaves_as_typing_begins(page: Page) -> None:
    open_problem(page, SOLVED_BY_HAND)
    page.locator("#answer-a").fill("1.23")
    page.keyboard.press("Enter")
    assert page.locator("#verdict-a .title").count() == 1
    page.locator("#answer-a").press("End")
    page.keyboard.type("4")
    assert page.locator("#verdict-a .title").count() == 0


def test_an_empty_field_is_told_beside_it(page: Page) -> None:
    open_problem(page, SOLVED_BY_HAND)
    page.locator("form.part button[type=submit]").first.click()
    assert page.locator("#verdict-a").inner_text() == "Nothing is written here yet."


def test_an_empty_field_that_is_checked_is_no_try(page: Page) -> None:
    page.select_option("#aim", label="5 problems")
    page.click("button.main")
    for _ in range(6):
        page.wait_for_selector("article")
        page.locator("form.part button[type=submit]").first.click()
        page.click("text=Next problem")
    assert page.locator("text=That is what you set out to do").count() == 0


def test_what_was_helped_before_does_not_count_in_a_rehearsal(page: Page) -> None:
    for template in TEMPLATES:
        for number in range(len(codes_of(page, template))):
            open_problem(page, template, number)
            for part in page.locator("form.part").all():
                part.locator("button.more").click()
    page.click("nav >> text=Choose")
    page.click("text=Rehearse: 3 problems without help")
    for _ in range(3):
        name = page.evaluate("decodeURIComponent(location.hash.slice(1))")
        page.wait_for_selector(f'article.silent[data-problem="{name}"]')
        assert page.locator(".hint:visible").count() == 0
        if page.locator("article:has-text('propane')").count():
            page.locator("#answer-a").fill("C3H8 + 5 O2 = 3 CO2 + 4 H2O")
        page.click("article >> text=Go on")
    page.wait_for_selector(".rehearsed")
    kept = json.loads(page.evaluate("key => localStorage.getItem(key)", KEY))
    assert all(got != "right" for idea in kept["ideas"].values() for _, got in idea["log"])


def test_checking_all_tells_how_many_are_right_and_goes_to_the_first_that_is_not(page: Page) -> None:
    open_problem(page, SOLVED_BY_HAND)
    page.locator("#answer-a").fill("1.23")
    page.click("text=Check all answers")
    parts = page.locator("form.part").count()
    assert page.locator(".sum").inner_text() == f"0 of {parts} answers are right."
    assert page.evaluate("document.activeElement.id") == "answer-a"
    assert page.locator("#verdict-b").inner_text() == "Nothing is written here yet."


def test_hints_are_for_who_tried_or_says_that_they_are_stuck(page: Page) -> None:
    open_problem(page, SOLVED_BY_HAND)
    more = page.locator("form.part button.more").first
    assert more.inner_text() == "I am stuck"
    page.locator("#answer-a").fill("1.23")
    page.keyboard.press("Enter")
    assert more.inner_text() == "Which relation?"


def test_the_solution_opens_line_by_line(page: Page) -> None:
    open_problem(page, "preparations/triphenylmethanol")
    part = page.locator("form.part").nth(1)
    for _ in range(4):
        part.locator("button.more").click()
    lines = part.locator(".hint.solution > div > *")
    hidden = part.locator(".hint.solution > div > [hidden]")
    assert hidden.count() == lines.count() - 1 > 0
    while part.locator("text=Next line").is_visible():
        part.locator("text=Next line").click()
    assert hidden.count() == 0


def test_a_drill_asks_one_question_and_leads_to_the_whole_problem(page: Page) -> None:
    code = codes_of(page, "preparations/triphenylmethanol")[0]
    name = f"preparations/triphenylmethanol:{code}"
    page.evaluate("address => { location.hash = address; }", f"#{name}:h")
    page.wait_for_selector(f'article[data-problem="{name}"]')
    assert page.locator("form.part").count() == 1
    for option in page.locator("form.part label.option").all():
        option.click()
        page.locator("form.part button[type=submit]").click()
        if page.locator(".title.right").count():
            break
    assert "All parts are right" in page.locator(".end").inner_text()
    page.click("text=The whole problem")
    page.wait_for_selector("form.part >> nth=1")
    assert page.locator(".end").inner_text() == ""
    assert page.locator("form.part input:checked").count() == 1


def test_a_rehearsal_is_marked_at_the_end_and_counts(page: Page) -> None:
    page.click("text=Rehearse: 3 problems without help")
    page.wait_for_selector("article.silent")
    for _ in range(3):
        name = page.evaluate("decodeURIComponent(location.hash.slice(1))")
        page.wait_for_selector(f'article.silent[data-problem="{name}"]')
        assert page.locator("form.part button:visible").count() == 0
        for field in page.locator("form.part input.answer").all():
            field.fill("1.234")
            page.keyboard.press("Enter")
        assert page.locator(".verdict .title").count() == 0
        page.dblclick("article >> text=Go on")
    page.wait_for_selector("text=The rehearsal is over")
    assert len(set(page.locator(".rehearsed button").all_inner_texts())) == 3
    page.locator(".rehearsed button").first.click()
    page.wait_for_selector("article .verdict .title")
    assert page.locator("article.silent").count() == 0
    assert page.locator("form.part button[type=submit]:visible").count() > 0


def test_a_rehearsal_that_is_left_is_over(page: Page) -> None:
    page.click("text=Rehearse: 3 problems without help")
    page.wait_for_selector("article.silent")
    page.click("nav >> text=Choose")
    page.wait_for_selector(".start")
    open_problem(page, SOLVED_BY_HAND)
    assert page.locator("article.silent").count() == 0


def test_a_session_ends_when_its_aim_is_reached(page: Page) -> None:
    page.select_option("#aim", label="5 problems")
    page.click("button.main")
    for _ in range(5):
        page.wait_for_selector("article")
        if page.locator("form.part input.answer").count():
            page.locator("form.part input.answer").first.fill("1.5")
            page.locator("form.part button[type=submit]").first.click()
        page.click("text=Next problem")
    page.wait_for_selector("text=That is what you set out to do")
    page.wait_for_selector("text=of 5 problems solved")


def test_a_problem_that_comes_again_starts_anew(page: Page) -> None:
    """An equation has one variant: chosen once more, it does not stand there solved."""
    open_problem(page, "equations/propane-burns")
    page.locator("#answer-a").fill("C3H8 + 5 O2 = 3 CO2 + 4 H2O")
    page.keyboard.press("Enter")
    page.wait_for_selector(".end .right")
    page.click("text=Same kind, new numbers")
    page.wait_for_selector(".end:not(:has(.right))", state="attached")
    assert page.locator("#answer-a").input_value() == ""
