"""The page in Debian's Firefox: it works as in Chromium, keeps what was written, and says the same."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page

from tests.support.firefox import FIREFOX, Firefox, firefox
from tests.support.opened import codes_of, open_problem

pytestmark = pytest.mark.skipif(FIREFOX is None, reason="Firefox is not installed")

WROTE = ["12.3 mmol", "1,234", "0.5 g", "1e-2 mol", "see notes", "7 g", "85"]
ANSWERED = "[...document.querySelectorAll('.verdict .title')].map((one) => one.textContent.trim())"


@pytest.fixture(scope="module")
def browser_of_mozilla(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Firefox]:
    with firefox(tmp_path_factory.mktemp("firefox")) as opened:
        yield opened


def answers(wrote: list[str]) -> str:
    """A script that writes answers into the fields, ticks the first option, and checks all."""
    return f"""(() => {{
      const wrote = {json.dumps(wrote)};
      document.querySelectorAll("input.answer").forEach((field, i) => {{
        field.value = wrote[i % wrote.length];
        field.dispatchEvent(new Event("input", {{ bubbles: true }}));
      }});
      document.querySelector("input[type=radio]")?.click();
      document.querySelectorAll("form.part button[type=submit]").forEach((check) => check.click());
      return {ANSWERED};
    }})()"""


@pytest.mark.parametrize("template", ["yield/zinc-iodide", "formulas/percent", "titrations/borax"])
def test_verdicts_are_those_of_chromium_and_stay_over_a_reload(
    browser_of_mozilla: Firefox, page: Page, practice_file: Path, template: str
) -> None:
    open_problem(page, template)
    code = codes_of(page, template)[0]
    fox = browser_of_mozilla
    fox.open(f"{practice_file.as_uri()}#{template}:{code}")
    fox.wait("document.querySelector('article') !== null")
    said = fox.run(answers(WROTE))
    assert said == page.evaluate(answers(WROTE))
    assert len(said) == page.locator("form.part").count()
    fox.reload()
    fox.wait(f"{ANSWERED}.length === {len(said)}")
    assert fox.run(ANSWERED) == said


def test_a_record_s_code_is_made_and_taken(browser_of_mozilla: Firefox, practice_file: Path) -> None:
    fox = browser_of_mozilla
    fox.open(f"{practice_file.as_uri()}#record")
    fox.wait("document.querySelector('.record') !== null")
    fox.run("[...document.querySelectorAll('button')].find((one) => one.textContent === 'Copy as a code').click()")
    told = fox.wait("document.querySelector('.record .link').textContent")
    assert "code of your record is copied" in told or "record:" in told
