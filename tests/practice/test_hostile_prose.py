"""A template whose author wrote markup, a script, a formula of a template engine: all of it shows as text."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import BrowserContext

from problemgen.load.banks.banks import load_banks
from problemgen.load.resources import banks_folder, layouts
from problemgen.load.templates.template import load_template
from problemgen.make.candidates import Stream
from problemgen.make.variants import Maker
from problemgen.practice.content import Contents, page_data
from problemgen.practice.page import page_words, practice_page
from tests.support.browser import watched

HOSTILE = "<img src=x onerror=alert(1)><script>alert(2)</script>"
TEMPLATE = f"""
title = "{HOSTILE} title"
topic = "{HOSTILE} topic"
difficulty = 1
trains = "nothing"
reaction = "zinc-iodide"
story = "{HOSTILE} story & 5 < 6"

[given.zinc]
mass = {{ from = 0.800, to = 1.800, unit = "g", read = "balance-0.001" }}
[given.iodine]
mass = {{ from = 2.500, to = 6.500, unit = "g", read = "balance-0.001" }}

[[part]]
quantity = "amount"
of = "each reagent"
unit = "mmol"
[[part]]
quantity = "limiting_reagent"
prompt = "{HOSTILE} prompt"
[[part]]
quantity = "mass"
of = "product"
unit = "g"
"""


def test_it_shows_as_text(tmp_path: Path, context: BrowserContext) -> None:
    path = tmp_path / "hostile.toml"
    path.write_text(TEMPLATE, encoding="utf-8")
    banks = load_banks(banks_folder())
    template = load_template(path, "hostile", banks)
    contents = Contents(layouts())
    contents.add(template, Maker(template, Stream(b"x", "x", "p1", "practice")).variants(["1", "2"]))
    page_file = tmp_path / "practice.html"
    data = page_data(f"{HOSTILE} page", page_words(), banks, contents)
    page_file.write_text(practice_page(data), encoding="utf-8")
    with watched(context.new_page(), page_file) as page:
        page.on("dialog", lambda dialog: (_ for _ in ()).throw(AssertionError(dialog.message)))
        page.goto(page_file.as_uri())
        page.wait_for_selector("h1")
        assert f"{HOSTILE} page" in page.locator("header").inner_text()
        page.click("button.main")
        page.wait_for_selector("article")
        told = page.locator("article").inner_text()
        for what in ("title", "topic", "story & 5 < 6", "prompt"):
            assert f"{HOSTILE} {what}" in told
        assert page.locator("img").count() == 0
        assert page.locator("body script").count() == 0
