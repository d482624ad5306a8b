"""A form of part that lists its answers needs no program of its own on the page."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from problemgen.load.resources import layouts
from problemgen.load.templates.template import load_template
from problemgen.make.candidates import Stream, draw_candidates
from problemgen.make.variants import variant_from
from problemgen.plan.forms import FORMS
from problemgen.practice.content import Contents, page_data
from problemgen.practice.page import page_words, practice_page
from tests.support.browser import watched
from tests.support.listed_form import LISTED
from tests.support.small_set import CHROMATE, banks

PART = "\n[[part]]\nquantity = 'one_of'\nof = 'yellow | red | colourless'\nprompt = 'Which colour has the solution?'\n"


def test_its_options_are_shown_and_judged(tmp_path: Path, browser: Browser, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(FORMS, LISTED.name, LISTED)  # type: ignore[arg-type]
    source, out = tmp_path / "t.toml", tmp_path / "page.html"
    source.write_text(CHROMATE + PART, encoding="utf-8")
    template, contents = load_template(source, "t", banks()), Contents(layouts())
    candidates = draw_candidates(template, Stream(b"listed", "listed", "p1"), ["1"], 0, 1)
    contents.add(template, [variant_from(template, candidates, 0, "1", "p1")])
    out.write_text(practice_page(page_data("Colours", page_words(), banks(), contents)), encoding="utf-8")
    with watched(browser.new_page(), out) as page:
        page.goto(out.as_uri())
        page.click("button.main")
        part = page.locator("form.part").last
        for option, told in (("red", "✗ Not right"), ("yellow", "✓ Right")):
            part.locator(f"label:has-text('{option}')").click()
            part.locator("button[type=submit]").click()
            assert part.locator(".verdict .title").inner_text().strip() == told
