"""A real browser for tests: where it is, what it may ask for, what axe-core finds."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from importlib.resources import files
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page, sync_playwright

__all__ = ["CHROMIUM", "axe_findings", "chromium", "watched"]

CHROMIUM = "/usr/bin/chromium"
"""Debian's package; the browser driver's own download is not used."""

_TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@contextmanager
def chromium() -> Iterator[Browser]:
    """Debian's chromium, without a window."""
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield browser
        browser.close()


@contextmanager
def watched(page: Page, file: Path) -> Iterator[Page]:
    """A page; at the end nothing may have gone wrong on it, and no request been made but for the file."""
    faults: list[str] = []
    requests: list[str] = []
    page.on("console", lambda message: faults.append(message.text) if message.type in ("error", "warning") else None)
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on("request", lambda request: requests.append(request.url))
    yield page
    assert faults == []
    assert {url.split("#")[0] for url in requests if not url.startswith("blob:")} <= {file.as_uri()}


def axe_findings(page: Page) -> list[str]:
    """What axe-core finds on a page as it is: rule, and the elements concerned."""
    page.evaluate(files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8"))
    result: dict[str, Any] = page.evaluate("tags => axe.run(document, {runOnly: tags})", _TAGS)
    return [f"{one['id']}: {node['html'][:120]}" for one in result["violations"] for node in one["nodes"]]
