"""A practice page made of shipped templates, and a browser to open it in."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from problemgen.pipeline.practice import PracticeRequest, practice
from tests.support.browser import chromium, watched

TEMPLATES = (
    *("yield/zinc-iodide", "limiting-reagent/iodoform", "preparations/triphenylmethanol", "formulas/percent"),
    *("equations/propane-burns", "measures/poured-not-weighed", "titrations/borax"),
)


def silent(*_: object) -> None:
    """No progress."""


@pytest.fixture(scope="session")
def practice_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A page with a few templates of every form of answer."""
    out = tmp_path_factory.mktemp("practice") / "practice.html"
    practice(PracticeRequest(TEMPLATES, out, 5, "Stoichiometry", "en", "tests of the page"), silent)
    return out


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One browser for all tests of a process."""
    with chromium() as one:
        yield one


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    """A browser without network that remembers nothing from before."""
    context = browser.new_context(viewport={"width": 1200, "height": 900}, offline=True)
    context.grant_permissions(["clipboard-read", "clipboard-write"])
    yield context
    context.close()


@pytest.fixture
def page(context: BrowserContext, practice_file: Path) -> Iterator[Page]:
    """The page, just opened. No error may be told in its console, and nothing but the file may be asked for."""
    with watched(context.new_page(), practice_file) as opened:
        opened.goto(practice_file.as_uri())
        opened.wait_for_selector("h1")
        yield opened
