"""A record as a code for another device; a problem of a damaged file; a sitting that is reloaded."""

from __future__ import annotations

import base64
import json
import re
import zlib
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.support.browser import watched
from tests.support.opened import open_problem


def code_of(value: object) -> str:
    packed = base64.urlsafe_b64encode(zlib.compress(json.dumps(value).encode())).decode()
    return packed.rstrip("=")


def test_a_record_moves_as_a_code(page: Page, browser: Browser, practice_file: Path) -> None:
    open_problem(page, "equations/propane-burns")
    page.locator("#answer-a").fill("C3H8 + 5 O2 = 3 CO2 + 4 H2O")
    page.keyboard.press("Enter")
    page.click("nav >> text=My record")
    page.click("text=Copy as a code")
    page.wait_for_selector("text=The code of your record is copied.")
    code = page.evaluate("navigator.clipboard.readText()")
    assert re.fullmatch(r"record:[A-Za-z0-9_-]{40,2000}", code)
    context = browser.new_context(offline=True)
    with watched(context.new_page(), practice_file) as other:
        other.goto(practice_file.as_uri() + f"#{code}")
        other.wait_for_selector("text=This link brings a record from another device.")
        other.click("text=Add this record")
        other.wait_for_selector("text=1 problem solved, 1 of them without help.")
        assert other.evaluate("location.hash") == "#record"
    with watched(context.new_page(), practice_file) as other:
        other.goto(practice_file.as_uri() + "#record")
        other.fill("#code", code)
        other.click("text=Add this record")
        other.wait_for_selector("text=The other record is added to this one.")
        other.wait_for_selector("text=1 problem solved, 1 of them without help.")  # the same one, counted once
    context.close()


@pytest.mark.parametrize(
    "code",
    ["x", "record:", "record:AAAA", "record:<b>", code_of([1]), code_of({"version": "2"}), "A" * 30_000, "#%E0%A4%A"],
)
def test_what_is_no_code_is_refused_and_changes_nothing(page: Page, code: str) -> None:
    page.click("nav >> text=My record")
    page.fill("#code", code)
    page.click("text=Add this record")
    page.wait_for_selector("text=This holds no record of this page.")
    page.wait_for_selector("text=0 problems solved, 0 of them without help.")


def test_a_code_of_a_hostile_record_is_taken_as_far_as_it_is_sound(page: Page) -> None:
    hostile = {"version": 2, "alone": 3, "ideas": {"<img src=x>": {"log": "no"}}, "mistakes": {"<b>": 4}, "level": 99}
    page.goto(page.url.split("#")[0] + f"#record:{code_of(hostile)}")
    page.click("text=Add this record")
    page.wait_for_selector("text=3 problems solved, 3 of them without help.")
    assert page.locator("main img").count() == 0


def test_a_rehearsal_goes_on_after_a_reload(page: Page) -> None:
    page.click("text=Rehearse: 3 problems without help")
    for _ in range(3):
        page.wait_for_selector("article.silent")
        name = page.evaluate("decodeURIComponent(location.hash.slice(1))")
        page.wait_for_selector(f'article.silent[data-problem="{name}"]')
        page.reload()
        page.wait_for_selector(f'article.silent[data-problem="{name}"]')
        page.click("article >> text=Go on")
    page.wait_for_selector("text=The rehearsal is over")
    assert page.locator(".rehearsed li").count() == 3


def test_an_aim_goes_on_after_a_reload(page: Page) -> None:
    page.select_option("#aim", label="5 problems")
    page.click("button.main")
    for _ in range(5):
        page.wait_for_selector("article")
        page.locator("form.part input").first.focus()
        if page.locator("form.part input[type=radio]").count():
            page.locator("form.part input[type=radio]").first.check()
            page.locator("form.part:has(input[type=radio]) button[type=submit]").first.click()
        else:
            page.locator("form.part input.answer").first.fill("1.5")
            page.locator("form.part button[type=submit]").first.click()
        page.reload()
        page.wait_for_selector("article")
        page.click("text=Next problem")
    page.wait_for_selector("text=That is what you set out to do")


def test_a_damaged_problem_is_told(browser: Browser, practice_file: Path, tmp_path: Path) -> None:
    text = practice_file.read_text(encoding="utf-8")
    found = re.search(r'"body":"([^"]{200,})"', text)
    assert found is not None
    damaged = tmp_path / "practice.html"
    damaged.write_text(text.replace(found[1], found[1][:100] + found[1][140:]), encoding="utf-8")
    template = json.loads(re.search(r'id="practice-data"[^>]*>(.*?)</script>', text, re.DOTALL)[1])["templates"]  # type: ignore[index]
    hurt = next(one for one in template if one["body"] == found[1])
    context = browser.new_context(offline=True)
    with watched(context.new_page(), damaged) as page:
        page.goto(damaged.as_uri() + f"#{hurt['id']}:{hurt['codes'][0]}")
        page.wait_for_selector("text=The problem cannot be read: this file is damaged.")
    context.close()


@pytest.mark.parametrize(
    "kept", ["{", "3", '{"rehearsal":{"since":1,"done":[2]}}', '{"aim":{"since":"x"}}', '{"aim":7}']
)
def test_a_damaged_sitting_is_none(page: Page, kept: str) -> None:
    page.evaluate("kept => sessionStorage.setItem('problemgen sitting', kept)", kept)
    page.reload()
    open_problem(page, "yield/zinc-iodide")
    assert page.locator("article.silent").count() == 0
    page.click("text=Next problem")
    page.wait_for_function("() => !location.hash.includes('zinc-iodide')")
