"""Whole sessions in a real browser, as a student has them: from a file, without network."""

from __future__ import annotations

import json
import re
from fractions import Fraction
from pathlib import Path

from playwright.sync_api import BrowserContext, Page

from problemgen.chemistry.equation import balance, read_equation
from problemgen.exact.rounding import figures_text
from problemgen.load.banks.banks import load_weights
from problemgen.load.resources import banks_folder
from tests.support.browser import watched
from tests.support.opened import open_problem

WEIGHTS = {symbol: weight.value for symbol, weight in load_weights(banks_folder())[0].items()}
PART = "form.part >> nth={}"


def molar_mass(formula: str) -> Fraction:
    """By hand: symbols and figures in turn; the formulas of the path below have no brackets."""
    atoms = re.findall(r"([A-Z][a-z]?)(\d*)", formula)
    return sum((WEIGHTS[symbol] * int(count or 1) for symbol, count in atoms), Fraction(0))


def number_in(text: str) -> Fraction:
    return Fraction(re.sub(r"[^0-9.]", "", text))


def zinc_iodide_answers(page: Page) -> list[str]:
    """What a student works out from what stands on the page: masses, the equation's 1 : 1 : 1, the yield."""
    rows = page.locator(".numbers tbody tr").all_inner_texts()
    masses = {row.split("(")[1].split(")")[0]: number_in(row.split("\t")[1]) for row in rows}
    amounts = {formula: mass / molar_mass(formula) for formula, mass in masses.items()}
    obtained = number_in(page.locator(".numbers strong").inner_text())
    theory = min(amounts.values()) * molar_mass("ZnI2")
    limiting = min(amounts, key=lambda formula: amounts[formula])
    percent = 100 * obtained / theory
    millimoles = [f"{figures_text(1000 * amounts[formula], 4)} mmol" for formula in ("Zn", "I2")]
    return [*millimoles, *millimoles, limiting, f"{figures_text(theory, 4)} g", f"{figures_text(percent, 4)} %"]


def answer(page: Page, answers: list[str]) -> None:
    for index, text in enumerate(answers):
        part = page.locator(PART.format(index))
        if part.locator("input[type=radio]").count():
            part.locator(f"label:has-text('({text})')").click()
        else:
            part.locator("input.answer").fill(text)


def verdicts(page: Page) -> list[str]:
    return [text.strip() for text in page.locator(".verdict .title").all_inner_texts()]


def test_the_limiting_reagent_path_answered_from_the_page_s_own_text(page: Page) -> None:
    open_problem(page, "yield/zinc-iodide")
    answer(page, zinc_iodide_answers(page))
    page.click("text=Check all answers")
    assert len(verdicts(page)) == page.locator("form.part").count()
    assert all(told.startswith("✓ Right") for told in verdicts(page)), verdicts(page)
    page.wait_for_selector("text=All parts are right, and without help.")


def test_a_session_by_mouse_mistake_hint_and_record(page: Page) -> None:
    open_problem(page, "yield/zinc-iodide")
    right = zinc_iodide_answers(page)
    inverted = figures_text(10000 / number_in(right[6]), 4)
    answer(page, [*right[:6], f"{inverted} %"])
    page.click("text=Check all answers")
    assert verdicts(page)[6].startswith("✗ A usual mistake")
    page.wait_for_selector("text=This looks like: ")
    last = page.locator(PART.format(6))
    for words in ("Which relation?", "Which numbers go in?", "How is it set up?"):
        assert last.locator("button.more").inner_text() == words
        last.locator("button.more").click()
        assert last.locator(f"h2:has-text('{words}')").is_visible()
    assert right[6].split()[0] not in last.locator(".help").inner_text()
    last.locator("button.more").click()
    assert "The worked solution" in last.locator(".help").inner_text()
    assert last.locator("button.more").is_hidden()
    answer(page, right)
    page.click("text=Check all answers")
    page.wait_for_selector("text=All parts are right. Try one more of this kind without hints.")
    page.click("nav >> text=My record")
    told = page.locator(".record").inner_text()
    assert "1 problem solved, 0 of them without help." in told
    assert "percent yield shaky" in told
    assert re.search(r"percent yield upside down\t1", told), told


