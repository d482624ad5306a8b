"""A problem of an own reaction, from nothing to a file that the command line checks and prints; by keyboard alone."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Literal

import pytest
from playwright.sync_api import Page, expect

from problemgen.cli import main
from tests.desk.conftest import Served
from tests.desk.rooms.test_by_keyboard import focus, tab_to
from tests.support.browser import axe_findings

SLOW = 90_000
"""Milliseconds for what reads the tables of substances, on a machine that is at work."""


def laid_out(page: Page) -> None:
    """Wait until the sheet is there, and nothing is being laid out."""
    expect(page.locator("#preview .pages:not(.stale) img").first).to_be_visible(timeout=SLOW)
    expect(page.locator("#preview")).not_to_have_attribute("aria-busy", "true", timeout=SLOW)


def changed(page: Page) -> None:
    """Wait until what was changed has been asked for and laid out."""
    page.wait_for_timeout(200)
    laid_out(page)


def test_an_own_reaction_from_nothing_to_a_problem_that_is_printed(
    page: Page, desk: Served, course: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    page.goto(f"{desk.address}/new-problem")
    page.get_by_label("The equation, in names or formulas").fill("2-methylfuran + maleic anhydride -> adduct")
    page.get_by_role("button", name="Look it up").click()
    expect(page.locator("#looked-title")).to_have_text("adduct from 2-methylfuran and maleic anhydride", timeout=SLOW)
    expect(page.locator("#looked-up .structure")).to_have_count(2)
    assert not (course / "banks/reactions.toml").exists()
    expect(page.locator("#looked-up")).to_contain_text("Its formula is C9H8O4 (180.2 g/mol)")
    page.get_by_role("button", name="Take it into the course").click()
    assert page.url.endswith("/new-problem")  # the formula was not looked at yet
    page.get_by_label("Its formula is").check()
    page.get_by_role("button", name="Take it into the course").click()
    page.wait_for_url("**/new-problem?reaction=adduct", timeout=SLOW)
    laid_out(page)

    page.get_by_label("How").first.select_option(label="as a solution of known concentration")
    changed(page)
    expect(page.locator("[data-amount='2-methylfuran']")).to_contain_text("mmol")
    page.get_by_label("Title, as it is printed").fill("An adduct of our own")
    offered = page.locator("#offered li", has_text="equivalents of maleic anhydride")
    offered.locator("label").click()
    expect(page.locator("#parts .words").nth(-2)).to_contain_text("The equivalents of maleic anhydride")
    changed(page)
    expect(page.locator("#p-file pre")).to_contain_text('quantity = "equivalents"')
    before = page.locator("#p-key").inner_text()
    page.get_by_role("button", name="Another student").click()
    expect(page.locator("#p-key")).not_to_have_text(before, use_inner_text=True, timeout=SLOW)

    page.get_by_role("button", name="Save the problem").click()
    page.wait_for_url("**/problems/preparations/adduct**", timeout=SLOW)
    expect(page.locator("#kept")).to_have_text("Saved")
    path = course / "templates/preparations/adduct.toml"
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    assert data["title"] == "An adduct of our own"
    assert set(data["given"]["2-methylfuran"]) == {"volume", "concentration"}
    monkeypatch.chdir(course)
    assert main(["check", str(path)]) == 0
    assert main(["sample", "preparations/adduct"]) == 0
    assert "An adduct of our own" in capsys.readouterr().out


def test_what_is_left_to_fill_in_leads_to_a_form_that_keeps_what_is_typed(
    page: Page, desk: Served, course: Path
) -> None:
    page.goto(f"{desk.address}/new-problem")
    page.get_by_label("The equation, in names or formulas").fill("2-methylfuran + maleic anhydride -> adduct")
    page.get_by_label("What else is in the flask").fill("ethyl acetate")
    page.get_by_role("button", name="Look it up").click()
    left = page.locator("#looked-up .remark li", has_text="hazard statements")
    left.get_by_role("button", name="2-methylfuran").click(timeout=SLOW)
    expect(page.get_by_label("Signal word and hazard codes")).to_be_focused()
    expect(page.locator("#s-name")).to_have_value("2-methylfuran")
    expect(page.locator("#s-formula")).to_have_value("C5H6O")
    page.keyboard.type("Danger H225 H999")
    page.keyboard.press("Enter")
    expect(page.locator("#substance .refusal")).to_contain_text("'H999'", timeout=SLOW)
    expect(page.locator("#s-hazards")).to_have_value("Danger H225 H999")
    page.locator("#s-hazards").fill("Danger H225 H302")
    page.keyboard.press("Enter")
    expect(page.locator("#added-substance")).to_contain_text("It stands in the course's banks now.", timeout=SLOW)
    expect(left.get_by_role("button", name="2-methylfuran")).to_have_count(0, timeout=SLOW)
    expect(left.get_by_role("button", name="adduct")).to_have_count(1)
    assert 'codes = ["H225", "H302"]' in (course / "banks/hazards.toml").read_text(encoding="utf-8")
    assert axe_findings(page) == []


def test_a_problem_is_prepared_by_keyboard_alone(page: Page, desk: Served, course: Path) -> None:
    page.goto(f"{desk.address}/problems")
    tab_to(page, "Prepare a new problem")
    page.keyboard.press("Enter")
    page.wait_for_url("**/new-problem")
    for _press in range(30):
        page.keyboard.press("Tab")
        if page.evaluate("() => document.activeElement.id") == "search":
            break
    page.keyboard.type("C2H4O2 butan-1-ol ester")
    page.keyboard.press("Enter")
    name = focus(page)
    assert name
    page.keyboard.press("Enter")
    page.wait_for_url("**/new-problem?reaction=*")
    laid_out(page)
    slider = page.locator("input[type=range]").first
    field = page.locator("[data-key=from]").first
    before = field.input_value()
    for _press in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("() => document.activeElement.type") == "range":
            break
    expect(slider).to_be_focused()
    page.keyboard.press("ArrowLeft")
    assert float(field.input_value()) < float(before)
    changed(page)
    assert field.input_value() in page.locator("#p-file pre").text_content()  # type: ignore[operator]
    count = page.locator("#parts .part").count()
    tab_to(page, "Ask for it: ")
    page.keyboard.press("Enter")
    expect(page.locator("#parts .part")).to_have_count(count + 1)
    expect(page.locator("#live")).to_have_text("The question is added as the last one of its session.")
    sessions = [one.input_value() for one in page.locator("#parts .session").all()]
    assert sessions == sorted(sessions)
    assert set(sessions) == {"1", "2"}
    at = sessions.index("2") - 1
    words = page.locator("#parts .words").nth(at).text_content()
    assert focus(page) == (words or "").strip()
    assert page.locator("#parts .part-unit").nth(at).locator("option:checked").text_content()
    tab_to(page, "Up")
    page.keyboard.press("Enter")
    expect(page.locator("#live")).to_contain_text(f"now in place {at}.")
    changed(page)
    tab_to(page, "Save the problem")
    page.keyboard.press("Enter")
    page.wait_for_url("**/problems/preparations/**", timeout=SLOW)
    expect(page.locator("#kept")).to_have_text("Saved")
    assert len(list((course / "templates/preparations").glob("*.toml"))) == 1


def test_a_fault_stands_beside_its_field_and_the_last_sheet_stays_in_sight(page: Page, desk: Served) -> None:
    page.goto(f"{desk.address}/problems/limiting-reagent/silver-chromate")
    laid_out(page)
    field = page.locator("[data-place='given.silver-nitrate.volume'] [data-key=from]").first
    field.fill("much")
    expect(field).to_have_attribute("aria-invalid", "true", timeout=SLOW)
    expect(page.locator("[data-place='given.silver-nitrate.volume'] .fault").first).to_contain_text("a number such as")
    expect(page.locator("#preview .pages.stale img").first).to_be_visible()
    assert axe_findings(page) == []
    field.fill("27.00")
    changed(page)
    expect(field).not_to_have_attribute("aria-invalid", "true")


def test_what_is_changed_outside_is_told(page: Page, desk: Served, course: Path) -> None:
    path = course / "templates/own/silver.toml"
    path.parent.mkdir(parents=True)
    shipped = Path(__file__).parents[3] / "templates/limiting-reagent/silver-chromate.toml"
    path.write_bytes(shipped.read_bytes())
    page.goto(f"{desk.address}/problems/own/silver")
    laid_out(page)
    expect(page.locator("#elsewhere")).to_be_hidden()
    path.write_text("# changed\n" + path.read_text(encoding="utf-8"), encoding="utf-8")
    expect(page.locator("#elsewhere")).to_be_visible(timeout=20_000)


def test_a_mistake_that_cannot_show_is_accepted(page: Page, desk: Served) -> None:
    page.goto(f"{desk.address}/problems/limiting-reagent/silver-chromate")
    laid_out(page)
    page.locator("[data-place='given.silver-nitrate.concentration'] [data-key=choose]").first.fill("1.00")
    changed(page)
    hide = page.locator("#p-mistakes [data-hide]").first
    name = hide.get_attribute("data-hide")
    hide.click()
    changed(page)
    expect(page.locator(f"#p-mistakes [data-show='{name}']")).to_be_visible(timeout=SLOW)
    expect(page.locator("#p-file pre")).to_contain_text("may_hide")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [320, 1366])
@pytest.mark.parametrize("place", ["/problems", "/new-problem", "/problems/preparations/aspirin"])
def test_axe_finds_nothing_and_nothing_runs_over_the_edge(
    place: str, width: int, scheme: Literal["light", "dark"], page: Page, desk: Served
) -> None:
    page.set_viewport_size({"width": width, "height": 800})
    page.emulate_media(color_scheme=scheme)
    page.goto(desk.address + place)
    if place.endswith("aspirin"):
        laid_out(page)
    page.evaluate("() => { for (const one of document.querySelectorAll('details')) one.open = true; }")
    assert axe_findings(page) == []
    assert page.evaluate("() => document.documentElement.scrollWidth") <= width


def test_a_reaction_is_found_by_the_groups_of_its_structures(page: Page, desk: Served) -> None:
    page.goto(f"{desk.address}/new-problem")
    shown = page.locator("#reactions li:visible")
    everything = shown.count()
    page.get_by_label("A product is or has").select_option(label="ester")
    esters = shown.count()
    page.get_by_label("A reactant is or has").select_option(label="alcohol")
    assert 5 < shown.count() < esters < everything
    page.get_by_label("Search by name or formula").fill("isopentyl")
    expect(page.locator("#found")).to_have_text(f"{shown.count()} of {everything}")
    pictures = shown.first.locator(".structure")
    assert pictures.count() >= 2
    assert pictures.first.evaluate("async (one) => { await one.decode(); return one.naturalWidth }") > 0
    assert axe_findings(page) == []
