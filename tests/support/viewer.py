"""A browser's viewer of PDF at work: Chromium opens a sheet, fields are clicked and typed into, it saves the file."""

from __future__ import annotations

import base64
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pikepdf
from playwright.sync_api import Frame, Page, sync_playwright

from tests.support.browser import CHROMIUM

__all__ = ["typed_in_viewer"]

_DRAWN = 750
"""Milliseconds until the viewer has drawn a page or taken a key: it tells of neither, and a busy machine takes 300."""

_BETWEEN_KEYS = 40
"""Milliseconds: of keys that follow each other at once, a busy viewer loses one now and then."""

_LOADED = """() => document.querySelector("pdf-viewer")?.viewport_?.getPageScreenRect(0)?.width > 50"""
_PLACE = """number => {
  const viewport = document.querySelector("pdf-viewer").viewport;
  viewport.goToPage(number);
  const place = viewport.getPageScreenRect(number);
  return [place.x, place.y, place.width, place.height];
}"""
_SAVE = """async () => {
  const saved = await document.querySelector("pdf-viewer").currentController.save("EDITED");
  return btoa(Array.from(new Uint8Array(saved.dataToSave), byte => String.fromCharCode(byte)).join(""));
}"""
"""What the button "with your changes" does before it asks where to put the file."""


def typed_in_viewer(sheet: Path, cells: Mapping[str, str]) -> bytes:
    """A sheet after its fields were clicked at and these texts typed; of buttons the one of the letter is clicked.

    In a thread of its own: another test of this process may have a browser's driver at work in this one.
    """
    with ThreadPoolExecutor(1) as alone:
        return alone.submit(_typed, sheet, cells).result()


def _typed(sheet: Path, cells: Mapping[str, str]) -> bytes:
    with sync_playwright() as playwright:
        # The viewer is part of the whole browser, which the new headless mode starts, and the old shell lacks.
        browser = playwright.chromium.launch(
            executable_path=CHROMIUM, args=["--no-sandbox", "--headless=new"], ignore_default_args=["--headless"]
        )
        page = browser.new_page(viewport={"width": 1200, "height": 1400})
        page.goto(f"{sheet.as_uri()}#toolbar=0&navpanes=0&view=Fit")
        viewer = _viewer(page)
        for (number, right, up), text in _places(sheet, cells):
            left, top, width, height = viewer.evaluate(_PLACE, number)
            page.wait_for_timeout(_DRAWN)
            page.mouse.click(left + right * width, top + up * height)
            if len(text) > 1:
                page.wait_for_timeout(_DRAWN)  # a key that comes before the field has been opened moves the page
                page.keyboard.type(text, delay=_BETWEEN_KEYS)
        page.keyboard.press("Tab")  # a field is left before the file is saved
        page.wait_for_timeout(_DRAWN)
        saved: str = viewer.evaluate(_SAVE)
        browser.close()
    return base64.b64decode(saved)


def _places(sheet: Path, cells: Mapping[str, str]) -> list[tuple[tuple[int, float, float], str]]:
    """Where each field, or the button of its letter, is: the page, and shares of its width and, from above, height."""
    found = []
    with pikepdf.open(sheet) as opened:
        for number, page in enumerate(opened.pages):
            wide, high = float(page.mediabox[2]), float(page.mediabox[3])
            for mark in page.obj.get("/Annots", pikepdf.Array()):
                name = str(mark.get("/T") or mark.Parent.T).replace(":", ".")
                is_button = "/Parent" in mark
                if name in cells and (not is_button or f"/{cells[name]}" in mark.AP.N):
                    left, bottom, right, top = map(float, mark.Rect)
                    place = number, (left + right) / 2 / wide, 1 - (bottom + top) / 2 / high
                    found.append((place, cells[name]))
    return found


def _viewer(page: Page) -> Frame:
    """The frame of the viewer, once it shows the document."""
    for _ in range(100):
        found = [frame for frame in page.frames if frame.url.startswith("chrome-extension:")]
        if found:
            found[0].wait_for_function(_LOADED, timeout=30_000)
            page.wait_for_timeout(2 * _DRAWN)
            return found[0]
        page.wait_for_timeout(100)
    raise AssertionError("the browser has no viewer of PDF")