def test_a_session_by_keyboard_alone(page: Page) -> None:
    def tab_to(what: str) -> None:
        for _ in range(60):
            page.keyboard.press("Tab")
            if page.evaluate("what => document.activeElement.matches(what)", what):
                assert page.evaluate("getComputedStyle(document.activeElement).outlineStyle") != "none"
                return
        raise AssertionError(f"the keyboard does not reach {what}")

    tab_to("#idea")
    page.keyboard.type("percent yield")
    tab_to("button.main")
    page.keyboard.press("Enter")
    page.wait_for_selector("article")
    open_problem(page, "yield/zinc-iodide")
    assert page.evaluate("document.activeElement.tagName") == "H1"
    right = zinc_iodide_answers(page)
    tab_to("#answer-a")
    page.keyboard.type(right[0])
    page.keyboard.press("Enter")
    assert verdicts(page) == ["✓ Right"]
    tab_to("form.part button.more")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.className") == "hint relation"
    tab_to("#answer-b")
    page.keyboard.type(right[1])
    for letter, text in zip("cd", right[2:4], strict=True):
        tab_to(f"#answer-{letter}")
        page.keyboard.type(text)
    tab_to("input[type=radio]")
    if not page.evaluate("text => document.activeElement.parentElement.textContent.includes(text)", f"({right[4]})"):
        page.keyboard.press("ArrowDown")
    page.keyboard.press("Space")
    tab_to("#answer-f")
    page.keyboard.type(right[5])
    tab_to("#answer-g")
    page.keyboard.type(right[6])
    tab_to(".actions button")
    page.keyboard.press("Enter")
    assert len(verdicts(page)) == 7
    page.wait_for_selector("text=All parts are right.")


def test_a_bare_number_is_right_and_another_unit_is_told(page: Page) -> None:
    open_problem(page, "yield/zinc-iodide")
    right = zinc_iodide_answers(page)
    first = page.locator(PART.format(0))
    first.locator("input.answer").fill(right[0].removesuffix(" mmol").replace(".", ","))
    page.keyboard.press("Enter")
    assert verdicts(page) == ["✓ Right"]
    assert first.locator(".verdict").inner_text().strip() == "✓ Right"
    first.locator("input.answer").fill("0.5 g")
    page.keyboard.press("Enter")
    assert verdicts(page) == ["✗ Another kind of unit"]
    assert "The answer is given in g; mmol is asked for." in first.locator(".verdict").inner_text()


def test_what_follows_from_a_wrong_answer_is_told_so(page: Page) -> None:
    open_problem(page, "yield/zinc-iodide")
    right = zinc_iodide_answers(page)
    wrong = 2 * number_in(right[5])
    percent = number_in(right[6]) / 2
    answer(page, [*right[:5], f"{figures_text(wrong, 4)} g", f"{figures_text(percent, 4)} %"])
    page.click("text=Check all answers")
    assert verdicts(page)[6].startswith("→ Consistent with your earlier answer")


def test_an_equation_is_balanced_by_an_independent_program(page: Page) -> None:
    open_problem(page, "equations/propane-burns")
    told = page.locator("article").inner_text()
    formulas = re.search(r"(C\d?.*)\n?.*⟶\s*(.*)", told)
    assert formulas is not None
    sides = [re.sub(r"\s+", "", side) for side in formulas.groups()]
    right = balance(read_equation(" -> ".join(" + ".join(side.split("+")) for side in sides))).text
    field = page.locator("#answer-a")
    field.fill(right)
    page.keyboard.press("Enter")
    assert verdicts(page)[0].startswith("✓ Right")


def test_reloading_keeps_the_record_and_wiping_wipes_it(page: Page) -> None:
    open_problem(page, "yield/zinc-iodide")
    answer(page, zinc_iodide_answers(page))
    page.click("text=Check all answers")
    page.reload()
    page.click("nav >> text=My record")
    solved = "1 problem solved, 1 of them without help."
    page.wait_for_selector(f"text={solved}")
    page.click("text=Wipe")
    page.wait_for_selector(f"text={solved}")
    page.click("text=Really wipe everything?")
    page.wait_for_selector("text=0 problems solved, 0 of them without help.")
    page.reload()
    page.wait_for_selector("text=0 problems solved, 0 of them without help.")


def test_the_record_is_exported_as_a_file(page: Page) -> None:
    open_problem(page, "yield/zinc-iodide")
    page.click("nav >> text=My record")
    with page.expect_download() as told:
        page.click("text=Export as a file")
    record = json.loads(Path(told.value.path()).read_text(encoding="utf-8"))
    assert told.value.suggested_filename == "practice-record.json"
    assert {"version", "ideas", "mistakes", "seen"} <= record.keys()
    assert list(record["seen"]) == ["yield/zinc-iodide"]


