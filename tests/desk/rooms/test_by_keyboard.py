"""A set put together without a mouse, and by dragging; what is heard of it."""

from __future__ import annotations

import tomllib
from pathlib import Path

from playwright.sync_api import Page, expect

from problemgen.load.sets.courses import Course
from problemgen.pipeline.new_course import copy_into
from tests.desk.conftest import Served
from tests.support.browser import axe_findings


def focus(page: Page) -> str:
    """What has the focus, by its name."""
    told: str = page.evaluate(
        "() => document.activeElement.getAttribute('aria-label') ?? document.activeElement.textContent.trim()"
    )
    return told


def tab_to(page: Page, name: str) -> None:
    """Press Tab until something whose name begins so has the focus."""
    for _press in range(400):
        if focus(page).startswith(name):
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"no way by Tab to {name!r}")


def titles(page: Page) -> list[str]:
    return [one.strip() for one in page.locator(".problem h3").all_text_contents()]


def test_a_set_is_put_together_by_keyboard_alone(page: Page, desk: Served, course: Path) -> None:
    page.goto(f"{desk.address}/sets/week-1")
    page.keyboard.press("Tab")
    assert focus(page) == "To the content"
    first, second = titles(page)
    tab_to(page, f"Move down: {first}")
    page.keyboard.press("Enter")
    assert titles(page) == [second, first]
    expect(page.locator("#live")).to_have_text(f"{first}: now number 2 of 2.")
    assert focus(page) == f"Move up: {first}"  # there is no way further down
    page.keyboard.press("Alt+ArrowUp")
    assert titles(page) == [first, second]
    tab_to(page, f"Take out: {second}")
    page.keyboard.press("Enter")
    assert titles(page) == [first]
    assert focus(page) == first
    page.locator("#search").focus()
    page.keyboard.type("iodoform")
    page.keyboard.press("Enter")
    assert focus(page).startswith("Add: ")
    page.keyboard.press("Enter")
    expect(page.locator(".problem")).to_have_count(2)
    expect(page.locator("#live")).to_contain_text("is added as number 2.")
    tab_to(page, "Save the set")
    page.keyboard.press("Enter")
    expect(page.locator("#kept")).to_have_text("Saved")
    assert "iodoform" in (course / "sets/week-1/set.toml").read_text(encoding="utf-8")


def test_problems_are_dragged(page: Page, desk: Served) -> None:
    page.goto(f"{desk.address}/sets/week-1")
    first, second = titles(page)
    page.locator(".problem").nth(1).drag_to(page.locator(".problem").nth(0), target_position={"x": 40, "y": 4})
    assert titles(page) == [second, first]
    page.locator("#search").fill("iodoform")
    page.locator("#library li:not([hidden])").first.drag_to(page.locator("#problems-title"))
    expect(page.locator(".problem")).to_have_count(3)
    expect(page.locator("#kept")).to_have_text("Not saved yet")


def test_each_student_may_get_one_of_several(page: Page, desk: Served, course: Path) -> None:
    page.goto(f"{desk.address}/sets/week-1")
    page.get_by_role("button", name="Let each student get this or another").first.click()
    expect(page.locator("#choosing")).to_contain_text("another choice for number 1")
    page.locator("#search").fill("iodoform")
    page.locator("#library li:not([hidden]) button").first.click()
    expect(page.locator(".problem").first).to_contain_text("each student gets one of these")
    page.get_by_role("button", name="Save the set").click()
    expect(page.locator("#kept")).to_have_text("Saved")
    assert 'choose = ["amounts/four-ways", "' in (course / "sets/week-1/set.toml").read_text(encoding="utf-8")


def test_a_file_that_changes_under_the_page_is_told(page: Page, desk: Served, course: Path) -> None:
    page.goto(f"{desk.address}/sets/week-1")
    path = course / "sets/week-1/set.toml"
    path.write_text(path.read_text(encoding="utf-8") + "# more\n", encoding="utf-8")
    expect(page.locator("#elsewhere")).to_be_visible()


def test_a_list_that_is_dropped_is_taken_over(page: Page, desk: Served, course: Path, tmp_path: Path) -> None:
    export = tmp_path / "list.csv"
    export.write_text("Student number,Surname,First name\nb1,<b>x</b>,Ada\n", encoding="utf-8")
    page.goto(f"{desk.address}/sets/week-1#class")
    page.locator("input[type=file]").set_input_files(export)
    expect(page.get_by_role("heading", name="Is this right?")).to_be_focused()
    expect(page.locator("#dropped")).to_contain_text("<b>x</b>")
    page.get_by_role("button", name="Take over").click()
    expect(page.locator("#lists")).to_contain_text("sets/week-1/roster.csv")
    assert (course / "sets/week-1/roster.csv").is_file()


def test_a_set_that_is_opened_and_saved_is_the_same(page: Page, desk: Served, course: Path) -> None:
    changed = []
    for name in Course().sets:
        path = copy_into(name, course) / "set.toml"
        before = path.read_bytes()
        page.goto(f"{desk.address}/sets/{path.parent.name}")
        page.get_by_role("button", name="Save the set").click()
        expect(page.locator("#kept")).to_have_text("Saved")
        if path.read_bytes() != before:
            changed.append(name)
    assert changed == []


def test_a_report_is_put_together_from_what_students_measure(page: Page, desk: Served, course: Path) -> None:
    page.goto(f"{desk.address}/new-set")
    page.locator("#search").fill("aspirin")
    page.locator("#library li[data-template='preparations/aspirin'] button").click()
    card = page.locator(".problem").first
    card.get_by_text("What students measure themselves").click()
    card.get_by_label("mass of salicylic acid").check()
    page.get_by_label("Title of the set").fill("Report")
    page.get_by_label("One report, written when all sessions are over").check()
    page.get_by_role("button", name="Save the set").click()
    expect(page.locator(".save .refusal")).to_contain_text("Add 'acetylsalicylic-acid.obtained'")
    card.get_by_label("mass of acetylsalicylic acid obtained").check()
    assert axe_findings(page) == []
    page.get_by_role("button", name="Save the set").click()
    expect(page.locator("#kept")).to_have_text("Saved")
    path = course / "sets/report/set.toml"
    assert tomllib.loads(path.read_text(encoding="utf-8")) == {
        "title": "Report",
        "kind": "post-session",
        "sheet": [{"session": 1, "title": "Report"}],
        "problem": [
            {"template": "preparations/aspirin", "own": ["salicylic-acid.mass", "acetylsalicylic-acid.obtained"]}
        ],
    }
    expect(page.get_by_label("mass of salicylic acid")).to_be_checked()
    page.get_by_text("Who gets it").first.click()
    page.get_by_label("Ids of the students who get it").fill("a1; a2")
    page.get_by_label("mass of salicylic acid").uncheck()
    page.get_by_label("mass of acetylsalicylic acid obtained").uncheck()
    page.get_by_role("button", name="Save the set").click()
    page.wait_for_url("**?saved=1")
    found = tomllib.loads(path.read_text(encoding="utf-8"))
    assert "kind" not in found
    assert found["problem"] == [{"template": "preparations/aspirin", "for": ["a1", "a2"]}]


def test_a_number_of_one_has_its_own_word(page: Page, desk: Served) -> None:
    page.goto(f"{desk.address}/new-set?template=preparations/aspirin")
    expect(page.locator(".problem")).to_have_count(1)
    everything = page.locator("#library li").count()
    expect(page.locator("#found")).to_have_text(f"{everything} templates")
    page.locator("#search").fill("silver chromate two solutions")
    expect(page.locator("#found")).to_have_text("1 template")
