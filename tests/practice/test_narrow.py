"""A phone: one part at a time, the problem at hand, keys for what a number pad lacks, molar masses by a tap."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.support.browser import watched
from tests.support.opened import open_problem, parts_in_turn


@pytest.fixture
def phone(browser: Browser, practice_file: Path) -> Iterator[Page]:
    """The page on a screen of 360 px that is touched."""
    context = browser.new_context(
        viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True, offline=True, reduced_motion="reduce"
    )
    with watched(context.new_page(), practice_file) as page:
        page.goto(practice_file.as_uri())
        page.wait_for_selector("h1")
        yield page
    context.close()


def test_one_part_stands_there_at_a_time(phone: Page) -> None:
    open_problem(phone, "yield/zinc-iodide")
    seen = []
    for part in parts_in_turn(phone):
        assert phone.locator("form.part:visible").count() == 1
        seen.append(part.locator(".prompt strong").first.inner_text().strip())
    assert seen == [f"({label})" for label in "abcdefg"]
    assert phone.locator(".foot button").last.is_disabled()
    assert phone.locator("text=Check all answers").is_visible()


def test_the_problem_is_lifted_over_the_part_and_let_down(phone: Page) -> None:
    open_problem(phone, "yield/zinc-iodide")
    lift, data = phone.locator(".foot >> text=The problem"), phone.locator(".data")
    phone.locator(".foot button").last.tap()
    assert not data.is_visible()
    lift.tap()
    assert data.is_visible()
    assert lift.get_attribute("aria-expanded") == "true"
    assert phone.evaluate("document.activeElement.id") == "data"
    box = data.bounding_box()
    assert box is not None
    assert box["height"] <= 0.76 * 740
    phone.keyboard.press("Escape")
    assert not data.is_visible()
    assert lift.get_attribute("aria-expanded") == "false"


def test_checking_all_goes_to_the_first_part_that_is_not_right(phone: Page) -> None:
    open_problem(phone, "yield/zinc-iodide")
    for _ in parts_in_turn(phone):
        pass
    phone.tap("text=Check all answers")
    assert phone.locator("form.part:visible .prompt strong").first.inner_text().strip() == "(a)"
    assert phone.evaluate("document.activeElement.id") == "answer-a"


def test_keys_write_what_a_number_pad_lacks(phone: Page) -> None:
    open_problem(phone, "yield/zinc-iodide")
    field = phone.locator("#answer-a")
    assert field.get_attribute("inputmode") == "decimal"
    field.tap()
    phone.keyboard.type("1.5")
    for key in ("×10ⁿ", "−"):
        phone.locator(".keys:visible button", has_text=key).tap()
    phone.keyboard.type("2")
    phone.locator(".keys:visible button", has_text="mmol").tap()
    assert field.input_value() == "1.5×10^-2 mmol"
    phone.locator("form.part:visible button[type=submit]").tap()
    assert "unread" not in (phone.locator(".verdict .title").first.get_attribute("class") or "")
    phone.locator(".keys:visible button", has_text="abc").tap()
    assert field.get_attribute("inputmode") == "text"


def test_a_tapped_formula_tells_its_molar_mass_and_puts_it_into_the_answer(phone: Page) -> None:
    open_problem(phone, "yield/zinc-iodide")
    phone.locator("#answer-a").tap()
    phone.locator(".numbers .weighable", has_text="I2").first.tap()
    assert phone.locator(".shares li").all_inner_texts() == ["I: 2 × 126.9 = 253.8"]
    assert phone.locator(".molar-mass .result").inner_text() == "M(I2) = 253.8 g/mol"
    assert phone.locator(".own-elements li").all_inner_texts() == ["Zn 65.38", "I 126.9"]
    phone.tap("text=Put it into the answer")
    assert phone.locator("#answer-a").input_value() == "253.8 g/mol"
    phone.fill("#formula", "C4H6O3")
    phone.keyboard.press("Enter")
    assert phone.locator(".shares li").count() == 3
    phone.fill("#formula", "Xx2")
    phone.keyboard.press("Enter")
    assert phone.locator(".sum-of-weights").inner_text() == "This is not read as a formula: Xx2"


def test_a_scheme_is_broken_in_front_of_a_plus_or_of_the_arrow(phone: Page) -> None:
    """No line of a scheme ends in a plus: whatever stands left of one stands on another line, or left of it."""
    open_problem(phone, "preparations/triphenylmethanol")
    for group in phone.locator(".scheme .onward").all():
        assert group.evaluate("one => one.lastElementChild.matches('.species')")
    assert phone.evaluate("document.documentElement.scrollWidth") == 360


def test_on_a_wide_screen_the_data_stay_beside_the_parts(page: Page) -> None:
    page.set_viewport_size({"width": 1366, "height": 768})
    open_problem(page, "yield/zinc-iodide")
    assert page.locator("form.part:visible").count() == 7
    assert not page.locator(".foot").is_visible()
    page.locator("form.part").last.scroll_into_view_if_needed()
    box = page.locator(".numbers").bounding_box()
    assert box is not None
    assert 0 <= box["y"] < 768


def test_a_problem_prints_on_one_page_with_space_to_work(page: Page) -> None:
    page.evaluate("() => { window.printed = 0; window.print = () => { window.printed += 1; }; }")
    open_problem(page, "yield/zinc-iodide")
    page.locator("#answer-a").fill("12.3 mmol")
    page.keyboard.press("Enter")
    page.click("text=Print with space to work")
    assert page.evaluate("window.printed") == 1
    page.emulate_media(media="print")
    assert not page.locator(".verdict").first.is_visible()
    assert page.locator("form.part:visible").count() == 7
    pdf = page.pdf(format="A4")
    assert pdf.count(b"/Type /Page\n") + pdf.count(b"/Type /Page ") + pdf.count(b"/Type /Page/") == 1
    page.evaluate("() => window.dispatchEvent(new Event('afterprint'))")
    page.emulate_media(media="screen")
    assert page.locator(".verdict .title").first.is_visible()


def test_who_comes_back_finds_the_part_where_they_stopped(phone: Page) -> None:
    open_problem(phone, "yield/zinc-iodide")
    for part, wrote in zip(parts_in_turn(phone), ("12.3", "4.56"), strict=False):
        part.locator("input.answer").fill(wrote)
    phone.reload()
    phone.wait_for_selector("article")
    assert phone.locator("form.part:visible .prompt strong").first.inner_text().strip() == "(c)"


def test_a_result_goes_into_the_part_that_is_shown(phone: Page) -> None:
    open_problem(phone, "yield/zinc-iodide")
    phone.locator("#answer-a").tap()
    phone.locator(".foot button").last.tap()
    phone.tap("nav >> text=Calculator")
    phone.fill("#calculator-line", "2.50 g / 84.01 g/mol in mmol")
    phone.keyboard.press("Enter")
    phone.tap("aside >> text=Put it into the answer")
    assert phone.locator("#answer-b").input_value() == "29.7584 mmol"
    assert phone.locator("#answer-a").input_value() == ""


def test_the_molar_masses_are_those_of_the_problem_shown(page: Page) -> None:
    open_problem(page, "yield/zinc-iodide")
    page.click("nav >> text=Periodic table")
    assert page.locator(".own-elements li").all_inner_texts() == ["Zn 65.38", "I 126.9"]
    open_problem(page, "equations/propane-burns")
    assert [text.split()[0] for text in page.locator(".own-elements li").all_inner_texts()] == ["H", "C", "O"]