def test_a_link_leads_to_the_same_problem_and_an_unknown_one_says_so(
    page: Page, context: BrowserContext, practice_file: Path
) -> None:
    open_problem(page, "titrations/borax")
    shown = page.locator(".numbers").inner_text()
    page.click("text=Share this problem")
    page.wait_for_selector("text=The code is copied: titrations/borax:")
    code = page.evaluate("navigator.clipboard.readText()")
    assert code == page.url.split("#")[1]
    with watched(context.new_page(), practice_file) as other:
        for copied in (f"  {code} ", page.url):
            other.goto(practice_file.as_uri() + "#")
            other.fill("#code", copied)
            other.keyboard.press("Enter")
            other.wait_for_selector("article")
            assert other.locator(".numbers").inner_text() == shown
        other.goto(practice_file.as_uri() + "#titrations/borax:00000000")
        assert other.is_visible("text=This link leads to a problem that is not in this file.")


def test_hostile_text_in_an_answer_shows_as_text(page: Page) -> None:
    open_problem(page, "yield/zinc-iodide")
    hostile = '<img src=x onerror="document.title=1"> 5 g'
    page.locator("#answer-a").fill(hostile)
    page.keyboard.press("Enter")
    assert verdicts(page) == ["? Not readable"]
    assert page.locator("article img").count() == 0
    page.goto(page.url.split("#")[0] + "#<img src=x onerror=alert(1)>:%3Cb%3E")
    page.wait_for_selector("text=This link leads to a problem that is not in this file.")
    assert page.locator("main img").count() == 0


def test_same_kind_gives_new_numbers_and_harder_a_higher_level(page: Page) -> None:
    open_problem(page, "yield/zinc-iodide")
    seen = {page.locator(".numbers").inner_text()}
    for _ in range(4):
        page.click("text=Same kind, new numbers")
        page.wait_for_function("seen => !seen.includes(document.querySelector('.numbers').innerText)", arg=list(seen))
        seen.add(page.locator(".numbers").inner_text())
    assert len(seen) == 5
    level = int(re.findall(r"level (\d)", page.locator("article .quiet").first.inner_text())[0])
    page.click("text=Something harder")
    page.wait_for_function(
        "level => !document.querySelector('article .quiet').innerText.includes('level ' + level)", arg=level
    )
    assert int(re.findall(r"level (\d)", page.locator("article .quiet").first.inner_text())[0]) > level


def test_the_periodic_table_is_walked_by_arrow_keys(page: Page) -> None:
    page.click("nav >> text=Periodic table")
    page.locator("[data-number='6']").click()
    status = page.locator("aside p.result")
    assert status.inner_text() == "carbon, C: 12.011 g/mol"
    for key, told in (("ArrowRight", "nitrogen, N"), ("ArrowDown", "phosphorus, P"), ("ArrowUp", "nitrogen, N")):
        page.keyboard.press(key)
        assert status.inner_text().startswith(told)
    page.keyboard.press("Escape")
    assert page.locator("aside").is_hidden()
    assert page.evaluate("document.activeElement.textContent") == "Periodic table"


def test_the_calculator_works_with_units_and_says_what_it_cannot(page: Page) -> None:
    page.click("nav >> text=Calculator")
    line, told = page.locator("#calculator-line"), page.locator("aside p.result")
    for text, result in (
        ("2.50 g / 84.007 g/mol", "= 0.0297594 mol"),
        ("3.10 mL * 1.082 g/mL in mg", "= 3354.2 mg"),
        ("98 % × 4,5 g", "= 4.41 g"),
        ("25 °C in K", "= 298.15 K"),
        ("M(C7H6O3)", "= 138.122 g/mol"),
        ("2.50 g / M(NaHCO3) in mmol", "= 29.7598 mmol"),
        ("M(Ca3(PO4)2) * 2", "= 620.348 g/mol"),
        ("M(CuSO4·5H2O)", "= 249.677 g/mol"),
        ("M(Xx2)", "This is not read as a formula: Xx2"),
        ("M(NaCl", "A bracket is not closed."),
        ("3 g + 2 mL", "These are quantities of different kinds: they cannot be added or turned into one another."),
        ("5 / 0", "Nothing can be divided by 0."),
        ("(2 + 3", "A bracket is not closed."),
        ("alert(1)", "A number is expected here: alert(1)"),
        ("2 gg", "This unit is not known: gg"),
        ("1,234 g", "“1,234” can be read in two ways: write 1234 or 1.234."),
    ):
        line.fill(text)
        page.keyboard.press("Enter")
        assert told.inner_text() == result
    assert page.locator("aside .lines li").count() == 8
