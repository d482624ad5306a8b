"""Opening problems of a practice page in a browser, by the address that its links have."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import unquote, urlparse

from playwright.sync_api import Locator, Page

__all__ = ["codes_of", "open_problem", "parts_in_turn"]

_DATA = re.compile(r'<script[^>]*id="practice-data"[^>]*>(.*?)</script>', re.DOTALL)


def codes_of(page: Page, template: str) -> list[str]:
    """What the page's links call the problems of a template."""
    found = _DATA.search(Path(unquote(urlparse(page.url).path)).read_text(encoding="utf-8"))
    assert found is not None
    data = json.loads(found[1])
    return next(list(one["codes"]) for one in data["templates"] if one["id"] == template)


def open_problem(page: Page, template: str, number: int = 0) -> None:
    """Open a template's problem, by its number in the file."""
    address = f"#{template}:{codes_of(page, template)[number]}"
    page.evaluate("address => { location.hash = address; }", address)
    page.wait_for_selector(f'article[data-problem="{address[1:]}"]')


def parts_in_turn(page: Page) -> Iterator[Locator]:
    """Each part of the problem shown, as a student comes to it: on a narrow screen by the bar at its foot."""
    parts = page.locator("form.part")
    for index in range(parts.count()):
        part = parts.nth(index)
        if not part.is_visible():
            page.locator(".foot button").last.click()
        assert part.is_visible()
        yield part
