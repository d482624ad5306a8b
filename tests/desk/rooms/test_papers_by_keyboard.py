"""A pile of papers typed by keyboard alone, with errors and a reload in the midst, and then marked as the page said."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from problemgen.cli import main
from problemgen.desk.marking.strips_shown import CALLED
from problemgen.model.page_code import PageCode
from problemgen.pipeline.answer_book import open_answers
from problemgen.pipeline.built import SECRET_FILE
from problemgen.pipeline.typed_papers import PaperBook
from tests.desk.conftest import Served, served

STUDENTS = tuple(f"k{number}" for number in range(1, 6))


@pytest.fixture
def course(course: Path) -> Path:
    """A course with a class of five, whose set is built."""
    rows = "".join(f"{one},Student {one.upper()}\n" for one in STUDENTS)
    (course / "rosters" / "A.csv").write_text(f"id,name\n{rows}", encoding="utf-8")
    out = course / "output/week-1"
    out.mkdir(parents=True)
    (out / SECRET_FILE).write_bytes(b"the same numbers for everybody, each time")
    assert main(["build", str(course / "sets/week-1"), "--out", str(out), "--quiet"]) == 0
    return course


def answers(course: Path, student: str) -> dict[str, str]:
    """The right answers of a student, as they are typed."""
    with open_answers(course / "output/week-1") as book:
        problems = book.problems(student)
    return {f"{one.label}{part.label}": part.answer or "" for one in problems for part in one.parts}


def pile(course: Path) -> dict[str, dict[str, str]]:
    """What stands on five papers: all right; an error that is followed through; a slip; blanks; what nobody reads."""
    papers = {student: answers(course, student) for student in STUDENTS}
    _all_right, followed, slipped, blank, odd = papers.values()
    wrong = round(1.37 * float(followed["2a"].split()[0]), 3)  # no usual mistake leads there
    followed |= {"2a": f"{wrong:.3f}", "2c": f"{wrong / 2:.4f}"}  # two of silver nitrate make one of the chromate
    slipped["1a"] = f"{float(slipped['1a'].split()[0]) / 1000:.5g}"
    blank |= {"1b": "", "2g": ""}
    odd |= {"1c": "a spoonful", "2e": "2", "1d": "12 kg"}
    return papers


def code_of(course: Path, student: str) -> str:
    book = PaperBook(course / "output/week-1")
    return PageCode(book.mark, book.sheets[student, 1], 1, 1, 2).shown


def focused(page: Page) -> str:
    told: str = page.evaluate("() => document.activeElement.id")
    return told


def open_by(page: Page, typed: str) -> None:
    assert focused(page) == "code"
    page.keyboard.type(typed)
    page.keyboard.press("Enter")


def verdicts(page: Page) -> dict[str, str]:
    """The words of each verdict that the page shows, by part."""
    told: dict[str, str] = page.evaluate(
        """() => Object.fromEntries([...document.querySelectorAll("input[data-column]")].map((one) => [
            one.dataset.column,
            document.getElementById(`of-${one.dataset.column}`).querySelector(".said b")?.textContent ?? "",
        ]))"""
    )
    return told


def test_a_pile_is_typed_by_keyboard_and_marked_as_it_was_said(page: Page, desk: Served, course: Path) -> None:
    papers, said = pile(course), {}
    page.goto(f"{desk.address}/papers/week-1")
    for number, (student, cells) in enumerate(papers.items()):
        code = code_of(course, student)
        if number == 1:  # two characters exchanged
            place = next(
                at for at in range(15) if code[at].strip() and code[at + 1].strip() and code[at] != code[at + 1]
            )
            open_by(page, code[:place] + code[place + 1] + code[place] + code[place + 2 :])
            expect(page.locator("#finding .remark")).to_contain_text("or two are exchanged.")
            assert focused(page) == "code"
            page.keyboard.press("Control+A")
        open_by(page, code)
        page.wait_for_url(f"**paper={student}*")
        for column, cell in cells.items():
            expect(page.locator(f'[id="in-{column}"]')).to_be_focused()
            page.keyboard.type(cell)
            page.keyboard.press("Enter")
            if number == 2 and column == "2b":  # in the midst, the next blank half typed
                page.keyboard.type("9.9")
                page.reload()
                expect(page.locator('[id="in-2c"]')).to_have_value("9.9")
                page.locator('[id="in-2c"]').focus()
                page.keyboard.press("Control+A")
        expect(page.locator("#code")).to_be_focused()
        expect(page.locator("#live")).to_contain_text(f"Student {student.upper()}: typed, ")
        said[student] = verdicts(page)
    expect(page.locator("#counts")).to_contain_text("5 typed · 0 begun · 0 missing")
    typed = course / "returned/week-1/typed-papers.csv"
    assert main(["grade", str(course / "output/week-1"), str(typed), "--no-pdf", "--quiet"]) == 0
    text = (course / "output/week-1/grades/grades.csv").read_text(encoding="utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(text)))
    words = {"blank": "", **{verdict: called.capitalize() for verdict, called in CALLED.items()}}
    assert {(row["id"], row["part"]): words[row["verdict"]] for row in rows} == {
        (student, part): told for student, mine in said.items() for part, told in mine.items()
    }
    assert {row["verdict"] for row in rows} >= {"right", "follows", "unread", "blank", "unit", "mistake"}


def test_a_paper_in_two_tabs_is_told_and_nothing_is_lost(page: Page, desk: Served, course: Path) -> None:
    place = f"{desk.address}/papers/week-1?paper=k1"
    page.goto(place)
    other = page.context.new_page()
    other.goto(place)
    expect(other.locator("#twice")).to_be_visible()
    expect(page.locator("#twice")).to_be_hidden()
    page.bring_to_front()
    page.locator('[id="in-1a"]').fill("1.5")
    page.keyboard.press("Enter")
    expect(page.locator('[id="of-1a"] .said')).to_be_visible()
    other.bring_to_front()
    expect(other.locator('[id="in-1a"]')).to_have_value("1.5")  # what is typed there shows here
    other.locator('[id="in-1b"]').fill("2.5")
    path = course / "returned/week-1/typed-papers.csv"
    text = path.read_text(encoding="utf-8-sig").splitlines()
    cells = text[1].split(",")
    cells[text[0].split(",").index("1b")] = "2.4"
    path.write_text("\n".join((text[0], ",".join(cells))), encoding="utf-8")
    other.locator('[id="in-1b"]').press("Enter")
    expect(other.locator('[id="of-1b"] .changed')).to_contain_text("There stands now: 2.4")
    other.get_by_role("button", name="Keep what is typed here").click()
    expect(other.locator('[id="of-1b"] .said')).to_be_visible()
    assert "2.5" in path.read_text(encoding="utf-8")
    other.close()


def test_what_cannot_be_saved_is_kept_on_the_page_and_sent_again(browser: Browser, desk: Served, course: Path) -> None:
    page = browser.new_context().new_page()  # its console tells that the desk did not answer
    page.goto(desk.link)
    page.goto(f"{desk.address}/papers/week-1?paper=k1")
    page.route("**/keep-answer/**", lambda route: route.abort())
    page.locator('[id="in-1a"]').fill("1.5")
    page.keyboard.press("Enter")
    expect(page.locator('[id="of-1a"]')).to_contain_text("Not saved yet")
    page.unroute("**/keep-answer/**")
    expect(page.locator('[id="of-1a"] .said')).to_be_visible(timeout=10_000)
    assert "1.5" in (course / "returned/week-1/typed-papers.csv").read_text(encoding="utf-8")


def test_a_desk_that_was_stopped_in_between_goes_on_where_it_was(
    browser: Browser, course: Path, tmp_path: Path
) -> None:
    for column, cell in (("1a", "1.5"), ("1b", "2.5")):
        with served(course, tmp_path / "proposed") as desk:
            page = browser.new_context().new_page()
            page.goto(desk.link)
            page.goto(f"{desk.address}/papers/week-1?paper=k1")
            assert focused(page) == f"in-{column}"  # the first that is blank
            page.keyboard.type(cell)
            page.keyboard.press("Enter")
            expect(page.locator(f'[id="of-{column}"] .said')).to_be_visible()
            page.context.close()


def test_a_paper_is_cleared_after_a_question_and_put_back(page: Page, desk: Served, course: Path) -> None:
    page.goto(f"{desk.address}/papers/week-1?paper=k1")
    page.keyboard.type("1.5")
    page.keyboard.press("Enter")
    expect(page.locator('[id="of-1a"] .said')).to_be_visible()
    page.get_by_text("Clear this paper").click()
    page.get_by_role("button", name="Take all answers out").click()
    expect(page.locator('[id="in-1a"]')).to_have_value("")
    page.get_by_role("button", name="Put it back").click()
    expect(page.locator('[id="in-1a"]')).to_have_value("1.5")
    assert page.locator("#cleared form").count() == 0
    assert course.is_dir()
