"""The practice page: its size, and how soon it can be used on a slow machine."""

from __future__ import annotations

import tempfile
from pathlib import Path

from bench_table import note, print_table, times
from playwright.sync_api import Browser

from problemgen.load.resources import templates_folder
from problemgen.load.sets.courses import template_ids
from problemgen.pipeline.practice import PracticeRequest, practice
from tests.support.browser import chromium

__all__ = ["practice_page"]

_TEMPLATES, _VARIANTS = 20, 40
_SLOWDOWN = 4
_READY = "performance.getEntriesByType('navigation')[0].domContentLoadedEventEnd"
_BARE = "<!DOCTYPE html><html lang='en'><title>x</title><h1>x</h1></html>"


def practice_page() -> None:
    """Twenty templates with forty variants each, against a page with one heading."""
    names = tuple(name for name in template_ids(templates_folder()) if name.startswith(("prep", "limit")))[:_TEMPLATES]
    with tempfile.TemporaryDirectory() as folder, chromium() as browser:
        out, bare = Path(folder) / "practice.html", Path(folder) / "bare.html"
        bare.write_text(_BARE, encoding="utf-8")
        report = practice(PracticeRequest(names, out, _VARIANTS, "Practice", "en", "a benchmark"), lambda *_: None)
        ours, theirs = (min(_ready(browser, path) for _ in range(5)) for path in (out, bare))
    rows = [
        ("size", f"{report.size / 1e6:.2f} MB", f"{report.problems} problems of {report.templates} templates"),
        ("program run", f"{ours:.0f} ms", f"{times(ours / theirs)} a page with one heading ({theirs:.0f} ms)"),
    ]
    print_table("The practice page", ("what", "figure", "beside it"), rows)
    note(f"Chromium with the processor slowed down {_SLOWDOWN} times, from a file; best of five.")


def _ready(browser: Browser, path: Path) -> float:
    """Milliseconds until the page's program has run."""
    page = browser.new_page()
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": _SLOWDOWN})
    page.goto(path.as_uri())
    page.wait_for_selector("h1")
    milliseconds: float = page.evaluate(_READY)
    page.close()
    return milliseconds
