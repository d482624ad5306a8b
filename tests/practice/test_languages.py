"""The page in other languages than English: all of it, its numbers, its direction."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from problemgen.chemistry.elements import ELEMENTS
from problemgen.language.languages import ACCENTED, REVERSED
from problemgen.pipeline.practice import PracticeRequest, practice
from tests.practice.conftest import silent
from tests.support.browser import axe_findings, watched
from tests.support.opened import open_problem, parts_in_turn
from tests.support.shipped import shipped

GERMAN = "de"  # a decimal comma
TEMPLATES = ("yield/zinc-iodide", "formulas/percent", "equations/propane-burns", "titrations/borax")
NAMES = {species.name for name in TEMPLATES for species in shipped(name).scene.species.values()}
LIGATURES = {"and"}  # the CLDR's own: it has no pseudo-locale
UNITS = {"mmol"}


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """A page in each of three languages."""
    folder = tmp_path_factory.mktemp("languages")
    found = {language: folder / f"{language}.html" for language in (ACCENTED, REVERSED, GERMAN)}
    for language, file in found.items():
        practice(PracticeRequest(TEMPLATES, file, 2, "", language, "tests of languages"), silent)
    return found


@contextmanager
def opened(browser: Browser, file: Path, width: int = 1366) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": width, "height": 900}, reduced_motion="reduce", offline=True)
    with watched(context.new_page(), file) as page:
        page.goto(file.as_uri())
        page.wait_for_selector("h1")
        yield page
    context.close()


def answer_all(page: Page, wrote: list[str]) -> None:
    for index, part in enumerate(parts_in_turn(page)):
        if part.locator("fieldset").count():
            part.locator("fieldset input").first.check()
        else:
            part.locator("input.answer").fill(wrote[index % len(wrote)])
        part.locator("button[type=submit]").click()


def ask_for_all_help(page: Page) -> None:
    while page.locator(".foot button").first.is_visible():
        page.locator(".foot button").first.click()
    for part in parts_in_turn(page):
        for _ in range(4):
            if part.locator("button.more").first.is_visible():
                part.locator("button.more").first.click()
        for summary in part.locator(".working:not([open]) summary").all():
            summary.click()
        if part.locator(".working").count():
            for line in ("2 g * 3 = 4 g", "2 g = 2 mol", "1234 g", "2 +"):
                part.locator(".working input").fill(line)
                page.keyboard.press("Enter")


def told(page: Page) -> str:
    """All text, and what is read aloud."""
    text: str = page.evaluate(
        """() => [document.body.innerText, document.title,
                  ...[...document.querySelectorAll("[aria-label]")].map((one) => one.getAttribute("aria-label"))]
                 .join("\\n")"""
    )
    return text


def every_screen(page: Page) -> Iterator[str]:
    yield "start"
    for template in TEMPLATES:
        open_problem(page, template)
        answer_all(page, ["5 g", "see here", "12", "1,234", "0.5"])
        ask_for_all_help(page)
        yield template
    for index, screen in ((2, "elements"), (3, "calculator"), (1, "record")):
        page.locator("nav button").nth(index).click()
        yield screen


def test_nothing_is_left_in_english_but_names(files: dict[str, Path], browser: Browser) -> None:
    known = {word for name in (*NAMES, *ELEMENTS.values()) for word in re.findall(r"[a-z]+", name)}
    with opened(browser, files[ACCENTED]) as page:
        assert page.evaluate("document.documentElement.lang") == ACCENTED
        for screen in every_screen(page):
            words = set(re.findall(r"(?<!\w)[A-Za-z][a-z]{2,}(?!\w)", told(page)))
            # "mmol" and the like are units; what else the screens hold was made up above.
            assert words - known - UNITS - LIGATURES - {"mol", "see", "here"} == set(), screen


@pytest.mark.parametrize("width", [320, 1366])
@pytest.mark.parametrize("language", [ACCENTED, REVERSED])
def test_no_layout_breaks(language: str, width: int, files: dict[str, Path], browser: Browser) -> None:
    with opened(browser, files[language], width) as page:
        for screen in every_screen(page):
            assert page.evaluate("document.documentElement.scrollWidth") <= width, screen
            cut = page.locator("button").evaluate_all(
                "all => all.filter((one) => one.scrollWidth > one.clientWidth + 2).map((one) => one.textContent)"
            )
            assert cut == [], screen


def test_from_right_to_left_calculations_still_run_from_left_to_right(files: dict[str, Path], browser: Browser) -> None:
    def direction(selector: str) -> str:
        found: str = page.locator(selector).first.evaluate("one => getComputedStyle(one).direction")
        return found

    with opened(browser, files[REVERSED]) as page:
        assert page.evaluate("document.documentElement.dir") == "rtl"
        for _ in every_screen(page):
            assert axe_findings(page) == []
        open_problem(page, "yield/zinc-iodide")
        ask_for_all_help(page)
        page.locator("nav button").nth(3).click()
        for selector in ("main", "aside", "form.part", ".hint", ".numbers table"):
            assert direction(selector) == "rtl", selector
        for selector in (".calculation", ".fraction", ".scheme", ".part input", "#calculator-line"):
            assert direction(selector) == "ltr", selector
        first = page.locator("form.part").first
        first.locator("input.answer").fill("n = 12.5 mmol")
        page.keyboard.press("Enter")
        assert "\N{FIRST STRONG ISOLATE}12.5 mmol\N{POP DIRECTIONAL ISOLATE}" in first.locator(".read").inner_text()


def test_every_number_has_the_mark_of_the_language(files: dict[str, Path], browser: Browser) -> None:
    with opened(browser, files[GERMAN]) as page:
        open_problem(page, "yield/zinc-iodide")
        answer_all(page, ["n = 1,234 mmol", "n = 2,5e-3 mol", "12,5"])
        ask_for_all_help(page)
        read = page.locator(".verdict .read").all_inner_texts()
        assert ["1,234 mmol" in read[0], "2,5e-3 mol" in read[1]] == [True, True]
        page.locator("nav button").nth(2).click()
        page.click("[data-number='6']")
        assert "12,011 g/mol" in page.locator("aside p.result").inner_text()
        assert re.findall(r"[0-9]\.[0-9]+", told(page)) == []


def test_the_calculator_takes_both_marks_and_says_where_a_number_may_be_another(
    files: dict[str, Path], browser: Browser
) -> None:
    with opened(browser, files[GERMAN]) as page:
        page.locator("nav button").nth(3).click()
        line, status = page.locator("#calculator-line"), page.locator("aside p.result")
        for text in ("2,50 g / 84,007 g/mol", "2.50 g / 84,007 g/mol"):
            line.fill(text)
            page.keyboard.press("Enter")
            assert status.inner_text() == "= 0,0297594 mol"
        line.fill("2,50 g / 84.007 g/mol")
        page.keyboard.press("Enter")
        assert all(number in status.inner_text() for number in ("84.007", "84007", "84,007"))
