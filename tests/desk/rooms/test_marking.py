"""A messy class marked in a real browser: dropped, decided, looked at, overridden, undone, written; tabs, keyboard."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
from playwright.sync_api import Page, Route, expect

from tests.desk.conftest import Served
from tests.support.browser import axe_findings
from tests.support.came_back import right_answers, table

LONG = 60_000  # milliseconds: a class of three is printed on a machine that is busy


@pytest.fixture
def responses(marked_course: Path) -> Path:
    path = marked_course.parent / "monday.csv"
    path.write_bytes(table(right_answers(marked_course / "output/week-1")))
    return path


@pytest.fixture
def marking(page: Page, desk: Served, responses: Path) -> Page:
    """The page of the set, with the mess dropped on it."""
    page.goto(f"{desk.address}/mark")
    page.get_by_role("link", name="Amounts and the limiting reagent").click()
    page.wait_for_load_state()  # a hand is slower than a module
    page.locator("#drop-files input[type=file]").set_input_files(responses)
    expect(page.locator("#came")).to_contain_text("3 students", timeout=LONG)
    return page


def gradebook(course: Path) -> dict[str, dict[str, str]]:
    text = (course / "output/week-1/grades/gradebook.csv").read_text(encoding="utf-8-sig")
    return {row["id"]: row for row in csv.DictReader(io.StringIO(text))}


def decide(page: Page, points: str, reason: str) -> None:
    form = page.locator("#answer form")
    form.get_by_label("Points").fill(points)
    form.get_by_label("Reason").fill(reason)
    form.get_by_role("button", name="Decide").click()


def test_a_class_is_marked_from_the_drop_to_the_gradebook(marking: Page, desk: Served, marked_course: Path) -> None:
    page = marking
    cell = page.locator(".cells > li").filter(has_text="see my notebook").first
    expect(cell).to_contain_text("2 times")
    cell.get_by_label("It means").fill("31 mmol")
    cell.get_by_role("button", name="Try").click()
    expect(cell.locator(".tried")).to_contain_text("read as 31 mmol")
    page.wait_for_timeout(2_000)  # what others do meanwhile brings the page up to date, and takes nothing away
    cell.get_by_role("button", name="Keep it").click()
    expect(page.locator("#cells")).to_contain_text("means 31 mmol")
    expect(page.locator(".cells > li").filter(has_text="see my notebook")).to_have_count(0)
    page.locator("#write").get_by_label("as a PDF too").uncheck()
    page.get_by_role("button", name="Write the grades").click()
    expect(page.locator("#job .good")).to_be_visible(timeout=LONG)
    expect(page.locator("#standing .good")).to_contain_text("say what this page shows")
    before = gradebook(marked_course)["a02"]["2c"]
    page.get_by_role("link", name="2c The amount").click()
    page.get_by_text("The same as a table").click()
    page.locator("#rows a").filter(has_text="Brakholt").click()
    expect(page.locator("#answer .this")).to_contain_text("about a spoonful")
    expect(page.locator("#answer .printed").first).to_contain_text("The window, step by step")
    decide(page, "1", "Said it aloud")
    expect(page.locator("#decided")).to_contain_text("Said it aloud")
    expect(page.locator("#answer .this")).to_contain_text("your decision: Said it aloud")
    page.goto(f"{desk.address}/mark/week-1")
    expect(page.locator("#standing span.mind")).to_contain_text("older than what this page shows")
    page.get_by_role("button", name="Write the grades again").click()
    expect(page.locator("#standing .good")).to_be_visible(timeout=LONG)
    with page.expect_download() as download:
        page.get_by_role("link", name="Gradebook", exact=True).click()
    assert (
        Path(download.value.path()).read_bytes() == (marked_course / "output/week-1/grades/gradebook.csv").read_bytes()
    )
    assert (before, gradebook(marked_course)["a02"]["2c"]) == ("0", "1")


def test_two_tabs_agree_and_undo_once(marking: Page, desk: Served) -> None:
    page, other = marking, marking.context.new_page()
    page.goto(f"{desk.address}/mark/week-1?part=1a&student=a01#answer")
    other.goto(f"{desk.address}/mark/week-1")
    decide(page, "0.5", "First")
    expect(other.locator("#decisions")).to_contain_text("First")
    decide(page, "1", "Second")
    expect(other.locator("#decisions")).to_contain_text("Second")
    page.reload()
    other.get_by_role("button", name="Undo").click()
    expect(other.locator("#decisions")).to_contain_text("First")
    expect(page.locator("#decided")).to_contain_text("First")
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("#decided")).not_to_contain_text("First")
    expect(other.locator("#standing .undo > p")).to_contain_text("monday.csv dropped")
    other.get_by_role("button", name="Undo").click()
    expect(other.locator("#standing .undo")).to_have_count(0)
    expect(other.locator("#came")).not_to_contain_text("monday.csv")


def test_a_marking_goes_on_over_a_reload_and_can_be_cancelled(marking: Page, marked_course: Path) -> None:
    page = marking
    page.get_by_role("button", name="Write the grades").click()
    expect(page.locator("#job .job")).to_be_visible()
    page.reload()
    expect(page.locator("#job .job")).to_be_visible()
    expect(page.locator("#job .good")).to_be_visible(timeout=LONG)
    grades = marked_course / "output/week-1/grades/grades.csv"
    before = grades.stat().st_mtime_ns
    page.get_by_role("button", name="Write the grades again").click()
    page.get_by_role("button", name="Cancel").click()
    expect(page.locator("#job")).to_contain_text("Cancelled; nothing was written.", timeout=LONG)
    assert grades.stat().st_mtime_ns == before


def test_a_strip_is_one_stop_and_the_arrows_go_on(marking: Page, desk: Served) -> None:
    page = marking
    page.goto(f"{desk.address}/mark/week-1?part=2c")
    stops = page.locator('.high a[tabindex="0"]')
    expect(stops).to_have_count(1)
    stops.focus()
    names = []
    for key in ("Home", "ArrowRight", "ArrowRight", "ArrowRight", "ArrowLeft", "End"):
        page.keyboard.press(key)
        names.append(page.evaluate("() => document.activeElement.getAttribute('aria-label').split(':')[0]"))
        expect(stops).to_have_count(1)
    assert names[2:] == [names[2], names[2], names[1], names[2]]
    assert len(set(names)) == 3
    page.keyboard.press("Enter")
    expect(page.locator("#answer-title")).to_contain_text(names[-1])
    expect(page.locator(".high a[aria-current]")).to_have_count(1)


def test_a_file_of_the_same_name_is_asked_about(marking: Page, responses: Path, marked_course: Path) -> None:
    page = marking
    responses.write_bytes(table(right_answers(marked_course / "output/week-1"), {}))
    page.locator("#drop-files input[type=file]").set_input_files(responses)
    expect(page.get_by_role("heading", name="There is a file of this name already")).to_be_focused()
    assert axe_findings(page) == []
    page.get_by_role("button", name="Replace").click()
    expect(page.locator("#cells")).to_contain_text("Every cell was read without a doubt.")
    assert (marked_course / "returned/week-1/monday.csv").read_bytes() == responses.read_bytes()


def test_the_field_of_files_is_free_while_a_drop_is_on_its_way(
    marking: Page, responses: Path, marked_course: Path
) -> None:
    page, held = marking, list[Route]()
    responses.write_bytes(table(right_answers(marked_course / "output/week-1"), {}))

    def hold(route: Route) -> None:
        held.append(route)

    page.route("**/mark-files/**", hold)
    field = page.locator("#drop-files input[type=file]")
    field.set_input_files(responses)
    assert field.evaluate("one => one.files.length") == 0
    expect(page.get_by_role("heading", name="There is a file of this name already")).to_have_count(0)
    (route,) = held
    route.continue_()
    expect(page.get_by_role("heading", name="There is a file of this name already")).to_be_focused(timeout=LONG)


def test_a_report_is_shown_shut_in(marking: Page) -> None:
    page = marking
    page.locator("#write").get_by_label("as a PDF too").uncheck()
    page.get_by_role("button", name="Write the grades").click()
    expect(page.locator("#job .good")).to_be_visible(timeout=LONG)
    with page.context.expect_page() as opened:
        page.get_by_role("link", name="Class report", exact=True).click()
    expect(opened.value.get_by_role("heading", level=1)).to_contain_text("class report")
    assert opened.value.evaluate("() => self.origin") == "null"
    opened.value.close()


@pytest.mark.parametrize(
    "query", ["", "?part=2c", "?part=2c&student=a02", "?results=1", "?feedback=a01", "?cell=1,234 mmol"]
)
def test_every_look_is_well_built(marking: Page, desk: Served, query: str) -> None:
    page = marking
    page.goto(f"{desk.address}/mark/week-1{query}")
    page.evaluate("() => { for (const one of document.querySelectorAll('details')) one.open = true; }")
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
        for width in (1366, 360):
            page.set_viewport_size({"width": width, "height": 800})
            assert axe_findings(page) == []
    page.set_viewport_size({"width": 320, "height": 640})
    assert page.evaluate("() => document.documentElement.scrollWidth") <= 320
