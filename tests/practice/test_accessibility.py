"""Every screen and state of the page under axe-core, and at the widths and settings that people use."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.support.browser import axe_findings, watched
from tests.support.opened import open_problem, parts_in_turn


def start(page: Page) -> None:
    page.wait_for_selector(".start")


def chosen(page: Page) -> None:
    page.select_option("#idea", label="which reagent limits")
    page.select_option("#aim", label="5 problems")
    page.click("button.main")
    page.wait_for_selector(".why")


def problem(page: Page) -> None:
    open_problem(page, "limiting-reagent/iodoform")


def answered(page: Page) -> None:
    problem(page)
    wrote = ["5 g", "see notebook", "12", "1,234", "0.5"]
    for index, part in enumerate(parts_in_turn(page)):
        if part.locator("input[type=radio]").count():
            part.locator("input[type=radio]").first.check()
        else:
            part.locator("input.answer").fill(wrote[index % len(wrote)])
    page.click("text=Check all answers")


def helped(page: Page) -> None:
    answered(page)
    while page.locator(".foot button").first.is_visible():
        page.locator(".foot button").first.click()
    for part in parts_in_turn(page):
        for _ in range(4):
            part.locator("button.more").click()
        for summary in part.locator(".working:not([open]) summary").all():
            summary.click()
            part.locator(".working input").fill("2.50 g / 84.01 g/mol = 0.0298 mol")
            page.keyboard.press("Enter")


def formula(page: Page) -> None:
    open_problem(page, "formulas/percent")


def equation(page: Page) -> None:
    open_problem(page, "equations/propane-burns")
    page.locator("form.part button.more").first.click()


def record(page: Page) -> None:
    answered(page)
    page.click("nav >> text=My record")
    page.wait_for_selector(".record")


def rehearsing(page: Page) -> None:
    page.click("text=Rehearse: 3 problems without help")
    page.wait_for_selector("article.silent")


def rehearsed(page: Page) -> None:
    rehearsing(page)
    for _ in range(3):
        name = page.evaluate("decodeURIComponent(location.hash.slice(1))")
        page.wait_for_selector(f'article.silent[data-problem="{name}"]')
        page.click("article >> text=Go on")
    page.wait_for_selector(".rehearsed")


def periodic_table(page: Page) -> None:
    page.click("nav >> text=Periodic table")
    page.click("[data-number='26']")


def calculator(page: Page) -> None:
    page.click("nav >> text=Calculator")
    page.fill("#calculator-line", "2.50 g / 84.007 g/mol")
    page.keyboard.press("Enter")


SCREENS = [
    *(start, chosen, problem, answered, helped, formula, equation),
    *(rehearsing, rehearsed, record, periodic_table, calculator),
]
Screen = Callable[[Page], None]


@pytest.mark.parametrize("screen", SCREENS, ids=lambda screen: screen.__name__)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(screen: Screen, scheme: str, browser: Browser, practice_file: Path) -> None:
    context = browser.new_context(color_scheme=scheme, reduced_motion="reduce", offline=True)  # type: ignore[arg-type]  # one of two literals
    with watched(context.new_page(), practice_file) as page:
        page.goto(practice_file.as_uri())
        page.wait_for_selector("h1")
        screen(page)
        assert axe_findings(page) == []
    context.close()


@pytest.mark.parametrize("screen", SCREENS, ids=lambda screen: screen.__name__)
@pytest.mark.parametrize("width", [320, 640])
def test_nothing_has_to_be_scrolled_sideways(screen: Screen, width: int, browser: Browser, practice_file: Path) -> None:
    """320 px is also what 1280 px at 400 % zoom leaves, 640 px at 200 %."""
    context = browser.new_context(viewport={"width": width, "height": 700}, reduced_motion="reduce", offline=True)
    with watched(context.new_page(), practice_file) as page:
        page.goto(practice_file.as_uri())
        page.wait_for_selector("h1")
        screen(page)
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    context.close()


def test_forced_colours_and_print_show_the_answer_and_its_verdict(browser: Browser, practice_file: Path) -> None:
    context = browser.new_context(forced_colors="active", offline=True)
    with watched(context.new_page(), practice_file) as page:
        page.goto(practice_file.as_uri())
        page.wait_for_selector("h1")
        answered(page)
        assert axe_findings(page) == []
        page.emulate_media(media="print")
        assert not page.is_visible("nav")
        assert page.is_visible(".verdict .title >> nth=0")
        assert page.evaluate("getComputedStyle(document.body).backgroundColor") in (
            "rgb(255, 255, 255)",
            "rgba(0, 0, 0, 0)",
        )
    context.close()


def test_verdicts_are_told_in_a_live_region_and_by_words_and_signs(page: Page) -> None:
    problem(page)
    page.locator(".part input.answer").first.fill("hello")
    page.keyboard.press("Enter")
    live = page.locator("article > [aria-live=polite]")
    assert "Part a. Not readable. This is not read as an answer." in live.inner_text()
    assert page.locator(".verdict .title").first.inner_text() == "? Not readable"


def test_lines_of_working_are_read_aloud_by_names(page: Page) -> None:
    problem(page)
    part = page.locator("form.part").first
    for _ in range(3):
        part.locator("button.more").click()
    label = part.locator(".calculation").last.get_attribute("aria-label")
    assert label is not None
    assert "of acetone" in label
    assert "C3H6O" not in label
