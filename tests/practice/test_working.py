"""The student's own working, line by line: what holds, where a line departs, the step that is looked for."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from playwright.sync_api import Locator, Page

from problemgen.exact.rounding import figures_text
from tests.practice.test_session import WEIGHTS
from tests.support.opened import open_problem

ZINC, IODINE = WEIGHTS["Zn"], WEIGHTS["I"]


def masses(page: Page) -> tuple[str, str]:
    """The masses of zinc and iodine, as they stand on the page."""
    rows = page.locator(".numbers tbody tr").all_inner_texts()
    zinc, iodine = (re.search(r"\t([0-9.]+)", row) for row in rows)
    assert zinc is not None
    assert iodine is not None
    return zinc[1], iodine[1]


def working(page: Page, label: str) -> Locator:
    """The working of a part, opened."""
    found = page.locator(f"form.part:has(#answer-{label}) .working")
    if found.get_attribute("open") is None:
        found.locator("summary").click()
    return found


def told(found: Locator, line: str) -> str:
    """What the page says of a line."""
    found.locator("input").fill(line)
    found.locator("input").press("Enter")
    said = found.locator("li").last.inner_text()
    assert said.startswith(line)
    return said.removeprefix(line).strip()


def filled(line: str, zinc: str, iodine: str) -> str:
    """A line with the numbers of the page; <…> stands for what a student works out, to four figures."""
    amounts = {"zinc": Fraction(zinc) / ZINC, "iodine": Fraction(iodine) / (2 * IODINE)}
    line = line.replace("[zinc]", zinc).replace("[iodine]", iodine)
    for name, amount in amounts.items():
        line = line.replace(f"<{name}>", figures_text(amount, 4)).replace(f"<m{name}>", figures_text(1000 * amount, 4))
    return line


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("[zinc] g / 65.38 g/mol = <zinc> mol", "✓ holds: n(Zn)"),
        ("n(Zn) = [zinc] g / M(Zn)", "✓ holds: n(Zn)"),
        ("n = [zinc]/65.38 = <zinc>", "✓ holds: n(Zn)"),
        ("[zinc] g / 65.38 g/mol in mmol", "✓ holds: n(Zn)"),
        ("[iodine] g/M(I2) = <miodine> mmol", "✓ holds: n(I2)"),
        ("M(ZnI2) = 65.38 g/mol + 2 * 126.90 g/mol = 319.2 g/mol", "✓ holds: M(ZnI2)"),
        ("[zinc] g", "✓ holds: a number of the data"),
        ("[zinc] g = 1 mg", "✗ The left side comes to {zinc_mg} mg, not to 1 mg."),
        ("[zinc] g * 65.38 g/mol = 5 g", "✗ The units do not agree: g²/mol on the left, g on the right."),
        ("[zinc] g / 65.38 g", "✗ No step of the way comes to {share}: here the line departs."),
        ("7.77 kg", "✗ No step of the way comes to 7.77 kg: here the line departs."),
        ("[iodine] g / 126.90 g/mol", "✗ Here it departs. This looks like:"),
        ("1 +", "✗ The line is not finished."),
        ("1 / 0", "✗ Nothing can be divided by 0."),
    ],
)
def test_a_line_is_told_by_what_it_comes_to(page: Page, line: str, says: str) -> None:
    open_problem(page, "yield/zinc-iodide")
    zinc, iodine = masses(page)
    expected = says.format(
        zinc_mg=figures_text(1000 * Fraction(zinc), 6).rstrip("0").rstrip("."),
        share=figures_text(Fraction(zinc) / ZINC, 6).rstrip("0"),
    )
    assert told(working(page, "f"), filled(line, zinc, iodine)).startswith(expected)


def test_lines_follow_the_student_s_own_answers(page: Page) -> None:
    """A wrong amount, taken on as it stands: the line behind it holds, as the answer behind it follows."""
    open_problem(page, "yield/zinc-iodide")
    zinc, _iodine = masses(page)
    wrong = figures_text(2000 * Fraction(zinc) / ZINC, 4)
    page.locator("#answer-a").fill(f"{wrong} mmol")
    page.keyboard.press("Enter")
    lines = working(page, "c")
    assert told(lines, f"{wrong} mmol * 1 = {wrong} mmol").startswith("✓ holds:")


def test_a_line_follows_an_answer_that_is_only_written(page: Page) -> None:
    open_problem(page, "yield/zinc-iodide")
    lines = working(page, "c")
    assert told(lines, "7.77 mol * 1 = 7.77 mol").startswith("✗")
    page.locator("#answer-a").fill("7.77 mol")
    page.wait_for_selector(".working li:has-text('✓ holds:')")


def test_a_line_can_be_taken_back_and_mended(page: Page) -> None:
    open_problem(page, "yield/zinc-iodide")
    zinc, _iodine = masses(page)
    lines = working(page, "a")
    assert told(lines, "2 +").startswith("✗")
    lines.locator("li button").click()
    assert lines.locator("li").count() == 0
    assert lines.locator("input").input_value() == "2 +"
    assert told(lines, f"{zinc} g/M(Zn)") == "✓ holds: n(Zn)"
    assert page.locator("#verdict-a").inner_text() == ""  # Enter in the working hands no answer in


def test_after_a_wrong_answer_the_page_asks_for_the_step_that_failed(page: Page) -> None:
    open_problem(page, "measures/poured-not-weighed")
    offered = page.locator("text=Look at this step:")
    parts = page.locator("form.part")
    for index in range(parts.count()):
        part = parts.nth(index)
        if not part.locator("input.answer").count():
            continue
        part.locator("input.answer").fill("123456")
        part.locator("button[type=submit]").click()
        if part.locator("text=Look at this step:").count():
            break
    offered.first.click()
    wanted = page.locator(".wanted:visible")
    assert re.fullmatch(r"\S.* = \?", wanted.inner_text().replace("\n", " "))
    assert page.evaluate("document.activeElement.id.startsWith('line-')")
