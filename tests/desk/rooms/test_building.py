"""From nothing to sheets, on the page: the files are those that the command line makes; reload, two tabs, cancel."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from problemgen.cli import main
from problemgen.commands.arguments import parser
from tests.desk.conftest import Served, served

LONG = 60_000  # milliseconds: a build of a small class on a machine that is busy
ANSWERS, SECRET = "answers.json", "secret"


def build(page: Page, desk: Served, name: str = "week-1") -> None:
    page.goto(f"{desk.address}/print/{name}")
    page.get_by_role("button", name="Build the sheets").click()


def crowd(course: Path, count: int) -> None:
    rows = "".join(f"s{number:03d},Student {number}\n" for number in range(count))
    (course / "rosters" / "A.csv").write_text(f"id,name\n{rows}", encoding="utf-8")


def test_a_set_put_together_on_the_page_is_built_as_by_the_command_line(page: Page, desk: Served, course: Path) -> None:
    page.goto(f"{desk.address}/new-set")
    page.get_by_label("Title of the set").fill("Silver & salts")
    for search in ("recovered silver", "borax"):
        page.get_by_label("Search by title").fill(search)
        page.locator("#library li:not([hidden]) button").first.click()
        expect(page.locator("#choosing")).to_be_hidden()
    expect(page.locator(".problem")).to_have_count(2)
    page.get_by_role("button", name="Move down").first.click()
    page.get_by_text("Parts and points").first.click()
    page.get_by_label("Points of part a").first.fill("3")
    page.get_by_text("How the sheets look").click()
    page.locator('[data-key="layout"]').select_option("compact")
    expect(page.locator('[id="so-layout"]')).to_contain_text("Two columns")
    page.get_by_role("button", name="Save the set").click()
    page.wait_for_url("**/sets/silver-salts")
    expect(page.locator("#kept")).to_have_text("Saved")
    build(page, desk, "silver-salts")
    expect(page.locator("#job .good")).to_be_visible(timeout=LONG)
    expect(page.get_by_role("link", name="All sheets", exact=True)).to_be_visible()
    built, again = course / "output/silver-salts", course / "output/again"
    again.mkdir()
    shutil.copy(built / SECRET, again / SECRET)
    assert main(["build", str(course / "sets/silver-salts"), "--out", str(again), "--quiet"]) == 0
    assert (built / ANSWERS).read_bytes() == (again / ANSWERS).read_bytes()
    assert {path.name for path in built.rglob("*.pdf")} == {path.name for path in again.rglob("*.pdf")}


def test_numbers_stay_and_a_refusal_shows_what_helps(page: Page, desk: Served, course: Path) -> None:
    build(page, desk)
    expect(page.locator("#job .good")).to_be_visible(timeout=LONG)
    path = course / "sets/week-1/set.toml"
    before = (course / "output/week-1" / ANSWERS).read_bytes()
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace('"amounts/four-ways"', '"amounts/three-to-weigh"\nid = "four-ways"'), encoding="utf-8")
    expect(page.locator("#standing .remark")).to_be_visible()  # changed outside, and noticed
    page.get_by_role("button", name="Build again").click()
    expect(page.locator("#job .refusal")).to_contain_text("no template amounts/four-ways any more", timeout=LONG)
    assert (course / "output/week-1" / ANSWERS).read_bytes() == before
    page.get_by_role("button", name="Build, and draw four-ways anew on purpose").click()
    expect(page.locator("#job .good")).to_be_visible(timeout=LONG)
    assert (course / "output/week-1" / ANSWERS).read_bytes() != before


def test_what_the_last_build_was_asked_for_is_offered_again(page: Page, desk: Served, course: Path) -> None:
    page.goto(f"{desk.address}/print/week-1")
    page.get_by_role("checkbox", name="Worked solutions of everybody").check()
    page.get_by_label("Layout").select_option("compact")
    page.get_by_role("button", name="Build the sheets").click()
    expect(page.locator("#job .good")).to_be_visible(timeout=LONG)
    page.reload()
    expect(page.get_by_role("checkbox", name="Worked solutions of everybody")).to_be_checked()
    expect(page.get_by_role("checkbox", name="Workbooks")).not_to_be_checked()
    expect(page.get_by_label("Layout")).to_have_value("compact")
    going = page.locator("#going-worked_key")
    expect(going).to_be_hidden()
    page.get_by_role("checkbox", name="Worked solutions of everybody").uncheck()
    expect(going).to_contain_text("Without it these go: worked-key.pdf")
    expect(going).to_be_visible()
    page.get_by_role("button", name="Build again").click()
    expect(page.locator("#going-worked_key")).to_have_text("", timeout=LONG)
    assert not (course / "output/week-1/worked-key.pdf").exists()


def test_a_build_goes_on_over_a_reload_and_both_tabs_tell_the_same(page: Page, desk: Served, course: Path) -> None:
    crowd(course, 200)
    build(page, desk)
    expect(page.locator("progress")).to_be_visible()
    other = page.context.new_page()
    other.goto(f"{desk.address}/print/week-1")
    page.reload()
    for one in (page, other):
        expect(one.locator("progress")).to_be_visible()
    for one in (page, other):
        expect(one.locator("#job .good")).to_be_visible(timeout=LONG)
        expect(one.locator("#standing")).to_contain_text("200 students")
    other.goto(desk.address)
    expect(other.locator("#there")).to_contain_text("200 students")


def test_what_is_cancelled_leaves_nothing(page: Page, desk: Served, course: Path) -> None:
    crowd(course, 400)
    build(page, desk)
    expect(page.locator("#job")).to_contain_text("Printing sheets", timeout=LONG)
    page.get_by_role("button", name="Cancel").click()
    expect(page.locator("#job")).to_contain_text("Cancelled; nothing was written.", timeout=LONG)
    assert not (course / "output/week-1").exists()
    assert [path.name for path in (course / "output").glob(".*")] == []


def test_a_desk_that_is_stopped_gives_up_what_is_at_work(browser: Browser, course: Path, tmp_path: Path) -> None:
    crowd(course, 400)
    with served(course, tmp_path / "proposed") as desk:
        page = browser.new_page()
        page.goto(desk.link)
        build(page, desk)
        expect(page.locator("#job")).to_contain_text("Printing sheets", timeout=LONG)
        page.get_by_role("button", name="Stop the desk").click()
        expect(page.get_by_role("heading", name="The desk is closed")).to_be_visible()
        page.close()
    assert not (course / "output/week-1").exists()


@pytest.mark.parametrize("topic", ["gases"])
def test_a_practice_page_is_made(page: Page, desk: Served, course: Path, topic: str) -> None:
    page.goto(f"{desk.address}/practice")
    page.get_by_role("button", name="Make the page").click()
    expect(page.locator("form .refusal")).to_contain_text("no topic")
    page.locator(f'input[value="{topic}"]').check()
    proposed = parser().parse_args(["practice", "--out", "x"]).variants
    expect(page.get_by_label("Problems of each template")).to_have_value(str(proposed))
    page.get_by_label("Problems of each template").fill("2")
    page.get_by_role("button", name="Make the page").click()
    expect(page.get_by_role("link", name="Save the page")).to_be_visible(timeout=LONG)
    assert "<title>" in (course / "output/practice.html").read_text(encoding="utf-8")


def test_a_desk_without_a_course_makes_one(browser: Browser, tmp_path: Path) -> None:
    with served(None, tmp_path / "proposed") as desk:
        page = browser.new_page()
        page.goto(desk.link)
        field = page.get_by_label("Where the folder is to be")
        expect(field).to_have_value(str(tmp_path / "proposed"))
        (tmp_path / "full").mkdir()
        (tmp_path / "full" / "mine.txt").write_text("x", encoding="utf-8")
        for wrong, told in ((str(tmp_path / "full"), "holds files already"), ("here", "a whole path")):
            field.fill(wrong)
            page.get_by_role("button", name="Begin").click()
            expect(page.locator(".refusal")).to_contain_text(told)
        field.fill(str(tmp_path / "mine"))
        page.get_by_role("button", name="Begin").click()
        expect(page.get_by_role("heading", name="My laboratory course")).to_be_visible()
        page.close()
    assert (tmp_path / "mine" / "course.toml").is_file()
